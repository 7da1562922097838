import { expect, test } from "vitest";
import { grip } from "../../server/src/keyboard/grip.js";
import type { Hand } from "../../server/src/keyboard/hand.js";
import { pitchName, readPitch } from "../../server/src/theory/pitch.js";

// Worked values of the model itself: found by two other programs that were written from its description alone.
const table = `
RH C4 E4 G4 | 8 | holds 1-3-5
LH C3 E3 G3 | 8 | holds 5-3-1
RH C4 E4 G4 C5 | 8 | holds 1-2-3-5
RH F4 Ab4 C5 F5 | 8 | holds 1-2-3-5
RH C4 F4 A4 C5 | 8 | holds 1-2-4-5
RH C4 Eb4 Gb4 A4 C5 | 8 | holds 1-2-3-4-5
RH C4 E4 G4 Bb4 C5 | 8 | holds 1-2-3-4-5
LH C3 E3 G3 Bb3 C4 | 8 | NO span 5-2 C3-Bb3 132.6 > 130
LH C3 E3 G3 Bb3 C4 | 9 | holds 5-4-3-2-1
RH C4 D4 G4 C5 | 8 | holds 1-1-3-5
RH Db4 Eb4 Ab4 Db5 | 8 | holds 1-1-3-5
RH C#4 D4 G4 C#5 | 8 | NO span 2-5 D4-C#5 150.4 > 130
RH C4 D5 | 8 | NO too-wide C4-D5 188 > 177
RH Eb4 F5 | 9 | holds 1-5
RH C4 E4 G4 B4 D5 | 9 | holds 1-2-3-4-5
LH C3 E3 Bb3 D4 | 9 | holds 5-4-2-1
LH C3 G3 E4 | 9 | NO too-wide C3-E4 211.5 > 200.5
LH C3 G3 E4 | 10 | holds 5-2-1
LH C3 Bb3 E4 | 10 | holds 5-2-1
LH Eb3 Bb3 G4 | 10 | holds 5-3-1
LH B2 F#3 D#4 | 10 | NO too-wide B2-D#4 225.6 > 224
LH Bb2 F3 D4 | 10 | holds 5-2-1
LH C2 C3 E3 | 10 | NO span 5-2 C2-C3 164.5 > 153.5
LH C2 C3 E3 | 11 | holds 5-2-1
RH E4 A4 D5 G5 | 10 | holds 1-2-3-5
RH C4 G#4 C#5 | 9 | holds 1-3-5
RH C4 D4 E4 G4 A4 C5 | 8 | holds 1-1-2-3-4-5
LH C3 E3 G3 Bb3 C4 D4 | 9 | holds 5-4-3-2-1-1
RH C4 E4 G4 Bb4 C5 D5 | 9 | NO no-thumb-pair 6
RH C#4 D#4 F#4 G#4 A#4 C#5 | 8 | holds 1-1-2-3-4-5
RH E4 F4 F#4 G4 G#4 A4 | 9 | holds 1-1-2-3-4-5
RH C4 C#4 D4 D#4 E4 F4 | 9 | NO no-thumb-pair 6
RH C4 C#4 D4 D#4 E4 | 8 | holds 1-2-3-4-5
RH C4 D4 E4 F4 G4 A4 B4 | 10 | NO too-many-keys 7
LH G#2 A3 | 8 | holds 5-1
LH C#3 D4 | 8 | NO too-wide C#3-D4 178.6 > 177
LH G#2 B3 | 9 | holds 5-1
LH C3 Eb4 | 9 | NO too-wide C3-Eb4 202.1 > 200.5
RH E4 G#5 | 10 | holds 1-5
RH Db4 F5 | 10 | NO too-wide Db4-F5 225.6 > 224
`;

const millimetres = (length: number): string => `${Math.round(length / 100) / 10}`;

test.each(table.trim().split("\n"))("%s", (line) => {
  const [text = "", reach = "", expected] = line.split("|").map((it) => it.trim());
  const [side, ...names] = text.split(" ");
  const hand: Hand = side === "LH" ? "left" : "right";
  const pitches = names.map((name) => readPitch(name) ?? expect.fail(name));
  const it = grip(
    pitches.map(({ midi }) => midi),
    hand,
    Number(reach),
  );
  const name = (key: number): string => pitchName(pitches[key] ?? expect.fail("key"));
  const reasons = it.holds
    ? []
    : it.reasons.map((reason) => {
        switch (reason.kind) {
          case "too-many-keys":
          case "no-thumb-pair":
            return `NO ${reason.kind} ${reason.count}`;
          default: {
            const fingers = reason.kind === "span" ? ` ${reason.fingers.join("-")}` : "";
            const keys = reason.keys.map(name).join("-");
            return `NO ${reason.kind}${fingers} ${keys} ${millimetres(reason.width)} > ${millimetres(reason.limit)}`;
          }
        }
      });
  expect(it.holds ? `holds ${it.fingers.join("-")}` : reasons.join("; ")).toBe(expected);
});
