import type { BarText, Slot } from "../syntax/tree.js";
import { type BarFrame, type Layout, rowIn } from "./layout.js";
import type { Mark, RowEvents, System, SystemRow } from "./model.js";
import { strikes } from "./strikes.js";
import { countSyllables, type Syllable, syllablesOf } from "./syllables.js";

/** A bar of a `words` row, or what stands before its first bar line. */
export interface Verse {
  readonly system: System;
  /** From 1, the `words` rows of the system from above to below. */
  readonly verse: number;
  readonly bar: BarFrame;
  readonly pickup: boolean;
  readonly written: BarText | undefined;
  readonly row: SystemRow;
}

/** What words stand in: a section's systems and bars. */
export type Frame = Pick<Layout, "systems" | "bars">;

/** Every bar of every `words` row that is written, in the order of the text. */
export function* versesOf({ systems, bars }: Frame): Generator<Verse> {
  for (const system of systems) {
    let verse = 0;
    for (const row of system.rows) {
      if (row.row !== "words") continue;
      verse++;
      const first = bars[system.firstBar];
      const { line } = row;
      if (first !== undefined && line.pickup.length > 0)
        yield { system, verse, bar: first, pickup: true, written: undefined, row };
      for (let i = 0; i < line.bars.length; i++) {
        const bar = bars[system.firstBar + i] as BarFrame;
        yield { system, verse, bar, pickup: false, written: line.bars[i], row };
      }
    }
  }
}

/** The words of a verse's bar, or of its pickup. */
export const slotsOf = ({ written, row }: Verse): readonly Slot[] => written?.slots ?? row.line.pickup;
/** Whether they are sung on notes that are written. */
export const hasLead = ({ system }: Verse): boolean => rowIn(system, "lead") !== undefined;

/** Marks where a verse has more syllables than the lead has notes. */
export function countWords(layout: Layout, text: string, lead: RowEvents, marks: Mark[]): void {
  /** How many notes are struck in each bar, and in the pickup before it. */
  let notes: readonly [sung: number[], pickups: number[]] | undefined;
  for (const it of versesOf(layout)) {
    if (!hasLead(it)) continue;
    notes ??= strikesIn(lead);
    const struck = notes[it.pickup ? 1 : 0][it.bar.index] ?? 0;
    if (it.written !== undefined && countSyllables(it.written.words?.text ?? "") <= struck) continue;
    const syllables = syllablesOf(slotsOf(it), text, it.row.start);
    if (syllables.length <= struck) continue;
    const slots = lead.slots.filter(({ bar, pickup }) => bar === it.bar.index && pickup === it.pickup);
    const isJudged = slots.every(({ kind, placed }) =>
      kind === "stack" ? placed?.tones.length !== 0 : kind !== "unread",
    );
    if (!isJudged) continue;
    const span = {
      start: (syllables[struck] as Syllable).span.start,
      end: (syllables[syllables.length - 1] as Syllable).span.end,
    };
    marks.push({ kind: "too-many-words", row: "words", span, words: syllables.length, notes: struck });
  }
}

function strikesIn({ slots }: RowEvents): readonly [sung: number[], pickups: number[]] {
  const sung: number[] = [];
  const pickups: number[] = [];
  for (const slot of slots) {
    if (!strikes(slot)) continue;
    const counts = slot.pickup ? pickups : sung;
    counts[slot.bar] = (counts[slot.bar] ?? 0) + 1;
  }
  return [sung, pickups];
}
