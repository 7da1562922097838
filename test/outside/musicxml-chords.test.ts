// W3C MusicXML 4.0, musicxml.xsd: the kinds of `kind-value`, the meaning of `degree` (an added 7 is minor, as in a
// dominant chord; alter and subtract count from what the kind has), and the worked examples of the specification's
// reference pages. That a 7♯9 is a dominant with an added ♯9 is said by its editor in w3c-cg/musicxml#369.
import { describe, expect, test } from "vitest";
import { kindOf } from "../../server/src/exports/musicxml-kind.js";
import { chordOfKind, kindsWithTones } from "../../server/src/theory/musicxml-kinds.js";
import { type Quality, readQuality } from "../../server/src/theory/quality.js";
import { printNumber } from "../../server/src/theory/tone-number.js";
import { usualQualities } from "../../server/src/theory/usual-qualities.js";

const quality = (text: string): Quality => readQuality(text)?.major as Quality;

/** `dominant 9/1/add`: the kind, then value, alter and type of each degree. */
function said(it: Quality): string {
  const { kind, degrees } = kindOf(it);
  return [kind, ...degrees.map(({ value, alter, type }) => `${value}/${alter}/${type}`)].join(" ");
}

describe("a kind says itself", () => {
  test.each(kindsWithTones)("%s", (kind) => {
    expect(said(chordOfKind(kind) as Quality)).toBe(kind);
  });
});

describe("the specification's examples", () => {
  test.each([
    ["6", "major-sixth"],
    ["add9", "major 9/0/add"],
    ["7b5no3", "dominant 5/-1/alter 3/0/subtract"],
    ["7#9", "dominant 9/1/add"],
    ["13sus", "suspended-fourth 7/0/add 9/0/add 13/0/add"],
  ])("%s is %s", (text, wanted) => {
    expect(said(quality(text))).toBe(wanted);
  });
});

describe("degrees", () => {
  test.each([
    // A major seventh is one more than what a dominant chord has.
    ["maj7sus", "suspended-fourth 7/1/add"],
    ["7b9", "dominant 9/-1/add"],
    ["7#11", "dominant 11/1/add"],
    ["7b13", "dominant 13/-1/add"],
    ["maj7#5", "major-seventh 5/1/alter"],
    ["maj9#11", "major-ninth 11/1/add"],
    ["7(#9,b13)", "dominant 9/1/add 13/-1/add"],
    ["69", "major-sixth 9/0/add"],
    ["13", "dominant-ninth 13/0/add"],
  ])("%s is %s", (text, wanted) => {
    expect(said(quality(text))).toBe(wanted);
  });

  test.each(usualQualities)("%s: kind and degrees give its tones back", (text) => {
    for (const it of [readQuality(text)?.major, readQuality(text)?.minor]) {
      if (it === undefined) throw new Error(`${text} is no quality`);
      const { kind, degrees } = kindOf(it);
      const tones = (chordOfKind(kind)?.tones ?? []).map(({ number, alter }) => ({ number, alter }));
      for (const { value, alter, type } of degrees) {
        const at = tones.findIndex(({ number }) => number === value);
        if (type === "add") tones.push({ number: value, alter: value === 7 ? alter - 1 : alter });
        else if (type === "subtract") tones.splice(at, 1);
        else (tones[at] as { alter: number }).alter += alter;
      }
      expect(tones.map(printNumber).sort()).toEqual(it.tones.map(printNumber).sort());
    }
  });
});
