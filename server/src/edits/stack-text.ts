import type { PitchedRow } from "../syntax/tree.js";
import type { Chord } from "../theory/chord.js";
import type { Key } from "../theory/key.js";
import type { Pitch } from "../theory/pitch.js";
import { signsFor } from "./octave-in-text.js";
import { type SignStyle, writtenName } from "./written-name.js";
import { type Notation, numberInRow } from "./written-tone.js";

/** What the text of a stack is written by: what `placeStack` reads it by. */
export interface StackPlace {
  readonly row: PitchedRow;
  readonly key: Key;
  /** The chord that numbers count from; `undefined` where none sounds. */
  readonly chord: Chord | undefined;
  /** The lowest key of the row's home octave, a MIDI number. */
  readonly home: number;
  /** The sum of the octave signs of the groups around the slot. */
  readonly groupOctaves: number;
  readonly notation: Notation;
  readonly signs: SignStyle;
}

/**
 * The text of a stack that sounds these keys (each once) under these names; `undefined` for no key at all or
 * for two on one key. It is what reading a stack undoes.
 */
export function stackText(pitches: readonly Pitch[], place: StackPlace): string | undefined {
  const tones: string[] = [];
  let below: number | undefined;
  for (const pitch of [...pitches].sort((a, b) => a.midi - b.midi)) {
    if (pitch.midi === below) return undefined;
    const from = below === undefined ? place.home + 12 * place.groupOctaves : below + 1;
    tones.push(
      signsFor(Math.floor((pitch.midi - from) / 12)) + nameOfTone(pitch, below === undefined, place),
    );
    below = pitch.midi;
  }
  return tones.length === 0 ? undefined : tones.join("+");
}

function nameOfTone({ fifths }: Pitch, isLowest: boolean, place: StackPlace): string {
  const { row, key, chord, notation, signs } = place;
  if (notation === "letters") return writtenName(fifths, signs);
  // The bass after the slash is played by its sign, whatever its number would be.
  if (isLowest && row === "left" && chord?.bass === fifths && fifths !== chord.root) return "0";
  const number = numberInRow(fifths, { row, key, chord });
  return number === undefined ? writtenName(fifths, signs) : number.counts + number.text;
}
