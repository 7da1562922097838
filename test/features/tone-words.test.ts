import { expect, test } from "vitest";
import { chordNotes, chordText } from "../../server/src/features/chord-words.js";
import { plainText } from "../../server/src/features/markup.js";
import { toneDetail } from "../../server/src/features/tone-words.js";
import { readChord } from "../../server/src/theory/chord.js";
import { readKey } from "../../server/src/theory/key.js";
import { readPitch } from "../../server/src/theory/pitch.js";

const key = readKey("Bb major") ?? expect.fail();
const chord = (text: string) => readChord(text) ?? expect.fail(text);
const pitch = (text: string) => readPitch(text) ?? expect.fail(text);

test("A tone is told in one line, as its row counts", () => {
  expect(toneDetail(pitch("Eb4"), chord("F7"), key)).toBe("E♭4, the ♭7 of F7 (the 4 of the key)");
  expect(toneDetail(pitch("Eb4"), chord("F7"), key, { first: "key" })).toBe(
    "E♭4, the 4 of the key (the ♭7 of F7)",
  );
  expect(toneDetail(-3, chord("F7"), key)).toBe("E♭, the ♭7 of F7 (the 4 of the key)");
  expect(toneDetail(pitch("Eb4"), undefined, key)).toBe("E♭4, the 4 of the key");
  expect(toneDetail(pitch("G4"), chord("F7"), key, { as: { number: 9, alter: 0 } })).toBe(
    "G4, the 9 of F7 (the 6 of the key)",
  );
});

test("A chord that stands nowhere yet is told with its tones and scales", () => {
  const said = plainText(chordText(chord("F7#9"), key));
  expect(said.split("\n")[0]).toBe("F7♯9 (5:7♯9), the 5");
  expect(said).toContain("G♯    ♯9            ♯6          sharp nine, a colour tone");
  expect(said).toContain("Scale: F ");
  expect(plainText(chordText(chord("F7#9"), key, { scales: false }))).not.toContain("Scale");
  expect(chordNotes(chord("F7/A"))).toBe("A: F A C E♭");
});
