import type { Note, SlotEvent } from "../chart/model.js";
import { sliceOf } from "../text/span.js";
import { isEqual } from "../theory/fraction.js";
import { movedExactly, signsFor } from "./octave-in-text.js";

/** A tone as it is written in a slot, and the key that it sounds there. */
export interface WrittenTone {
  readonly note: Note;
  /** With its signs, without those of its stack. */
  readonly text: string;
  readonly midi: number;
  /** Held from before by a `_`, so that it can't go elsewhere. */
  readonly isHeld: boolean;
}

/** The tones of a slot as they are written, in their order; `undefined` where one of them has no key. */
export function writtenTones(slot: SlotEvent, text: string): readonly WrittenTone[] | undefined {
  const tones = [
    ...slot.struck.filter(({ grace }) => !grace).map((note) => ({ note, span: note.span, isHeld: false })),
    ...slot.held.map((note) => ({
      note,
      span: note.heldBy.find(({ at }) => isEqual(at, slot.at))?.span ?? slot.span,
      isHeld: true,
    })),
  ];
  if (tones.length !== sliceOf(text, slot.span).split("+").length) return undefined;
  const isAgain = slot.written.start !== slot.span.start;
  return tones
    .sort((a, b) => a.span.start - b.span.start)
    .map(({ note, span, isHeld }) => {
      const written = sliceOf(text, span);
      return { note, text: isAgain ? written.replace("_", "") : written, midi: note.pitch.midi, isHeld };
    });
}

/**
 * The text of a slot with other tones, or its tones on other keys: each octave sign as it must be there. `undefined`
 * where a text can't say that.
 */
export function restacked(slot: SlotEvent, tones: readonly WrittenTone[], text: string): string | undefined {
  const [before = ""] = /^[!~]*/.exec(sliceOf(text, slot.span)) ?? [];
  const written: string[] = [];
  let below: number | undefined;
  for (const { note, text: tone, midi } of [...tones].sort((a, b) => a.midi - b.midi)) {
    // No two tones stand on one key.
    if (midi === below) return undefined;
    const exact = movedExactly(tone, (midi - note.pitch.midi) / 12);
    const octaves =
      below === undefined
        ? Math.floor((midi - slot.home) / 12) - slot.groupOctaves
        : Math.floor((midi - below - 1) / 12);
    written.push(exact ?? withSigns(tone, octaves));
    below = midi;
  }
  return written.length === 0 ? undefined : before + written.join("+");
}

/** Octave signs stand behind what is held and what it slips from, before all else: `4~>5`, `_<k1`. */
const withSigns = (tone: string, octaves: number): string =>
  tone.replace(/^((?:.*~)?_?)[<>]*/u, (_, before: string) => before + signsFor(octaves));
