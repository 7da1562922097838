import { readName, readSigns } from "../theory/note-name.js";
import type { ToneName } from "./tree.js";

/** Accidentals, then digits. */
export const numberText = /^([b♭#♯]*)([0-9]+)$/;
const pitchText = /^([A-G][b♭#♯x]*)([0-9]*)$/;
/** More accidentals than these no chart that was moved can need. */
export const mostAccidentals = 7;

/** `undefined` for a number that no tone has, or an octave beyond any instrument. */
export function readToneName(text: string): ToneName | undefined {
  const counted = numberText.exec(text);
  if (counted !== null) {
    const number = Number(counted[2]);
    const alter = readSigns(counted[1] as string);
    if (alter === undefined || Math.abs(alter) > 2 || (number === 0 && alter !== 0)) return undefined;
    return number <= 11 || number === 13 ? { kind: "number", number, alter } : undefined;
  }
  const named = pitchText.exec(text);
  const fifths = readName(named?.[1] ?? "");
  if (named === null || fifths === undefined || (named[1] as string).length > mostAccidentals + 1)
    return undefined;
  const octave = named[2] as string;
  return octave.length > 1
    ? undefined
    : { kind: "pitch", fifths, octave: octave === "" ? undefined : Number(octave) };
}
