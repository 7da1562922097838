import type { Note, Section } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import { compare, type Fraction, plus } from "../theory/fraction.js";

/** A key that a hand holds at a moment. */
export interface HeldNote {
  readonly note: Note;
  readonly hand: Hand;
  /** It was struck before. */
  readonly isHeldOver: boolean;
}

const hands: readonly Hand[] = ["left", "right"];

/** What both hands hold at a time of a section, from the lowest key up; times count from its first bar line. */
export function heldAt(section: Section): (time: Fraction) => readonly HeldNote[] {
  // In order of their starts; long notes are few, so the ends are looked at one by one.
  const all = hands.map((hand) =>
    section.rows[hand].notes.filter(({ grace }) => !grace).sort((a, b) => compare(a.at, b.at)),
  );
  const ends = new Map(all.flat().map((note) => [note, plus(note.at, note.length)]));
  return (time) =>
    all
      .flatMap((notes, i) =>
        notes
          .filter((note) => compare(note.at, time) <= 0 && compare(ends.get(note) as Fraction, time) > 0)
          .map((note) => ({ note, hand: hands[i] as Hand, isHeldOver: compare(note.at, time) < 0 })),
      )
      .sort((a, b) => a.note.pitch.midi - b.note.pitch.midi);
}
