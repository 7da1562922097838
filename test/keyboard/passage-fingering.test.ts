import { describe, expect, test } from "vitest";
import type { Hand } from "../../server/src/keyboard/hand.js";
import { passageFingering } from "../../server/src/keyboard/passage-fingering.js";
import { pitchClass, readName } from "../../server/src/theory/note-name.js";
import { readPitch } from "../../server/src/theory/pitch.js";

const key = (name: string): number => readPitch(name)?.midi ?? expect.fail(name);

/** `"C4 E4+G4 _E4+A4"`: grips from the lowest key up, `_` before a key that stays down. */
function fingersOf(hand: Hand, text: string, reach = 9): string {
  const grips = text.split(" ").map((grip) => {
    const names = grip.split("+");
    return {
      keys: names.map((name) => key(name.replace("_", ""))),
      held: names.filter((name) => name.startsWith("_")).map((name) => key(name.slice(1))),
    };
  });
  return passageFingering(grips, hand, reach)
    .map((fingers) => fingers?.join("-") ?? "none")
    .join(" ");
}

const backwards = (text: string): string => text.split(" ").reverse().join(" ");

/** One octave up from the key's own note, as keys. */
function scale(name: string, octave: number): readonly number[] {
  const tonic = 12 * (octave + 1) + pitchClass(readName(name) ?? expect.fail(name));
  return [0, 2, 4, 5, 7, 9, 11, 12].map((above) => tonic + above);
}

const fingerLine = (hand: Hand, keys: readonly number[]): string =>
  passageFingering(
    keys.map((it) => ({ keys: [it], held: [] })),
    hand,
    9,
  )
    .map((fingers) => fingers?.join("-"))
    .join(" ");

// The scale fingerings of the usual schools and manuals (common practice). The last note, and in the right hand the
// first, of a scale from a black key is fingered in more than one way: `|` parts what is taught.
const scales: readonly (readonly [hand: Hand, key: string, upward: string])[] = [
  ["right", "C", "1 2 3 1 2 3 4 5"],
  ["right", "G", "1 2 3 1 2 3 4 5"],
  ["right", "D", "1 2 3 1 2 3 4 5"],
  ["right", "A", "1 2 3 1 2 3 4 5"],
  ["right", "E", "1 2 3 1 2 3 4 5"],
  ["right", "B", "1 2 3 1 2 3 4 5"],
  ["right", "F", "1 2 3 4 1 2 3 4"],
  ["right", "Bb", "2 1 2 3 1 2 3 4 | 4 1 2 3 1 2 3 4"],
  ["right", "Eb", "3 1 2 3 4 1 2 3 | 2 1 2 3 4 1 2 3"],
  ["right", "Ab", "3 4 1 2 3 1 2 3 | 2 3 1 2 3 1 2 3"],
  ["right", "Db", "2 3 1 2 3 4 1 2"],
  ["right", "F#", "2 3 4 1 2 3 1 2"],
  ["left", "C", "5 4 3 2 1 3 2 1"],
  ["left", "G", "5 4 3 2 1 3 2 1"],
  ["left", "D", "5 4 3 2 1 3 2 1"],
  ["left", "A", "5 4 3 2 1 3 2 1"],
  ["left", "E", "5 4 3 2 1 3 2 1"],
  ["left", "F", "5 4 3 2 1 3 2 1"],
  ["left", "B", "4 3 2 1 4 3 2 1"],
  ["left", "Bb", "3 2 1 4 3 2 1 3 | 3 2 1 4 3 2 1 2"],
  ["left", "Eb", "3 2 1 4 3 2 1 3 | 3 2 1 4 3 2 1 2"],
  ["left", "Ab", "3 2 1 4 3 2 1 3 | 3 2 1 4 3 2 1 2"],
  ["left", "Db", "3 2 1 4 3 2 1 3 | 3 2 1 4 3 2 1 2"],
  ["left", "F#", "4 3 2 1 3 2 1 4 | 4 3 2 1 3 2 1 2"],
];

describe("a major scale is fingered as it is taught", () => {
  test.each(scales)("%s hand, %s: %s", (hand, name, taught) => {
    const ways = taught.split(" | ");
    const keys = scale(name, hand === "right" ? 4 : 2);
    expect(ways).toContain(fingerLine(hand, keys));
    expect(ways.map(backwards)).toContain(fingerLine(hand, [...keys].reverse()));
  });

  // Two octaves in which the black keys say where the thumb goes.
  test.each([
    ["G", "1 2 3 1 2 3 4 1 2 3 1 2 3 4 5"],
    ["D", "1 2 3 1 2 3 4 1 2 3 1 2 3 4 5"],
    ["A", "1 2 3 1 2 3 4 1 2 3 1 2 3 4 5"],
    ["E", "1 2 3 1 2 3 4 1 2 3 1 2 3 4 5"],
    ["F", "1 2 3 4 1 2 3 1 2 3 4 1 2 3 4"],
  ])("right hand, two octaves of %s: %s", (name, taught) => {
    const keys = [...scale(name, 4), ...scale(name, 5).slice(1)];
    expect(fingerLine("right", keys)).toBe(taught);
    expect(fingerLine("right", [...keys].reverse())).toBe(backwards(taught));
  });
});

// Common practice: the five-finger position, broken chords, basses, chords and their inversions.
const lines: readonly (readonly [hand: Hand, text: string, fingers: string])[] = [
  ["right", "C4 D4 E4 F4 G4 F4 E4 D4 C4", "1 2 3 4 5 4 3 2 1"],
  ["left", "C3 D3 E3 F3 G3 F3 E3 D3 C3", "5 4 3 2 1 2 3 4 5"],
  ["right", "C4 E4 G4 E4 C4", "1 3 5 3 1"],
  ["left", "C3 E3 G3 E3 C3", "5 3 1 3 5"],
  ["left", "C3 G3 E3 G3 C3 G3 E3 G3", "5 1 3 1 5 1 3 1"],
  ["right", "C4 E4 G4 C5", "1 2 3 5"],
  ["right", "E4 G4 C5 E5", "1 2 4 5"],
  ["right", "D4 F#4 A4 D5", "1 2 3 5"],
  ["left", "E3 G3 C4 E4", "5 4 2 1"],
  ["left", "G3 C4 E4 G4", "5 3 2 1"],
  ["left", "D3 F#3 A3 D4", "5 3 2 1"],
  ["right", "C4 E4 G4 C5 E5 G5 C6", "1 2 3 1 2 3 5"],
  ["left", "C2 F2 G2 C2", "5 2 1 5"],
  ["left", "C2 G2 C3 G2 C2", "5 2 1 2 5"],
  ["left", "C2 C3 C2 C3", "5 1 5 1"],
  ["left", "C2 D2 E2 G2", "5 4 3 1"],
];

describe("a line is fingered as it is taught, there and back", () => {
  test.each(lines)("%s hand, %s: %s", (hand, text, fingers) => {
    expect(fingersOf(hand, text)).toBe(fingers);
    expect(fingersOf(hand, backwards(text))).toBe(backwards(fingers));
  });
});

const chords: readonly (readonly [hand: Hand, text: string, fingers: string])[] = [
  ["right", "C4+E4+G4", "1-3-5"],
  ["left", "C3+E3+G3", "5-3-1"],
  ["right", "C4+E4+G4+C5", "1-2-3-5"],
  ["right", "C4+F4+A4+C5", "1-2-4-5"],
  ["right", "C4+E4+G4 E4+G4+C5 G4+C5+E5 C5+E5+G5", "1-3-5 1-2-5 1-3-5 1-3-5"],
  ["right", "C4+E4+G4 C4+F4+A4 B3+D4+G4 C4+E4+G4", "1-3-5 1-3-5 1-2-5 1-3-5"],
  ["left", "C3+E3+G3 C3+F3+A3 B2+F3+G3 C3+E3+G3", "5-3-1 5-2-1 5-2-1 5-3-1"],
  ["right", "F4+A4+C5 G4+B4+D5 A4+C5+E5", "1-3-5 1-3-5 1-3-5"],
  ["right", "C4+E4 D4+F4 E4+G4", "1-3 2-4 3-5"],
  ["right", "E4+A4+D5 D4+G4+C5", "1-2-5 1-2-5"],
  ["right", "C4+C5 D4+D5 E4+E5 F4+F5 G4+G5", "1-5 1-5 1-5 1-5 1-5"],
  ["left", "C2+C3 F2+F3 G2+G3", "5-1 5-1 5-1"],
  ["left", "C2+G2 F2+C3", "5-1 5-1"],
  ["left", "C2+C3 E3+G3+Bb3 F2+F3 A3+C4+Eb4", "5-1 4-2-1 5-1 4-2-1"],
];

describe("chords are fingered as they are taught", () => {
  test.each(chords)("%s hand, %s: %s", (hand, text, fingers) => {
    expect(fingersOf(hand, text)).toBe(fingers);
  });
});

test("a key that stays down keeps its finger, though another would be easier", () => {
  expect(fingersOf("right", "C5 D5 C5 E4+G4+C5")).toBe("4 5 4 1-2-5");
  expect(fingersOf("right", "C5 D5 C5 E4+G4+_C5")).toBe("4 5 4 1-2-4");
});

test("a key that is struck again keeps its finger where that costs little", () => {
  expect(fingersOf("right", "C4+E4+G4")).toBe("1-3-5");
  expect(fingersOf("right", "C4+E4+G4 C4+E4+A4")).toBe("1-2-4 1-2-5");
});

test("keys are taken with the fingers that must hold them later", () => {
  expect(fingersOf("right", "C4+E4+G4 E4+G4+C5")).toBe("1-3-5 1-2-5");
  expect(fingersOf("right", "C4+E4+G4 _E4+G4+C5")).toBe("1-2-4 2-3-5");
});

test("a chord that is struck again keeps its fingers", () => {
  expect(fingersOf("right", "C4+E4+G4 C4+E4+G4 C4+E4+G4 C4+F4+A4")).toBe("1-3-5 1-3-5 1-3-5 1-3-5");
});

test("a grip that the hand can't hold has no fingers, and the passage goes on after it", () => {
  expect(fingersOf("left", "C3+E3+G3 C3+G3+E4 C3+E3+G3")).toBe("5-3-1 none 5-3-1");
  expect(fingersOf("left", "C3+E3+G3 C3+G3+E4 C3+E3+G3", 10)).toBe("5-3-1 5-2-1 5-3-1");
  expect(fingersOf("left", "C3+G3+E4")).toBe("none");
});

test("an empty passage has no fingers, nor have no keys", () => {
  expect(passageFingering([], "right", 9)).toEqual([]);
  expect(passageFingering([{ keys: [], held: [] }], "right", 9)).toEqual([undefined]);
});

test("equal passages have equal fingers, whatever was asked before", () => {
  const text = "Bb3+D4+F4 Bb3+Eb4+G4 A3+Eb4+F4 Bb3+D4+F4";
  const first = fingersOf("right", text);
  fingersOf("right", "C4+E4+G4", 7);
  expect(fingersOf("right", text)).toBe(first);
});
