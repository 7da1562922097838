import type { RootText, RowLine, Slot, ToneName } from "../syntax/tree.js";
import { type Span, shift } from "../text/span.js";

/** A letter in a row, with the octave that makes it exact. Its span counts from the line's start. */
export interface Letter {
  readonly fifths: number;
  readonly octave: number | undefined;
  readonly span: Span;
}

/** Every letter of a row: chords, basses, pitches and `from`. */
export function lettersOf({ from, pickup, bars }: RowLine): readonly Letter[] {
  const letters: Letter[] = from === undefined ? [] : [from.pitch];
  const visit = (slot: Slot): void => {
    if (slot.kind === "group") {
      for (const inner of slot.slots) visit(inner);
      return;
    }
    const { content, span } = slot;
    const root = (it: RootText | undefined): void => {
      if (it?.kind === "letter")
        letters.push({ fifths: it.fifths, octave: undefined, span: shift(it.span, span.start) });
    };
    const tone = (name: ToneName | undefined, where: Span | undefined): void => {
      if (name?.kind !== "pitch" || where === undefined) return;
      letters.push({ fifths: name.fifths, octave: name.octave, span: shift(where, span.start) });
    };
    if (content.kind === "chord") root(content.root);
    if (content.kind === "chord" || content.kind === "bass") root(content.bass);
    if (content.kind === "stack") {
      for (const it of content.tones) {
        tone(it.grace, it.graceSpan);
        tone(it.name, it.nameSpan);
      }
    }
  };
  for (const slot of pickup) visit(slot);
  for (const bar of bars) for (const slot of bar.slots) visit(slot);
  return letters;
}
