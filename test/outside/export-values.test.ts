// Values that others publish and that our exports must give: standards, handbook tables, and what a standard's words
// make of them. Each judge in export-values/ names its source. They are counted as they are judged: a value is one
// published figure or word, found in one file that our exporters made. What other files here judge comes on top.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { schemaIsMissing, schemaText } from "../support/musicxml-schema.js";
import { root } from "../support/root.js";
import { chordKinds, chordTones } from "./export-values/chord-kinds.js";
import { harteSymbols, hrepSymbols } from "./export-values/chord-symbols.js";
import { numeralsOfKeys, printedChordsOfKeys, scoreChordsOfKeys } from "./export-values/chords-of-keys.js";
import { midiBytes, paperSizes, utf8Titles, xmlEntities } from "./export-values/file-bytes.js";
import {
  midiKeySignatures,
  midiModeSignatures,
  scoreKeySignatures,
  scoreModes,
} from "./export-values/key-signatures.js";
import { kindWordings } from "./export-values/kind-wordings.js";
import { midiMeters, scoreBeats, scoreTempos } from "./export-values/meters.js";
import { noteDurations, noteTypes, swung, tupletValues } from "./export-values/note-values.js";
import type { ExportJudge } from "./export-values/outside-value.js";
import { pianoKeyNumbers, pianoKeyPitches } from "./export-values/piano-keys.js";
import { majorScales, minorScales, signsInScales } from "./export-values/scales.js";
import { clefs, syllables, unicodeSigns } from "./export-values/signs.js";
import { midiTempos, noteTimes } from "./export-values/tempos.js";

const judges: readonly ExportJudge[] = [
  pianoKeyNumbers,
  pianoKeyPitches,
  midiKeySignatures,
  midiModeSignatures,
  scoreKeySignatures,
  scoreModes,
  majorScales,
  minorScales,
  signsInScales,
  scoreChordsOfKeys,
  printedChordsOfKeys,
  numeralsOfKeys,
  chordKinds,
  chordTones,
  hrepSymbols,
  harteSymbols,
  noteTypes,
  noteDurations,
  tupletValues,
  swung,
  midiMeters,
  scoreBeats,
  scoreTempos,
  midiTempos,
  noteTimes,
  midiBytes,
  utf8Titles,
  xmlEntities,
  paperSizes,
  unicodeSigns,
  clefs,
  syllables,
];

describe.each(judges)("$subject ($source)", ({ values }) => {
  test.each(values)("$what: $published", ({ published, given }) => {
    expect(given()).toBe(published);
  });
});

describe("the count", () => {
  const all = judges.flatMap(({ subject, values }) => values.map(({ what }) => `${subject}: ${what}`));

  test("has no value twice, and a source for each", () => {
    expect(all.filter((it, i) => all.indexOf(it) !== i)).toEqual([]);
    for (const { source } of judges) expect(source).not.toBe("");
  });

  test("is 500 at least, and what the developers' page says", () => {
    expect(all.length).toBeGreaterThanOrEqual(500);
    const page = readFileSync(join(root, "DEVELOPERS.md"), "utf8");
    expect(page).toContain(`${all.length.toLocaleString("en")} published figures and words`);
  });
});

// What the judges know of the kinds is what the schema says, word for word.
test.skipIf(schemaIsMissing !== undefined)("the schema says of each kind what the judges read", () => {
  const lines = new Set(
    schemaText()
      .split(/\r?\n/)
      .map((line) => line.trim()),
  );
  const unsaid = [...kindWordings].filter(([kind, wording]) => !lines.has(`${kind} (${wording})`));
  expect(unsaid).toEqual([]);
});
