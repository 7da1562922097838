import fc from "fast-check";
import { expect, test } from "vitest";
import {
  degreeInKey,
  isPractical,
  isRedundantSign,
  type Key,
  keyName,
  type ModeName,
  modeNames,
  practical,
  practicalKeys,
  prettyKey,
  readKey,
  readMode,
  scaleDegree,
  signature,
  triadOn,
} from "../../server/src/theory/key.js";
import { nameOf, pitchClass, readName } from "../../server/src/theory/note-name.js";
import { printNumber, readNumber } from "../../server/src/theory/tone-number.js";
import { assertProperty } from "../support/property.js";

function key(text: string): Key {
  const read = readKey(text);
  if (read === undefined) throw new Error(text);
  return read;
}

test.each([
  ["Eb major", "Eb major"],
  ["E♭ Major", "Eb major"],
  ["Ab", "Ab major"],
  ["Cm", "C minor"],
  ["F# minor", "F# minor"],
  ["F#m", "F# minor"],
  ["D dorian", "D dorian"],
  ["A aeolian", "A aeolian"],
  ["CM", "C major"],
  ["G MIN", "G minor"],
])("the key %s is %s", (text, name) => {
  expect(keyName(key(text))).toBe(name);
});

test.each(["", "H", "C blues", "c major", "C4"])("'%s' is no key", (text) => {
  expect(readKey(text)).toBeUndefined();
});

test("m is minor and M is major", () => {
  expect([readMode("m"), readMode("M"), readMode("x")]).toEqual(["minor", "major", undefined]);
});

test("a key is shown with its own signs", () => {
  expect(prettyKey(key("Eb minor"))).toBe("E♭ minor");
});

test.each([
  ["C major", "3", "E"],
  ["C major", "b3", "Eb"],
  ["C minor", "3", "Eb"],
  ["C minor", "b3", "Eb"],
  ["C minor", "bb3", "Ebb"],
  ["C minor", "#3", "E"],
  ["A minor", "#7", "G#"],
  ["D dorian", "6", "B"],
  ["D dorian", "3", "F"],
  ["F lydian", "4", "B"],
  ["F lydian", "#4", "B"],
  ["F lydian", "b4", "Bb"],
  ["Eb major", "#1", "E"],
])("in %s, %s is %s", (name, degree, tone) => {
  const n = readNumber(degree);
  expect(n === undefined ? "" : nameOf(scaleDegree(key(name), n.number, n.alter))).toBe(tone);
});

test.each([
  ["minor", "b3", true],
  ["minor", "b6", true],
  ["minor", "b7", true],
  ["minor", "b2", false],
  ["minor", "bb7", false],
  ["minor", "#7", false],
  ["lydian", "#4", true],
  ["major", "b3", false],
  ["aeolian", "b3", true],
] as const)("in %s the sign of %s says nothing new: %s", (mode, degree, redundant) => {
  const n = readNumber(degree) ?? { number: 0, alter: 0 };
  expect(isRedundantSign(mode, n.number, n.alter)).toBe(redundant);
});

test("a tone's degree leads back to the tone, in every mode", () => {
  assertProperty(
    fc.property(
      fc.integer({ min: -8, max: 10 }),
      fc.constantFrom(...modeNames),
      fc.integer({ min: -14, max: 14 }),
      (tonic, mode, distance) => {
        const inKey: Key = { tonic, mode };
        const n = degreeInKey(inKey, tonic + distance);
        expect(scaleDegree(inKey, n.number, n.alter)).toBe(tonic + distance);
        expect(isRedundantSign(mode, n.number, n.alter)).toBe(false);
      },
    ),
  );
});

test("ionian and aeolian act as major and minor", () => {
  for (const [mode, as] of [
    ["ionian", "major"],
    ["aeolian", "minor"],
  ] as ReadonlyArray<[ModeName, ModeName]>) {
    for (let degree = 1; degree <= 7; degree++) {
      expect(scaleDegree({ tonic: 2, mode }, degree, 0)).toBe(scaleDegree({ tonic: 2, mode: as }, degree, 0));
    }
    expect(practicalKeys(mode).map(({ tonic }) => tonic)).toEqual(
      practicalKeys(as).map(({ tonic }) => tonic),
    );
  }
});

const triads = (name: string): string =>
  [1, 2, 3, 4, 5, 6, 7]
    .map((degree) => triadOn(key(name), degree))
    .map(({ third, fifth }) => (fifth === "diminished" ? "dim" : fifth === "augmented" ? "aug" : third))
    .join(" ");

test.each([
  ["C major", "major minor minor major major minor dim"],
  ["A minor", "minor dim major minor minor major major"],
  ["D dorian", "minor minor major major minor dim major"],
  ["F lydian", "major major minor dim major minor minor"],
])("the triads of %s are %s", (name, wanted) => {
  expect(triads(name)).toBe(wanted);
});

test.each([
  ["F# major", undefined, "F# major"],
  ["Gb major", undefined, "Gb major"],
  ["F# major", "Ab", "Gb major"],
  ["Gb major", "E", "F# major"],
  ["F# major", "C", "Gb major"],
  ["Gb major", "G", "F# major"],
  ["C# major", undefined, "Db major"],
  ["Cb major", "F", "B major"],
  ["Ab minor", undefined, "G# minor"],
  ["D# minor", undefined, "Eb minor"],
  ["G# dorian", undefined, "Ab dorian"],
  ["Fx major", undefined, "G major"],
])("%s near %s is %s", (name, near, wanted) => {
  expect(keyName(practical(key(name), near === undefined ? undefined : readName(near)))).toBe(wanted);
});

test("every mode has twelve practical keys, from C up by half steps", () => {
  for (const mode of modeNames) {
    const keys = practicalKeys(mode);
    expect(keys.map(({ tonic }) => pitchClass(tonic))).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(keys.every(isPractical)).toBe(true);
    expect(keys.every((it) => Math.abs(signature(it)) <= 6)).toBe(true);
  }
});

test("the degrees of a key are printed along its own scale", () => {
  const cMinor = key("C minor");
  expect(
    ["Eb", "E", "Ebb", "B", "Bb", "C"].map((tone) => printNumber(degreeInKey(cMinor, readName(tone) ?? 0))),
  ).toEqual(["3", "#3", "bb3", "#7", "7", "1"]);
});
