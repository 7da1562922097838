import { homeOctave } from "../chart/home-octave.js";
import type { PlacedSection, System } from "../chart/model.js";
import type { PitchedRow } from "../syntax/tree.js";
import { pitchAt } from "../theory/pitch.js";

/** Where a row is at home in a system. */
export interface RowHome {
  /** A MIDI number. */
  readonly lowest: number;
  /** It is said by a `from`, not by the key. */
  readonly isSaid: boolean;
}

/** The home octave of a row whose line starts at `start`, counted from the section's start. */
export function rowHome(
  { section: { systems } }: PlacedSection,
  system: System,
  row: PitchedRow,
  start: number,
): RowHome {
  const from = systems
    .slice(0, system.index + 1)
    .flatMap(({ rows }) => rows.filter((it) => it.row === row && it.start <= start))
    .findLast(({ line }) => line.from?.pitch.octave !== undefined)?.line.from?.pitch;
  if (from?.octave === undefined) return { lowest: homeOctave(row, system.home.one), isSaid: false };
  return { lowest: pitchAt(from.fifths, from.octave).midi, isSaid: true };
}
