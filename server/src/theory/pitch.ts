import { alterOf, nameOf, pitchClass, plainFifths, prettyName, readName } from "./note-name.js";

/** A named key of the keyboard. `midi` 60 is middle C (C4); B#3 is `{ fifths: 12, midi: 60 }`. */
export interface Pitch {
  readonly fifths: number;
  readonly midi: number;
}

const naturalKey = (fifths: number): number => pitchClass(fifths - 7 * alterOf(fifths));

/** The octave in scientific pitch, where the number changes at the letter C: Cb4 sounds as B3 and is in octave 4. */
export const octaveOf = ({ fifths, midi }: Pitch): number =>
  Math.round((midi - alterOf(fifths) - naturalKey(fifths)) / 12) - 1;

/** The pitch of a name in an octave: C in octave 4 is middle C. */
export const pitchAt = (fifths: number, octave: number): Pitch => ({
  fifths,
  midi: 12 * (octave + 1) + naturalKey(fifths) + alterOf(fifths),
});

/** The strict name in ASCII: `"Eb4"`. */
export const pitchName = (pitch: Pitch): string => nameOf(pitch.fifths) + octaveOf(pitch);

/** The plain name for people, with the octave of that name: `"E♭4"`; B#3 stays B♯3, Dbb4 is C4. */
export const prettyPitch = ({ fifths, midi }: Pitch): string =>
  prettyName(fifths) + octaveOf({ fifths: plainFifths(fifths), midi });

const pitchText = /^(.+?)(-?[0-9]+)$/u;

/** A name with its octave (`"Eb4"`, `"C-1"`), `undefined` for any other text. */
export function readPitch(text: string): Pitch | undefined {
  const found = pitchText.exec(text);
  const fifths = found?.[1] === undefined ? undefined : readName(found[1]);
  return fifths === undefined ? undefined : pitchAt(fifths, Number(found?.[2]));
}

/** A pitch moved by an interval: a minor third up is -3 fifths and 3 half steps. */
export const movePitch = (pitch: Pitch, fifths: number, halfSteps: number): Pitch => ({
  fifths: pitch.fifths + fifths,
  midi: pitch.midi + halfSteps,
});

/** Cycles a second, equal temperament on A4 = 440 Hz (ISO 16:1975). */
export const frequency = (midi: number): number => 440 * 2 ** ((midi - 69) / 12);
