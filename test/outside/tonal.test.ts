// npm tonal 6.4.3 (MIT), a music theory library made by others: its chord dictionary, scales, intervals and notes.
import { ChordType, Interval, Note, ScaleType } from "tonal";
import { describe, expect, test } from "vitest";
import { scaleTable } from "../../server/src/theory/chord-scales.js";
import { nameOf, pitchClass, readName } from "../../server/src/theory/note-name.js";
import { frequency, octaveOf, readPitch } from "../../server/src/theory/pitch.js";
import { readQuality } from "../../server/src/theory/quality.js";
import {
  fifthsAbove,
  halfStepsAbove,
  readNumber,
  type ToneNumber,
} from "../../server/src/theory/tone-number.js";
import { overLetter, tonesOf } from "../support/chord-text.js";

/** `"3m"` as a tone number. */
function numberOfInterval(name: string): ToneNumber {
  const { num, alt } = Interval.get(name);
  return { number: num, alter: alt };
}

/** Tones by name alone, the octave left aside: `"-3 0 1"`. */
const names = (tones: readonly ToneNumber[]): string =>
  [...new Set(tones.map(fifthsAbove))].sort((a, b) => a - b).join(" ");

describe("the chord dictionary", () => {
  const aliases = ChordType.all().flatMap(({ aliases: all, intervals }) =>
    all.map((alias) => [alias, intervals.map(numberOfInterval)] as const),
  );

  /** No spelling of the trade, or two numbers run together. */
  const unknown = ["67", "o7M7", "quartal", "m11A", "phryg"];

  /** The alias, what is read here, and why. */
  const differences: ReadonlyMap<string, readonly [tones: string, reason: string]> = new Map([
    ["^", ["1 3 5 7", "the triangle alone stands for the major seventh chord"]],
    ["^#5", ["1 3 #5 7", "as the triangle alone"]],
    ["maj#4", ["1 3 5 #11", "maj says the triad; the seventh needs its number"]],
    ["M7b6", ["1 3 5 b6 7", "a flat sixth is added and takes no tone's place"]],
    ["^7b6", ["1 3 5 b6 7", "as M7b6"]],
    ["mb6M7", ["1 b3 5 b6 7", "as M7b6"]],
    ["mb6b9", ["1 b3 5 b6 b7 b9", "as M7b6, and a lone flat ninth implies the seventh"]],
    ["7b13", ["1 3 5 b7 b13", "a flat thirteenth leaves the fifth in the symbol, as in hrep's table"]],
    ["9b13", ["1 3 5 b7 9 b13", "as 7b13"]],
    ["M6b5", ["1 3 b5 6", "b5 is written, so the fifth is flat; no sharp eleventh beside a natural fifth"]],
    ["6b5", ["1 3 b5 6", "as M6b5"]],
    ["7b5b13", ["1 3 b5 b7 b13", "as M6b5"]],
    ["7b5#9", ["1 3 b5 b7 #9", "as M6b5"]],
    ["7#9b5", ["1 3 b5 b7 #9", "as M6b5"]],
    ["9b5b13", ["1 3 b5 b7 9 b13", "as M6b5"]],
    ["7b5b9", ["1 3 b5 b7 b9", "as M6b5"]],
    ["7b9b5", ["1 3 b5 b7 b9", "as M6b5"]],
    ["7b5b9b13", ["1 3 b5 b7 b9 b13", "as M6b5"]],
    ["m7#5", ["1 b3 #5 b7", "#5 is written, so it is a sharp fifth and no flat sixth"]],
    ["m9#5", ["1 b3 #5 b7 9", "as m7#5"]],
    ["4", ["1 4 5", "a fourth alone is a suspension; the dictionary has a stack of fourths"]],
    ["7alt", ["1 3 b5 #5 b7 b9 #9", "both fifths and both ninths"]],
    ["alt7", ["1 3 b5 #5 b7 b9 #9", "as 7alt"]],
    ["11", ["1 3 5 b7 9 11", "with its third, as in MusicXML, hrep and the academic tables"]],
    ["11b9", ["1 3 5 b7 b9 11", "as 11"]],
    ["M7add13", ["1 3 5 7 13", "add13 adds one tone, no ninth"]],
    ["m13", ["1 b3 5 b7 9 11 13", "with its 11, as in MusicXML and hrep"]],
    ["-13", ["1 b3 5 b7 9 11 13", "as m13"]],
  ]);

  const shared = aliases.filter(([alias]) => !unknown.includes(alias) && !differences.has(alias));

  test("has 214 aliases, of which 181 are read alike", () => {
    expect([aliases.length, shared.length]).toEqual([214, 181]);
  });

  test.each(shared)("'%s' has the same tones", (alias, tones) => {
    expect(names(overLetter(alias)?.tones ?? [])).toBe(names(tones));
  });

  test.each(unknown)("%s is unknown here", (alias) => {
    expect(readQuality(alias)).toBeUndefined();
  });

  test.each([...differences])("%s differs as listed", (alias, [tones]) => {
    const theirs = aliases.find(([name]) => name === alias)?.[1] ?? [];
    expect(tonesOf(overLetter(alias))).toBe(tones);
    expect(names(theirs)).not.toBe(names(overLetter(alias)?.tones ?? []));
  });
});

describe("the scales", () => {
  /** Their name where it differs. */
  const otherNames: ReadonlyMap<string, string> = new Map([
    ["minor", "aeolian"],
    ["whole-half diminished", "diminished"],
  ]);

  test.each(scaleTable.map(({ name, numbers }) => [name, numbers] as const))(
    "%s has the same keys",
    (name, numbers) => {
      const theirs = ScaleType.get(otherNames.get(name) ?? name);
      expect(theirs.empty).toBe(false);
      const keys = Array.from({ length: 12 }, (_, key) =>
        numbers.some((n) => halfStepsAbove(n) === key) ? "1" : "0",
      );
      expect(keys.join("")).toBe(theirs.chroma);
    },
  );
});

describe("the intervals", () => {
  const numbers = Array.from({ length: 13 }, (_, index) => index + 1).flatMap((number) =>
    ["bb", "b", "", "#"].map((sign) => `${sign}${number}`),
  );

  test.each(numbers)("%s is as wide and as spelled there", (text) => {
    const n = readNumber(text) as ToneNumber;
    const isPerfect = [1, 4, 5].includes(((n.number - 1) % 7) + 1);
    const qualities = isPerfect ? ["dd", "d", "P", "A"] : ["d", "m", "M", "A"];
    const theirs = Interval.get(`${n.number}${qualities[n.alter + 2]}`);
    expect(theirs.empty).toBe(false);
    expect(halfStepsAbove(n)).toBe(theirs.semitones);
    const noteAbove = Note.transpose("C4", theirs.name);
    expect(nameOf(fifthsAbove(n)).replace("x", "##")).toBe(Note.pitchClass(noteAbove));
  });
});

describe("the notes", () => {
  const spelled = [..."CDEFGAB"].flatMap((letter) => ["bb", "b", "", "#", "##"].map((sign) => letter + sign));
  const pitches = spelled.flatMap((name) => [1, 4, 7].map((octave) => `${name}${octave}`));

  test.each(spelled)("%s is on the same key", (name) => {
    const fifths = readName(name) as number;
    expect(pitchClass(fifths)).toBe(Note.chroma(name));
    expect(nameOf(fifths).replace("x", "##")).toBe(name);
  });

  test.each(pitches)("%s has the same MIDI number, octave and frequency", (name) => {
    const pitch = readPitch(name);
    if (pitch === undefined) throw new Error(name);
    expect(pitch.midi).toBe(Note.midi(name));
    expect(octaveOf(pitch)).toBe(Note.octave(name));
    expect(frequency(pitch.midi)).toBeCloseTo(Note.freq(name) ?? 0, 6);
  });
});
