import type { PitchedRow } from "../syntax/tree.js";
import { compare } from "../theory/fraction.js";
import type { Struck } from "./play-row.js";

/** The force of every touch where nobody asks for more, a MIDI velocity (chosen here, no source). */
export const evenLoudness = 80;
/** A little softer or louder: what is heard as a shade and not as an accent (chosen here, no source). */
export const shade = 10;

/** How loud each note of a row is where the hands are balanced. */
export function loudnessOf(row: PitchedRow, notes: readonly Struck[]): (it: Struck) => number {
  if (row !== "right") {
    return ({ note }) =>
      note.hand === "left" ? evenLoudness - shade : row === "lead" ? evenLoudness + shade : evenLoudness;
  }
  const tops = new Set<Struck>();
  let top: Struck | undefined;
  for (const it of notes) {
    if (top !== undefined && compare(it.at, top.at) === 0) {
      if (it.note.pitch.midi > top.note.pitch.midi) top = it;
      continue;
    }
    if (top !== undefined) tops.add(top);
    top = it;
  }
  if (top !== undefined) tops.add(top);
  return (it) => (tops.has(it) ? evenLoudness + shade : evenLoudness);
}
