// The circle of fifths as every primer prints it: the sharps (flats negative) of each key signature, -7 to 7 as in
// the Standard MIDI File 1.0 key signature event, and the order in which they are written.
import { expect, test } from "vitest";
import { keyName, type ModeName, readKey, scaleOf, signature } from "../../server/src/theory/key.js";
import { alterOf, nameOf } from "../../server/src/theory/note-name.js";

const major = "Cb Gb Db Ab Eb Bb F C G D A E B F# C#".split(" ");
const minor = "Ab Eb Bb F C G D A E B F# C# G# D# A#".split(" ");
const signatures = [
  ...major.map((tonic, index) => [`${tonic} major`, index - 7] as const),
  ...minor.map((tonic, index) => [`${tonic} minor`, index - 7] as const),
];

test.each(signatures)("%s has the signature %i", (name, sharps) => {
  const key = readKey(name);
  if (key === undefined) throw new Error(name);
  expect(signature(key)).toBe(sharps);
  expect(keyName(key)).toBe(name);
});

const sharpOrder = "F# C# G# D# A# E# B#".split(" ");
const flatOrder = "Bb Eb Ab Db Gb Cb Fb".split(" ");

test.each(signatures)("the scale of %s alters exactly the tones of its signature", (name, sharps) => {
  const key = readKey(name);
  const altered =
    key === undefined
      ? []
      : scaleOf(key)
          .filter((fifths) => alterOf(fifths) !== 0)
          .map(nameOf);
  const wanted = sharps > 0 ? sharpOrder.slice(0, sharps) : flatOrder.slice(0, -sharps);
  expect(altered.sort()).toEqual([...wanted].sort());
});

// The white keys from each tonic up are the church modes (Glarean, Dodecachordon).
const whiteKeyModes: ReadonlyArray<readonly [tonic: string, mode: ModeName]> = [
  ["C", "ionian"],
  ["D", "dorian"],
  ["E", "phrygian"],
  ["F", "lydian"],
  ["G", "mixolydian"],
  ["A", "aeolian"],
  ["B", "locrian"],
];

test.each(whiteKeyModes)("%s %s is the white keys", (tonic, mode) => {
  const key = readKey(`${tonic} ${mode}`);
  if (key === undefined) throw new Error(mode);
  expect(signature(key)).toBe(0);
  const whole = "CDEFGAB";
  const at = whole.indexOf(tonic);
  expect(scaleOf(key).map(nameOf).join("")).toBe(whole.slice(at) + whole.slice(0, at));
});
