import { describe, expect, test } from "vitest";
import { loopBetween, loopIn } from "../../server/src/page/loops.js";
import { songIn } from "../support/song-in.js";

const head = "key C\ntempo 60\n";
const sections =
  "section Verse\nright | C4 | D4 | E4 |\nsection Chorus\nright | F4 | G4 |\nsection Bridge\nright | A4 |\n";
const [verse, chorus, bridge] = [0, 1, 2];

/** The loop from one bar to another in performed bars, `from-to`: all last four seconds. */
function loop(
  form: string,
  from: readonly [section: number, bar: number],
  to: readonly [section: number, bar: number],
  seconds = 0,
): string | undefined {
  const range = loopBetween(
    songIn(`${head}${form}\n${sections}`),
    { section: from[0], bar: from[1] },
    { section: to[0], bar: to[1] },
    seconds,
  );
  return range && `${range.from / 4}-${range.to / 4 - 1}`;
}

describe("a loop over the end of a section", () => {
  const form = "form Verse Chorus Verse Chorus Bridge";

  test("is the first turn in which the form plays them one after the other", () => {
    expect(loop(form, [verse, 1], [chorus, 0])).toBe("1-3");
    expect(loop(form, [chorus, 1], [bridge, 0])).toBe("9-10");
    expect(loop("form Verse Bridge Verse Chorus", [verse, 2], [chorus, 1])).toBe("6-8");
  });

  test("is the turn that sounds", () => {
    expect(loop(form, [verse, 1], [chorus, 0], 25)).toBe("6-8");
    expect(loop(form, [verse, 1], [chorus, 0], 21)).toBe("1-3");
  });

  test("takes along what is printed between", () => {
    expect(loop(form, [verse, 2], [bridge, 0])).toBe("7-10");
    expect(loop("form Verse Chorus x2 Bridge", [verse, 2], [bridge, 0])).toBe("2-7");
  });

  test("goes back to what is printed above where the form does", () => {
    expect(loop(form, [chorus, 1], [verse, 0])).toBe("4-5");
  });

  test("begins in the last of several passes", () => {
    expect(loop("form Verse x2 Chorus", [verse, 0], [chorus, 1])).toBe("3-7");
  });

  test("is none where the form plays something else in between, or never gets there", () => {
    expect(loop("form Verse Bridge Chorus", [verse, 1], [chorus, 0])).toBeUndefined();
    expect(loop("form Chorus Verse", [verse, 1], [chorus, 0])).toBeUndefined();
    expect(loop("form Verse", [verse, 1], [chorus, 0])).toBeUndefined();
    expect(loop("form Verse Chorus", [verse, 7], [chorus, 0])).toBeUndefined();
  });

  test("goes on over what a section plays in its middle", () => {
    const text = `${head}section Verse\nright | C4 |\nplay Tag\nright | D4 |\nsection Close\nright | E4 |\nsection Tag\nright | F4 |\nform Verse Close\n`;
    const range = loopBetween(songIn(text), { section: 0, bar: 0 }, { section: 1, bar: 0 }, 0);
    expect(range).toEqual({ from: 0, to: 16 });
  });

  test("within one section is as it was marked", () => {
    expect(loop(form, [verse, 1], [verse, 2], 21)).toBe("6-7");
    expect(loop(form, [verse, 0], [verse, 0])).toBe("0-0");
    expect(loop(form, [verse, 2], [verse, 0])).toBe("2-5");
  });
});

describe("a loop in another version of the song", () => {
  const old = songIn(`${head}form Verse Chorus Verse\n${sections}`);
  test("goes along with its bars", () => {
    const longer = songIn(`${head}form Bridge Verse Chorus Verse\n${sections}`);
    expect(loopIn(longer, old, { from: 20, to: 28 })).toEqual({ from: 24, to: 32 });
    const faster = songIn(`key C\ntempo 120\nform Verse Chorus Verse\n${sections}`);
    expect(loopIn(faster, old, { from: 4, to: 16 })).toEqual({ from: 2, to: 8 });
    expect(loopIn(old, old, { from: 4, to: 16 })).toEqual({ from: 4, to: 16 });
  });
  test("is gone with one of them", () => {
    const shorter = songIn(`${head}form Verse\n${sections}`);
    expect(loopIn(shorter, old, { from: 8, to: 16 })).toBeUndefined();
    const otherWay = songIn(`${head}form Chorus Verse\n${sections}`);
    expect(loopIn(otherWay, old, { from: 8, to: 16 })).toBeUndefined();
  });
});
