import { describe, expect, test } from "vitest";
import { beatsBetween, countInto } from "../../server/src/page/beats.js";
import type { Song } from "../../server/src/page/song.js";
import { songIn } from "../support/song-in.js";

const round = (seconds: number): number => Number(seconds.toFixed(6));
/** Times in seconds; a bar's first beat has a `!`. */
const shown = (beats: readonly { readonly at: number; readonly isFirst: boolean }[]): string =>
  beats.map(({ at, isFirst }) => `${round(at)}${isFirst ? "!" : ""}`).join(" ");
const clicks = (song: Song, from = 0, to = Number.POSITIVE_INFINITY): string =>
  shown(beatsBetween(song, from, to));
const count = (song: Song, place: number): string => {
  const { length, beats } = countInto(song, place);
  return `${round(length)} s: ${shown(beats)}`;
};

const bars = (meter: string): Song => songIn(`key C\ntime ${meter}\ntempo 60\nright | C4 | D4 |\n`);

describe("the beats of a song", () => {
  test.each([
    ["4/4", "0! 1 2 3 4! 5 6 7"],
    ["3/4", "0! 1 2 3! 4 5"],
    ["2/2", "0! 1 2! 3"],
    ["6/8", "0! 1 2! 3"],
    ["9/8", "0! 1 2 3! 4 5"],
    ["12/8", "0! 1 2 3 4! 5 6 7"],
    ["7/8", "0! 1 2 3 4 5 6 7! 8 9 10 11 12 13"],
    ["1/4", "0! 1!"],
  ])("in %s are %s", (meter, wanted) => {
    expect(clicks(bars(meter))).toBe(wanted);
  });

  test("go along with the tempo and the meter of each bar", () => {
    const song = songIn("key C\ntempo 60\nright | C4 |\n\ntempo 120\ntime 6/8\nright | D4 | E4 |\n");
    expect(clicks(song)).toBe("0! 1 2 3 4! 4.5 5! 5.5");
  });

  test("go on backwards before the first bar line", () => {
    const song = songIn("key C\ntempo 60\nright E4 | C4 |\n");
    expect(clicks(song)).toBe("0! 1 2 3 4! 5 6 7");
    expect(clicks(song, 2.5)).toBe("3 4! 5 6 7");
  });

  test("from one place to another leave the last one out, so that stretches join", () => {
    const song = bars("4/4");
    expect(clicks(song, 1, 5)).toBe("1 2 3 4!");
    expect(clicks(song, 5, 8)).toBe("5 6 7");
    expect(clicks(song, 1.5, 1.7)).toBe("");
  });

  test("of nothing are none", () => {
    expect(clicks(songIn(""))).toBe("");
    expect(count(songIn(""), 0)).toBe("0 s: ");
  });
});

describe("a count", () => {
  test("is one bar of the meter and tempo at the place", () => {
    expect(count(bars("4/4"), 0)).toBe("4 s: -4! -3 -2 -1");
    expect(count(bars("6/8"), 2)).toBe("2 s: 0! 1");
    const song = songIn("key C\ntempo 60\nright | C4 |\n\ntempo 120\ntime 3/4\nright | D4 |\n");
    expect(count(song, 4)).toBe("1.5 s: 2.5! 3 3.5");
  });

  test("into a pickup is a full bar, and then the beats before it", () => {
    const song = songIn("key C\ntempo 60\nright D4 E4 | C4 |\n");
    expect(count(song, 2)).toBe("6 s: -4! -3 -2 -1 0! 1");
    const waltz = songIn("key C\ntime 6/8\ntempo 60\nright (r r G4) | C4 |\n");
    expect(waltz.notes[0]?.at).toBeCloseTo(1 + 2 / 3, 9);
    expect(count(waltz, waltz.notes[0]?.at ?? 0)).toBe("3.666667 s: -2! -1 0! 1");
  });

  test("into the middle of a bar is a full bar, and then the beats before the place", () => {
    expect(count(bars("4/4"), 6.5)).toBe("6.5 s: 0! 1 2 3 4! 5 6");
  });
});
