import { describe, expect, test } from "vitest";
import { placeIn } from "../../server/src/page/place-in.js";
import { songIn } from "../support/song-in.js";

const head = "key C\ntempo 60\n";
const verse = "section Verse\nright | C4 | D4 |\n";
const chorus = "section Chorus\nright | E4 | F4 |\n";
const old = songIn(`${head}form Verse Chorus Verse Chorus\n${verse}${chorus}`);
/** Where second `seconds` of the old chart is in the new one. */
const place = (text: string, seconds: number): number | undefined => placeIn(songIn(text), old, seconds);

describe("the place in an edited chart", () => {
  test("is the same where nothing changed, in every turn of the form", () => {
    const same = `${head}form Verse Chorus Verse Chorus\n${verse}${chorus}`;
    for (const at of [0, 1.5, 5.25, 15.999, 16, 27]) expect(place(same, at)).toBeCloseTo(at, 9);
    expect(placeIn(old, old, 7)).toBe(7);
  });

  test("goes along with its section where another one comes before it", () => {
    expect(
      place(
        `${head}form Intro Verse Chorus Verse Chorus\nsection Intro\nright | G4 |\n${verse}${chorus}`,
        5.5,
      ),
    ).toBe(9.5);
    expect(place(`${head}form Chorus Verse\n${chorus}${verse}`, 5.5)).toBe(13.5);
  });

  test("is the same beat at another tempo and in another meter", () => {
    const twice = `key C\ntempo 120\nform Verse Chorus Verse Chorus\n${verse}${chorus}`;
    expect(place(twice, 5.5)).toBe(2.75);
    const waltz = `key C\ntime 3/4\ntempo 60\nform Verse Chorus\n${verse}${chorus}`;
    expect(place(waltz, 5.5)).toBe(4.5);
  });

  test("is the next bar where the bar has become too short for it", () => {
    const waltz = `key C\ntime 3/4\ntempo 60\nform Verse Chorus\n${verse}${chorus}`;
    expect(place(waltz, 7.5)).toBe(6);
  });

  test("is the last turn where there are fewer", () => {
    expect(place(`${head}form Verse Chorus\n${verse}${chorus}`, 17)).toBe(1);
    expect(place(`${head}form Verse Chorus Verse Chorus Chorus\n${verse}${chorus}`, 29)).toBe(29);
  });

  test("knows a section that was given another name, by where it stands", () => {
    const renamed = chorus.replace("Chorus", "Refrain");
    expect(place(`${head}form Verse Refrain Verse Refrain\n${verse}${renamed}`, 9)).toBe(9);
  });

  test("knows the second of two sections of one name", () => {
    const two = songIn(`${head}${verse}${verse}`);
    expect(placeIn(songIn(`${head}${chorus}${verse}${verse}`), two, 9)).toBe(17);
  });

  test("is gone with its section, its bar or its turn in the form", () => {
    expect(place(`${head}${verse}`, 9)).toBeUndefined();
    expect(place(`${head}form Verse Chorus\n${verse}section Chorus\nright | E4 |\n`, 13)).toBeUndefined();
    expect(place(`${head}form Verse\n${verse}${chorus}`, 9)).toBeUndefined();
    expect(place("", 9)).toBeUndefined();
    expect(placeIn(old, songIn(""), 0)).toBeUndefined();
    // An old name at another place is another section.
    expect(place(`${head}section Bridge\nright | C4 | C4 |\n${verse}`, 9)).toBeUndefined();
  });

  test("is the same time round in a repeat", () => {
    const text = (before: string) => `${head}${before}section A\nright |: C4 | D4 :| x3\n`;
    const from = songIn(text(""));
    const to = songIn(text("section Start\nright | G4 |\n"));
    for (const at of [1, 9, 17.5, 21]) expect(placeIn(to, from, at)).toBeCloseTo(at + 4, 9);
  });

  test("keeps its distance before the first bar line", () => {
    const from = songIn(`${head}right E4 | C4 |\n`);
    expect(placeIn(songIn(`key C\ntempo 120\nright E4 | C4 |\n`), from, 3.5)).toBeCloseTo(1.75, 9);
    expect(placeIn(songIn(`${head}right | C4 |\n`), from, 3.5)).toBe(0);
  });
});
