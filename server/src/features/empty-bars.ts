import { rowIn } from "../chart/layout.js";
import type { PlacedSection, System } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";

/** How many bars under chords a hand leaves empty in a section; bars of systems without its row are among them. */
export const emptyBars = ({ section: { systems } }: PlacedSection, hand: Hand): number =>
  systems.reduce((sum, system) => sum + emptyIn(system, hand), 0);

function emptyIn(system: System, hand: Hand): number {
  if (system.unread || rowIn(system, "chords") === undefined) return 0;
  const row = rowIn(system, hand);
  if (row === undefined) return system.endBar - system.firstBar;
  return row.line.bars.filter(({ slots }) => slots.length === 0).length;
}
