import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { fingeringOf } from "../../server/src/features/fingering.js";
import { startLaps } from "../../server/src/page/laps.js";
import { loopOf, placeOf } from "../../server/src/page/loops.js";
import { momentsOf } from "../../server/src/page/moment.js";
import { chordsAt, type Song, songOf } from "../../server/src/page/song.js";
import { pageOf } from "../support/page-of.js";

const song = (text: string): Song => songOf(pageOf(text).content.view);
const fourBars = song(
  "key C\ntempo 60\nsection A\nright | C4 D4 | E4 F4 |\nsection B\nright | G4 A4 | B4 - |\n",
);

/** What is given out by steps of a clock, `midi@start-end`. */
function played(of: Song, speed: number, loop: { from: number; to: number } | undefined, seconds: number) {
  const laps = startLaps(
    of,
    { at: 10, from: loop?.from ?? 0, into: undefined },
    { speed, loop, until: undefined },
  );
  const due: string[] = [];
  for (let time = 10; time < 10 + seconds; time += 0.07)
    for (const { note, start, end } of laps.due(time + 0.2).notes)
      due.push(`${note.midi}@${Number((start - 10).toFixed(6))}-${Number((end - 10).toFixed(6))}`);
  return due;
}

describe("playing", () => {
  test("gives each note out once, in time", () => {
    expect(played(fourBars, 1, undefined, 16)).toEqual([
      "60@0-2",
      "62@2-4",
      "64@4-6",
      "65@6-8",
      "67@8-10",
      "69@10-12",
      "71@12-16",
    ]);
  });

  test("at half the pace takes twice the time", () => {
    expect(played(fourBars, 0.5, undefined, 8)).toEqual(["60@0-4", "62@4-8", "64@8-12"]);
  });

  test("goes round in a loop without losing a sample in a thousand rounds", () => {
    const laps = startLaps(
      fourBars,
      { at: 0, from: 4, into: undefined },
      { speed: 1, loop: { from: 4, to: 8 }, until: undefined },
    );
    const all = [];
    for (let time = 0; time < 4000; time += 3) all.push(...laps.due(time).notes);
    expect(all).toHaveLength(2 * 1000);
    all.forEach(({ note, start }, i) => {
      expect(note.midi).toBe(i % 2 === 0 ? 64 : 65);
      expect(start).toBeCloseTo(2 * i, 9);
    });
  });

  test("ends at a place where it is to end, and what is held there with it", () => {
    const at = (until: number, from = 4) =>
      startLaps(fourBars, { at: 0, from, into: undefined }, { speed: 1, loop: undefined, until });
    const laps = at(15);
    expect(laps.due(20).notes.map(({ note, start, end }) => [note.midi, start, end])).toEqual([
      [64, 0, 2],
      [65, 2, 4],
      [67, 4, 6],
      [69, 6, 8],
      [71, 8, 11],
    ]);
    expect([laps.placeAt(10.9), laps.placeAt(11)]).toEqual([14.9, undefined]);
    // Behind it nothing ends there.
    expect(at(8, 12).placeAt(1)).toBe(13);
  });

  test("from the middle strikes what is held there, for what is left of it", () => {
    const laps = startLaps(
      fourBars,
      { at: 0, from: 13, into: undefined },
      { speed: 1, loop: undefined, until: undefined },
    );
    expect(laps.due(1).notes.map(({ note, start, end }) => [note.midi, start, end])).toEqual([[71, 0, 3]]);
    expect(laps.placeAt(1)).toBe(14);
    expect(laps.placeAt(3)).toBeUndefined();
  });

  test("follows changes of tempo and meter, and a pickup comes before the first bar", () => {
    const it = song("key C\ntempo 60\nlead E4 | C4 |\n\ntempo 120\ntime 3/4\nlead | D4 |\n");
    expect(it.notes.map(({ midi, at, end }) => [midi, at, end])).toEqual([
      [64, 3, 4],
      [60, 4, 8],
      [62, 8, 9.5],
    ]);
  });
});

describe("a loop", () => {
  const repeated = song(
    "key C\ntempo 60\nsection A\nright |: C4 | 1. D4 :| 2. E4 |\nsection B\nright | F4 |\nsection C\nright | G4 |\nform A B A\n",
  );
  test("of a section is its first pass, or the one that sounds", () => {
    expect(loopOf(repeated, "0", undefined, 17)).toEqual({ from: 0, to: 16 });
    expect(loopOf(repeated, "0", undefined, 21)).toEqual({ from: 20, to: 36 });
    expect(loopOf(repeated, "1", undefined, 0)).toEqual({ from: 16, to: 20 });
  });
  test("of marked bars goes from the first to the next time of the last", () => {
    expect(loopOf(repeated, "marked", { section: 0, from: 0, to: 1 }, 0)).toEqual({ from: 0, to: 8 });
    expect(loopOf(repeated, "marked", { section: 0, from: 2, to: 2 }, 0)).toEqual({ from: 12, to: 16 });
  });
  test("of what the form never plays is none", () => {
    expect(loopOf(repeated, "2", undefined, 0)).toBeUndefined();
    expect(placeOf(repeated, 2, 0, 0)).toBeUndefined();
    expect(loopOf(repeated, "marked", undefined, 0)).toBeUndefined();
  });
});

describe("the picture of a moment", () => {
  const text = "key C\ntempo 60\nchords | 1 2m7 |\nright | ~3+5+1 _3+5+1 |\nleft | 1 r |\nlead | 5 6 |\n";
  const it = song(text);
  const all = new Set(it.view.sound.parts.map(({ name }) => name));
  const keys = (seconds: number, parts = all) =>
    momentsOf(it)
      .keysAt(seconds, parts)
      .map(
        (key) =>
          `${key.hand} ${key.pitch.midi} ${key.number?.number} f${key.finger}${key.isHeldOver ? " held" : ""}`,
      );

  test("shows a roll whole from its start, with numbers and fingers, and no singer's note", () => {
    expect(keys(0)).toEqual(["right 52 3 f1", "right 55 5 f2", "right 60 1 f5", "left 36 1 f1"]);
  });
  test("leaves out who doesn't play", () => {
    expect(keys(0, new Set(["left"] as const))).toEqual(["left 36 1 f1"]);
  });
  test("of chords alone shows how they are comped", () => {
    const comped = song("key C\nchords | 1 | 5 |\n");
    const shown = momentsOf(comped).keysAt(0, new Set(["comping"] as const));
    const names = shown.map(({ hand, number }) => `${hand} ${number?.number}`);
    expect(names.sort()).toEqual(["left 1", "right 1", "right 3", "right 5"]);
  });
  test("has the fingers that the editor shows, at every slot of a chart", () => {
    const chart = readFileSync("test/charts/harbour-evening.plagal", "utf8");
    const { sections } = openDocument("page.plagal", chart).chart;
    const shown = song(chart);
    const parts = new Set(shown.view.sound.parts.map(({ name }) => name));
    const moments = momentsOf(shown);
    const seen = new Set<string>();
    for (const note of shown.notes) {
      for (const hand of ["left", "right"] as const) {
        const own = moments.keysAt(note.at, parts).filter((key) => key.hand === hand);
        seen.add(
          own
            .map(({ pitch, finger }) => `${pitch.midi}:${finger}`)
            .sort()
            .join(" "),
        );
      }
    }
    for (const { section } of sections) {
      for (const hand of ["left", "right"] as const) {
        for (const [slot, fingers] of fingeringOf(section, hand, 9)) {
          const keys = [...slot.struck, ...slot.held].map(({ pitch }) => pitch.midi).sort((a, b) => a - b);
          expect(seen).toContain(
            keys
              .map((key, i) => `${key}:${fingers[i]}`)
              .sort()
              .join(" "),
          );
        }
      }
    }
  });
  test("names the chord that sounds and the next", () => {
    expect(chordsAt(it, 0).now?.index).toBe(0);
    expect(chordsAt(it, 0).next?.index).toBe(1);
    expect(chordsAt(it, 1.9999).now?.index).toBe(1);
    expect(chordsAt(it, 3).next).toBeUndefined();
  });
});
