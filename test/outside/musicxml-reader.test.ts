// A reader of MusicXML that is not ours: npm musicxml-io 0.9.6 (MIT). What it reads, played by the signs of repetition
// that stand in the file, is compared note by note with the performance.
import { readdirSync, readFileSync } from "node:fs";
import { posix } from "node:path";
import type { HarmonyEntry } from "musicxml-io";
import { describe, expect, test } from "vitest";
import { beatLength } from "../../server/src/chart/bar-time.js";
import type { Chart } from "../../server/src/chart/model.js";
import { defaultSettings, type Files, openDocument } from "../../server/src/document/document.js";
import { musicXml } from "../../server/src/exports/musicxml.js";
import { type PartName, type PlayedNote, perform } from "../../server/src/exports/performance.js";
import { visible } from "../../server/src/text/visible.js";
import {
  compare,
  type Fraction,
  fraction,
  minus,
  plus,
  printFraction,
} from "../../server/src/theory/fraction.js";
import { practical, signature } from "../../server/src/theory/key.js";
import { chordOfKind } from "../../server/src/theory/musicxml-kinds.js";
import { nameOf } from "../../server/src/theory/note-name.js";
import { octaveOf, pitchName } from "../../server/src/theory/pitch.js";
import { printNumber } from "../../server/src/theory/tone-number.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";
import { type ReadScore, readScore } from "../support/read-score.js";

const staffOf: ReadonlyArray<readonly [staff: string, part: PartName]> = [
  ["Lead", "lead"],
  ["Piano 1", "right"],
  ["Piano 2", "left"],
  ["Bass", "bass"],
];

interface Expected {
  readonly at: Fraction;
  end: Fraction;
  readonly note: PlayedNote;
}

/** MusicXML 4.0, `octave`: 0 to 9. */
const canBeNamed = ({ pitch }: PlayedNote): boolean => octaveOf(pitch) >= 0 && octaveOf(pitch) <= 9;

/** Staves that are judged, and those where a key is struck while it is down and a roll or grace note makes it late. */
let [judged, ambiguous] = [0, 0];

/** Whether a key is struck again while it is down. */
function strikesTwice(notes: readonly PlayedNote[]): boolean {
  const ends = new Map<number, Fraction>();
  return notes.some(({ at, length, pitch, grace }) => {
    if (grace) return false;
    const before = ends.get(pitch.midi);
    ends.set(pitch.midi, plus(at, length));
    return before !== undefined && compare(before, at) > 0;
  });
}

/** What paper can name; and of one key's notes the later ends the earlier. */
function expectedNotes(notes: readonly PlayedNote[], leadIn: Fraction): readonly Expected[] {
  const byKey = new Map<number, Expected>();
  const all: Expected[] = [];
  for (const note of notes) {
    if (!canBeNamed(note)) continue;
    const at = minus(note.at, leadIn);
    const it: Expected = { at, end: plus(at, note.length), note };
    if (!note.grace) {
      const before = byKey.get(note.pitch.midi);
      if (before !== undefined && compare(before.at, at) === 0) {
        if (compare(it.end, before.end) > 0) before.end = it.end;
        continue;
      }
      if (before !== undefined && compare(before.end, at) > 0) before.end = at;
      byKey.set(note.pitch.midi, it);
    }
    all.push(it);
  }
  return all;
}

const inOrder = (a: { readonly at: Fraction }, b: { readonly at: Fraction }): number => compare(a.at, b.at);

/**
 * Notes of one name that end together, from both sides: they start together too, but where paper shows a roll or a
 * grace note, which take their time when they are played.
 */
function judgeNotes(score: ReadScore, staff: string, notes: readonly PlayedNote[], leadIn: Fraction): void {
  const expected = expectedNotes(notes, leadIn);
  /** A grace note, or the rest of a roll, that no paper can name makes a tone late all the same. */
  const lacksSome = !notes.every(canBeNamed);
  const read = score.staves.get(staff) ?? [];
  const graces = score.graces.get(staff) ?? [];
  // Which of two tones on one key ends the other hangs on when each is late: paper and sound may differ there.
  judged++;
  if (strikesTwice(notes) && (graces.length > 0 || read.some(({ rolled }) => rolled) || lacksSome)) {
    ambiguous++;
    return;
  }
  const sounding = expected.filter(({ note }) => !note.grace);
  const nameWithEnd = (pitch: string, end: Fraction): string => `${pitch} to ${printFraction(end)}`;
  expect(read.map((it) => nameWithEnd(it.pitch, it.end)).sort()).toEqual(
    sounding.map((it) => nameWithEnd(pitchName(it.note.pitch), it.end)).sort(),
  );
  const starts = new Map<string, { at: Fraction; rolled: boolean }[]>();
  for (const it of [...read].sort(inOrder)) {
    const name = nameWithEnd(it.pitch, it.end);
    starts.set(name, [...(starts.get(name) ?? []), it]);
  }
  for (const it of [...sounding].sort(inOrder)) {
    const name = nameWithEnd(pitchName(it.note.pitch), it.end);
    const there = starts.get(name)?.shift();
    if (there === undefined) throw new Error(`${name} is not read`);
    const late = minus(it.at, there.at);
    const mayBeLate = there.rolled || lacksSome || graces.some(({ at }) => compare(at, there.at) === 0);
    if (late.n !== 0 && !(mayBeLate && late.n > 0 && compare(late, fraction(1, 2)) < 0))
      throw new Error(`${name} starts at ${printFraction(it.at)}, is read at ${printFraction(there.at)}`);
  }
  // A tone that no paper can name takes what slips into it along.
  if (lacksSome) return;
  const slips = expected.filter(({ note }) => note.grace).sort(inOrder);
  expect(graces.map(({ pitch }) => pitch).sort()).toEqual(
    slips.map(({ note }) => pitchName(note.pitch)).sort(),
  );
}

/** MusicXML 4.0, `degree`: what each of them does to the tones of the kind. */
function tonesOf({ kind, degrees = [] }: HarmonyEntry): readonly string[] {
  const tones = (chordOfKind(kind)?.tones ?? []).map(({ number, alter }) => ({ number, alter }));
  for (const { degreeValue, degreeAlter = 0, degreeType } of degrees) {
    if (degreeType === "add")
      tones.push({ number: degreeValue, alter: degreeValue === 7 ? degreeAlter - 1 : degreeAlter });
    const at = tones.findIndex(({ number }) => number === degreeValue);
    const tone = tones[at];
    if (tone === undefined) throw new Error(`no ${degreeValue} in ${kind}`);
    if (degreeType === "subtract") tones.splice(at, 1);
    if (degreeType === "alter") tone.alter += degreeAlter;
  }
  return tones.map(printNumber).sort();
}

const signsIn = (step: string, alter = 0): string =>
  alter === 2 ? `${step}x` : step + "b".repeat(Math.max(0, -alter)) + "#".repeat(Math.max(0, alter));

/** A shuffle is written as even beats, so it is played so here. */
const evenly = (text: string): string => text.replace(/^(\s*feel\s+)shuffle/gm, "$1swing");

/** Holds what a reader found against the performance with even beats. */
function judge(chart: Chart, text: string): ReadScore {
  const performance = perform(chart, { swing: fraction(1, 1) });
  const { leadIn } = performance;
  const score = readScore(text);
  for (const [staff, part] of staffOf) {
    const notes = performance.parts.find(({ name }) => name === part)?.notes ?? [];
    judgeNotes(score, staff, notes, leadIn);
  }

  // A score has a bar at least.
  if (performance.bars.length === 0) {
    expect([score.bars.length, [...score.staves.values()].flat().length]).toEqual([1, 0]);
    return score;
  }
  // Bars: as many as are played, in their keys, meters and tempos.
  expect(score.bars.map(({ at, length }) => `${printFraction(at)} ${printFraction(length)}`)).toEqual(
    performance.bars.map(({ at, length }) => `${printFraction(minus(at, leadIn))} ${printFraction(length)}`),
  );
  expect(score.bars.map(({ fifths, mode, time }) => `${fifths} ${mode} ${time}`)).toEqual(
    performance.bars.map(({ key, meter }) => {
      const signs = Math.abs(signature(key)) > 7 ? signature(practical(key)) : signature(key);
      return `${signs} ${key.mode} ${meter.beats}/${meter.unit}`;
    }),
  );
  expect(score.bars.map(({ tempo }) => tempo)).toEqual(
    performance.bars.map(({ tempo, meter }) => {
      const { n, d } = beatLength(meter);
      return (tempo * 4 * n) / d;
    }),
  );

  // Chords: root, tones, bass, from where to where.
  const end = performance.bars.reduce(
    (last, { at, length }) => plus(minus(at, leadIn), length) ?? last,
    leadIn,
  );
  const read = score.chords.flatMap(({ at, chord }, i) => {
    if (chord === undefined) return [];
    const until = score.chords[i + 1]?.at ?? end;
    const { root, bass } = chord;
    const name = signsIn(root.rootStep, root.rootAlter);
    const under = bass === undefined ? "" : `/${signsIn(bass.bassStep, bass.bassAlter)}`;
    return [`${printFraction(at)}-${printFraction(until)} ${name}${under} ${tonesOf(chord).join(" ")}`];
  });
  expect(read).toEqual(
    performance.chords.map(({ at, length, chord }) => {
      const from = minus(at, leadIn);
      const under = chord.bass === undefined ? "" : `/${nameOf(chord.bass)}`;
      const tones = chord.quality.tones.map(printNumber).sort().join(" ");
      return `${printFraction(from)}-${printFraction(plus(from, length))} ${nameOf(chord.root)}${under} ${tones}`;
    }),
  );

  expect([...score.words].sort()).toEqual(
    performance.words.map(({ at, text }) => `${visible(text)} ${printFraction(minus(at, leadIn))}`).sort(),
  );
  return score;
}

const folder = new URL("../charts/", import.meta.url);
const charts = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith(".plagal"))
    .map((name) => [name, readFileSync(new URL(name, folder), "utf8")]),
);
const files: Files = {
  find: (from, path) => {
    const wanted = posix.join(posix.dirname(from), path);
    const text = charts[wanted];
    return text === undefined ? { kind: "missing" } : { kind: "text", path: wanted, text };
  },
};

describe("musicxml-io", () => {
  test.each(Object.keys(charts))("reads %s as it is performed", (name) => {
    const { chart } = openDocument(name, evenly(charts[name] as string), files, defaultSettings);
    const { staves } = judge(chart, musicXml(chart).text);
    expect([...staves.values()].flat().length).toBeGreaterThan(10);
  });
});

let folded = 0;

property("musicxml-io reads any chart as it is performed", anyChart(), 300, (text) => {
  const { chart } = openDocument("a.plagal", evenly(text), usedFiles);
  const { bars, measures } = judge(chart, musicXml(chart).text);
  if (measures < bars.length) folded++;
});

test("some of the generated charts stand under signs of repetition", () => {
  expect(folded).toBeGreaterThan(10);
});

test("nearly all staves of the charts can be judged", () => {
  expect(ambiguous / judged).toBeLessThan(0.1);
});
