import { bareChords } from "../chart/bare-chords.js";
import type { ChordEvent, Section } from "../chart/model.js";
import { prettyChord, toneInChord } from "../theory/chord.js";
import { prettyName } from "../theory/note-name.js";
import { contradicts } from "../theory/quality.js";
import { prettyNumber, type ToneNumber } from "../theory/tone-number.js";
import type { SectionCheck } from "./check.js";
import { numberIn } from "./outside-chord.js";
import { isPassing } from "./passing-tones.js";

/** A chord whose third or seventh, as its symbol promises them, neither the hands nor the bass play while it lasts. */
export const missingGuideTone: SectionCheck<"missing-guide-tone"> = {
  code: "missing-guide-tone",
  run({ section }, report) {
    const told = new Set<number>();
    for (const bare of bareChords(section)) {
      const { chord, span } = bare.event;
      if (told.has(span.start)) continue;
      const missing = bare.missing.filter((n) => !isContradicted(section, bare.events, n));
      if (missing.length === 0) continue;
      told.add(span.start);
      const tones = missing.map((n) => ({
        number: prettyNumber(n),
        note: prettyName(toneInChord(chord, n)),
      }));
      report(span, { chord: prettyChord(chord), tones }, { row: "chords" });
    }
  },
};

/** Another tone stands in its place, and `outside-chord` has told that. */
const isContradicted = (section: Section, events: readonly ChordEvent[], wanted: ToneNumber): boolean =>
  [section.rows.right, section.rows.left].some(({ notes }) =>
    notes.some((note) => {
      if (note.grace || note.chord === undefined || !events.includes(note.chord)) return false;
      const number = numberIn(note, note.chord.chord);
      return (
        number?.number === wanted.number &&
        contradicts(note.chord.chord.quality, number) &&
        !isPassing(note, section)
      );
    }),
  );
