import type { ChordEvent, Section } from "../chart/model.js";
import { prettyChord } from "../theory/chord.js";
import { compare, type Fraction, plus } from "../theory/fraction.js";
import { degreeInKey, triadOn } from "../theory/key.js";
import { pitchClass, prettyName } from "../theory/note-name.js";
import type { SectionCheck } from "./check.js";

/** A suspension whose third comes neither in a chord nor in a hand before its root moves on. */
export const openSus: SectionCheck<"open-sus"> = {
  code: "open-sus",
  run({ section }, report) {
    const { chords } = section;
    for (let i = 0; i < chords.length; i++) {
      const sus = chords[i] as ChordEvent;
      const isNew =
        i === 0 || !isSuspended(chords[i - 1] as ChordEvent) || chords[i - 1]?.chord.root !== sus.chord.root;
      if (!isSuspended(sus) || !isNew || sus.repeatedBy !== undefined) continue;
      let end = i + 1;
      while (end < chords.length && chords[end]?.chord.root === sus.chord.root) end++;
      const next = chords[end];
      const stays = chords.slice(i, end);
      if (next === undefined || stays.some(hasThird) || thirdSounds(section, sus, next.at)) continue;
      const facts = {
        chord: prettyChord(sus.chord),
        third: prettyName(thirdOf(sus)),
        next: prettyChord(next.chord),
      };
      report(sus.span, facts, { row: "chords" });
    }
  },
};

const isSuspended = ({ chord: { quality } }: ChordEvent): boolean =>
  quality.tones.some(({ number }) => number === 4) && !quality.tones.some(({ number }) => number === 3);

const hasThird = ({ chord: { quality } }: ChordEvent): boolean =>
  quality.tones.some(({ number }) => number === 3);

/** The third that it holds back: a dominant's is major, another chord's is the key's. */
function thirdOf({ chord: { root, quality }, key }: ChordEvent): number {
  const degree = degreeInKey(key, root);
  const isMinor =
    !quality.tones.some(({ number }) => number === 7) && triadOn(key, degree.number).third === "minor";
  return root + (isMinor ? -3 : 4);
}

/** Whether a major or minor third of its root is struck while it lasts. */
function thirdSounds({ rows }: Section, { at, chord }: ChordEvent, end: Fraction): boolean {
  const thirds = [pitchClass(chord.root + 4), pitchClass(chord.root - 3)];
  return Object.values(rows).some(({ notes }) =>
    notes.some(
      (note) =>
        thirds.includes(pitchClass(note.pitch.fifths)) &&
        compare(note.at, end) < 0 &&
        compare(plus(note.at, note.length), at) > 0,
    ),
  );
}
