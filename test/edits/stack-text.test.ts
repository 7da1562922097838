import fc from "fast-check";
import { expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { stackText } from "../../server/src/edits/stack-text.js";
import { signStyle } from "../../server/src/edits/written-name.js";
import type { PitchedRow } from "../../server/src/syntax/tree.js";
import { type Key, practicalKeys } from "../../server/src/theory/key.js";
import { nameOf, pitchClass } from "../../server/src/theory/note-name.js";
import { type Pitch, readPitch } from "../../server/src/theory/pitch.js";
import { property } from "../support/property.js";

const rows: readonly PitchedRow[] = ["lead", "right", "left", "bass"];
const chords = ["C", "Fm7b5", "Bb13#11", "Gb6/9", "E7alt", "A7sus/B", "Ebmaj9/G", "F#dim7", "D5"];

/** A chart with one slot, and that slot. */
function slotOf(key: Key, row: PitchedRow, chord: string, from: string, group: string, text: string) {
  const slot = group === "" ? text : `${group}(${text} r)`;
  const chart = `key ${nameOf(key.tonic)} ${key.mode}\nsection A\nchords | ${chord} |\n${row}${from} | ${slot} |\n`;
  const section = openDocument("chart.plagal", chart).chart.sections[0]?.section;
  const found = section?.rows[row].slots[0];
  if (section === undefined || found === undefined) throw new Error(`no slot in\n${chart}`);
  return { section, slot: found };
}

const signs = signStyle([]);

property(
  "the text of a stack sounds the very keys that it was made of, under their names",
  fc.record({
    key: fc.constantFrom(...practicalKeys("major"), ...practicalKeys("minor"), ...practicalKeys("dorian")),
    row: fc.constantFrom(...rows),
    chord: fc.constantFrom(...chords),
    from: fc.constantFrom("", "", " from C3", " from F#4"),
    group: fc.constantFrom("", ">", "<", ">>"),
    notation: fc.constantFrom("numbers" as const, "letters" as const),
    keys: fc.uniqueArray(fc.integer({ min: 21, max: 108 }), { minLength: 1, maxLength: 6 }),
    spellings: fc.array(fc.integer({ min: 0, max: 1 }), { minLength: 6, maxLength: 6 }),
  }),
  3000,
  ({ key, row, chord, from, group, notation, keys, spellings }) => {
    const { section, slot } = slotOf(key, row, chord, from, group, "C4");
    const event = slot.chord;
    const pitches = keys
      .sort((a, b) => a - b)
      .map((midi, i): Pitch => {
        // A name of this key not far from the chord's root.
        const near = (event?.chord.root ?? 0) - 5 + 12 * (spellings[i] ?? 0) * (i % 2);
        const fifths = Array.from({ length: 12 }, (_, k) => near + k).find(
          (it) => pitchClass(it) === midi % 12,
        );
        return { fifths: fifths ?? 0, midi };
      });
    const text = stackText(pitches, {
      row,
      key: section.start.key,
      chord: event?.chord,
      home: slot.home,
      groupOctaves: slot.groupOctaves,
      notation,
      signs,
    });
    const read = slotOf(key, row, chord, from, group, text ?? "").slot.struck.map(({ pitch }) => pitch);
    expect(read, text).toEqual(pitches);
  },
);

const place = (row: PitchedRow, chord: string) => {
  const { section, slot } = slotOf({ tonic: 0, mode: "major" }, row, chord, "", "", "C4");
  const { home, groupOctaves } = slot;
  return { row, key: section.start.key, chord: slot.chord?.chord, home, groupOctaves, signs };
};
const pitches = (text: string): readonly Pitch[] => text.split(" ").map((it) => readPitch(it) as Pitch);

test.each([
  ["right", "Am7", "G3 C4 E4", "b7+b3+5"],
  ["right", "G13", "F3 B3 E4 A4", "b7+3+13+9"],
  ["right", "C", "E3 G3 C4 D4", "3+5+1+9"],
  ["right", "C6", "E3 A3", "3+6"],
  ["right", "Dsus", "G3 A3 D4", "4+5+1"],
  ["right", "Bdim7", "Ab3 B3", "bb7+1"],
  ["right", "C", "E4 E5", ">3+3"],
  ["right", "C", "E3 E5", "3+>3"],
  ["left", "C/E", "E2 C3", "0+1"],
  ["left", "D/C", "C2", "0"],
  ["left", "C", "C2 G2 E3", "1+5+3"],
  ["left", "C", "C1", "<1"],
  ["lead", "C", "B4", "7"],
] as const)("%s over %s: %s is %s", (row, chord, sounding, text) => {
  expect(stackText(pitches(sounding), { ...place(row, chord), notation: "numbers" })).toBe(text);
});

test("letters follow the chart's own signs", () => {
  expect(stackText(pitches("Eb4 G4 Bb4"), { ...place("right", "Eb"), notation: "letters" })).toBe(">Eb+G+Bb");
  const inSigns = { ...place("right", "Eb"), signs: signStyle(["E♭"]) };
  expect(stackText(pitches("Eb3 G3"), { ...inSigns, notation: "letters" })).toBe("E♭+G");
});

test("no key, or two on one key, has no text", () => {
  expect(stackText([], { ...place("right", "C"), notation: "numbers" })).toBeUndefined();
  expect(stackText(pitches("C4 B#3"), { ...place("right", "C"), notation: "numbers" })).toBeUndefined();
});
