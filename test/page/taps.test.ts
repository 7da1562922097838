import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { tapped, tempoOf } from "../../server/src/page/taps.js";

/** Taps after these intervals, in milliseconds. */
function after(...intervals: readonly number[]): readonly number[] {
  let time = 5000;
  let taps = tapped([], time);
  for (const interval of intervals) {
    time += interval;
    taps = tapped(taps, time);
  }
  return taps;
}
const tempo = (...intervals: readonly number[]): number | undefined => tempoOf(after(...intervals));

describe("tapping", () => {
  test("says nothing before there are two intervals", () => {
    expect(tempoOf([])).toBeUndefined();
    expect(tempo()).toBeUndefined();
    expect(tempo(500)).toBeUndefined();
    expect(tempo(500, 500)).toBe(120);
  });

  test("gives whole beats a minute, of taps that are a little uneven", () => {
    expect(tempo(830, 841, 829, 836)).toBe(72);
    expect(tempo(500, 540)).toBe(115);
  });

  test.each<[string, readonly number[]]>([
    ["too late", [600, 600, 750, 450, 600, 600]],
    ["too early", [600, 600, 420, 780, 600]],
    ["too many", [600, 600, 200, 400, 600, 600, 600]],
    ["missing", [600, 600, 1200, 600]],
    ["out of time right at the start", [900, 600, 600]],
  ])("isn’t misled by one tap %s", (_name, intervals) => {
    expect(tempo(...intervals)).toBe(100);
  });

  test("follows another tempo after a few taps", () => {
    expect(tempo(...Array(20).fill(600), 500, 500, 500, 500)).toBe(120);
  });

  test("forgets what was before a pause of two seconds", () => {
    expect(tempo(600, 600, 600, 2000)).toBeUndefined();
    expect(tempo(600, 600, 600, 2000, 500)).toBeUndefined();
    expect(tempo(600, 600, 600, 2000, 500, 500)).toBe(120);
    expect(tempo(1999, 1999)).toBe(30);
    expect(tempoOf([0, 600, 1200, 5000, 5500, 6000])).toBe(120);
  });

  test("keeps no more than it needs", () => {
    expect(after(...Array(500).fill(600)).length).toBeLessThan(10);
  });

  test("begins anew where a clock was set back", () => {
    expect(tempo(600, 600, -9000, 500, 500)).toBe(120);
  });

  test("says nothing that a tempo line can’t say", () => {
    const wrong = (value: number) => openDocument("tempo.plagal", `tempo ${value}\n`).problems.length;
    const fastest = tempo(20, 20, 20) as number;
    expect(fastest).toBe(999);
    expect([wrong(fastest), wrong(fastest + 1)]).toEqual([0, 1]);
    expect(tempo(0, 0)).toBe(999);
    expect(wrong(tempo(1999, 1999) as number)).toBe(0);
  });
});
