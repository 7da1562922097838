import { expect, test } from "vitest";
import { functionOf } from "../../server/src/theory/harmonic-function.js";
import { readKey } from "../../server/src/theory/key.js";
import { printNumber } from "../../server/src/theory/tone-number.js";
import { chord } from "../support/chord-text.js";

/** What the first chord does on the way to the second (`-`: none), in one line. */
function says(name: string, symbol: string, next: string): string {
  const key = readKey(name);
  if (key === undefined) throw new Error(name);
  const fn = functionOf(chord(symbol), key, next === "-" ? undefined : chord(next));
  const of = fn.of === undefined ? "" : ` of ${printNumber(fn.of)}`;
  const comes = fn.resolves === undefined ? "" : fn.resolves ? ", comes" : ", doesn't come";
  return `${printNumber(fn.degree)} ${fn.kind}${of}${comes}`;
}

test.each([
  ["C major", "C", "-", "1 diatonic"],
  ["C major", "G7", "C", "5 diatonic of 1, comes"],
  ["C major", "G7", "Am", "5 diatonic of 1, doesn't come"],
  ["C major", "G7b9", "C", "5 diatonic of 1, comes"],
  ["C major", "F/G", "C", "4 diatonic"],
  ["C major", "D7sus", "G", "2 diatonic"],
  ["C major", "Bm7b5", "C", "7 diatonic of 1, comes"],
  ["C major", "A7", "Dm7", "6 dominant of 2, comes"],
  ["C major", "A7", "Dsus", "6 dominant of 2, comes"],
  ["C major", "A7b9", "D7", "6 dominant of 2, comes"],
  ["C major", "D", "G", "2 dominant of 5, comes"],
  ["C major", "C7", "Fmaj7", "1 dominant of 4, comes"],
  ["C major", "F7", "Bb", "4 dominant of b7, comes"],
  ["C major", "G7alt", "C", "5 diatonic of 1, comes"],
  ["C major", "Gaug", "C", "5 dominant of 1, comes"],
  ["C major", "C7sus", "F", "1 suspended-dominant of 4, comes"],
  ["C major", "C#dim7", "Dm", "#1 leading-tone of 2, comes"],
  ["C major", "G#dim", "Am", "#5 leading-tone of 6, comes"],
  ["C major", "Bdim7", "C", "7 leading-tone of 1, comes"],
  ["C major", "C#m7b5", "Dm7", "#1 leading-tone of 2, comes"],
  ["C major", "Db7", "C", "b2 tritone-substitute of 1, comes"],
  ["C major", "Eb7", "Dm7", "b3 tritone-substitute of 2, comes"],
  ["C major", "Ebdim7", "Dm7", "b3 passing-diminished of 2, comes"],
  ["C major", "F#dim7", "C/G", "#4 passing-diminished of 1, comes"],
  ["C major", "Fm", "C", "4 borrowed"],
  ["C major", "Bb7", "C", "b7 borrowed"],
  ["C major", "Abmaj7", "-", "b6 borrowed"],
  ["C major", "F7", "C", "4 outside"],
  ["C major", "Dm7b5", "-", "2 borrowed"],
  ["C major", "E7", "F", "3 dominant of 6, doesn't come"],
  ["C major", "D7", "-", "2 dominant of 5, doesn't come"],
  ["C major", "Gaug", "Am", "5 dominant of 1, doesn't come"],
  ["C major", "Bb7sus", "-", "b7 borrowed"],
  ["C major", "E7sus", "Dm", "3 diatonic"],
  ["C major", "B7sus", "-", "7 suspended-dominant of 3, doesn't come"],
  ["C major", "Db", "-", "b2 outside"],
  ["C major", "F#7", "-", "#4 outside"],
  ["C major", "Amaj7", "Dm", "6 outside"],
  ["A minor", "E7", "Am", "5 diatonic of 1, comes"],
  ["A minor", "G#dim7", "Am", "#7 diatonic of 1, comes"],
  ["A minor", "A7", "Dm", "1 dominant of 4, comes"],
  ["A minor", "G7", "C", "7 diatonic of 3, comes"],
  ["A minor", "G9sus", "Cmaj7", "7 diatonic of 3, comes"],
  ["A minor", "G7", "Am", "7 diatonic of 3, doesn't come"],
  ["A minor", "G7", "-", "7 diatonic"],
  ["A minor", "G", "C", "7 diatonic of 3, comes"],
  ["A minor", "G", "F", "7 diatonic"],
  ["A minor", "Gmaj7", "C", "7 outside"],
  ["D dorian", "C7", "F", "7 dominant of 3, comes"],
  ["A minor", "A", "-", "1 borrowed"],
  ["A minor", "D", "F", "4 borrowed"],
  ["A minor", "Bb", "-", "b2 outside"],
  ["A aeolian", "E7", "-", "5 diatonic"],
  ["D dorian", "G7", "-", "4 diatonic"],
  ["D dorian", "A7", "Dm", "5 dominant of 1, comes"],
  ["G mixolydian", "F", "-", "7 diatonic"],
])("in %s, %s before %s: %s", (key, symbol, next, wanted) => {
  expect(says(key, symbol, next)).toBe(wanted);
});

test.each([
  ["C major", "F", "-", "the 4"],
  ["C major", "A7", "Dm", "dominant of the 2, and goes there"],
  ["C major", "E7", "-", "dominant of the 6, which doesn't come"],
  ["C major", "C7sus", "F", "suspended dominant of the 4, and goes there"],
  ["C major", "Ab", "-", "the ♭6, borrowed from the parallel minor"],
  ["A minor", "G7", "C", "the 7, dominant of the 3, and goes there"],
  ["A minor", "G9sus", "C", "the 7, suspended dominant of the 3, and goes there"],
  ["A minor", "G7", "Am", "the 7"],
  ["A minor", "G", "C", "the 7, and goes to the 3"],
  ["A minor", "D", "-", "the 4, borrowed from the parallel major"],
  ["C major", "Db7", "C", "tritone substitute for the dominant of the 1"],
  ["C major", "C#dim7", "Dm", "leading-tone chord of the 2"],
  ["C major", "F#dim7", "C/G", "passing diminished chord to the 1 over 5"],
  ["C major", "F#", "-", "the ♯4, from outside the key"],
])("in %s, %s before %s is told as '%s'", (name, symbol, next, text) => {
  const key = readKey(name);
  if (key === undefined) throw new Error(name);
  expect(functionOf(chord(symbol), key, next === "-" ? undefined : chord(next)).text).toBe(text);
});
