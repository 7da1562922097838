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
    const sounding = thirdsSounding(section);
    for (let start = 0, end = 0; start < chords.length; start = end) {
      const { root } = (chords[start] as ChordEvent).chord;
      while (end < chords.length && chords[end]?.chord.root === root) end++;
      const next = chords[end];
      if (next === undefined) return;
      // From the last one back, so that each suspension knows whether a third comes after it.
      let resolves = false;
      const open: ChordEvent[] = [];
      for (let i = end - 1; i >= start; i--) {
        const sus = chords[i] as ChordEvent;
        resolves ||= hasThird(sus);
        const isNew = i === start || !isSuspended(chords[i - 1] as ChordEvent);
        if (isSuspended(sus) && isNew && !resolves && sus.repeatedBy === undefined) open.unshift(sus);
      }
      for (const sus of open) {
        if (sounding(sus, next.at)) continue;
        const facts = {
          chord: prettyChord(sus.chord),
          third: prettyName(thirdOf(sus)),
          next: prettyChord(next.chord),
        };
        report(sus.span, facts, { row: "chords" });
      }
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

/** Whether a major or minor third of its root sounds while it lasts. The questions must come in order of time. */
function thirdsSounding({ rows }: Section): (sus: ChordEvent, end: Fraction) => boolean {
  const notes = Object.values(rows)
    .flatMap((row) => row.notes)
    .map((note) => ({ at: note.at, until: plus(note.at, note.length), tone: pitchClass(note.pitch.fifths) }))
    .sort((a, b) => compare(a.at, b.at));
  // Of each tone how long it has sounded at the latest, of the notes that have begun.
  const until = new Map<number, Fraction>();
  let begun = 0;
  return ({ at, chord }, end) => {
    for (let it = notes[begun]; it !== undefined && compare(it.at, end) < 0; it = notes[++begun]) {
      const known = until.get(it.tone);
      if (known === undefined || compare(known, it.until) < 0) until.set(it.tone, it.until);
    }
    return [chord.root + 4, chord.root - 3].some((third) => {
      const last = until.get(pitchClass(third));
      return last !== undefined && compare(last, at) > 0;
    });
  };
}
