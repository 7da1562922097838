import { barLength } from "../chart/bar-time.js";
import { pickupLength } from "../chart/layout.js";
import type { Meter, Section } from "../chart/model.js";
import { isTextRow } from "../syntax/text-row.js";
import type { BarText, RowLine, RowName, Slot } from "../syntax/tree.js";
import { type Span, shift } from "../text/span.js";
import type { Fraction } from "../theory/fraction.js";

/** The slots of one bar of one row, or of its pickup. */
export interface RowBar {
  readonly row: RowName;
  /** Its index in the section; of a pickup that of the bar after it. */
  readonly bar: number;
  /** At least one. Their spans count from the line's start. */
  readonly slots: readonly Slot[];
  readonly length: Fraction;
  readonly meter: Meter;
  readonly pickup: boolean;
  /** Where it starts: after its bar line, of a pickup with its first slot. */
  readonly start: number;
  readonly lineStart: number;
}

/**
 * Every bar and pickup with slots that share its time, as written: those of the chords and of all rows of tones, in the
 * lines that are of concern.
 */
export function rowBars(
  section: Section,
  isOfConcern: (line: RowLine, meter: Meter) => boolean,
): readonly RowBar[] {
  const found: RowBar[] = [];
  for (const { rows, meter, firstBar } of section.systems) {
    const length = barLength(meter);
    for (const { row, line, start: lineStart } of rows) {
      if (isTextRow(row) || !isOfConcern(line, meter)) continue;
      const { pickup, bars } = line;
      if (pickup.length > 0) {
        const start = lineStart + (pickup[0] as Slot).span.start;
        const length = pickupLength(line, meter);
        found.push({ row, bar: firstBar, slots: pickup, length, meter, pickup: true, start, lineStart });
      }
      for (let i = 0; i < bars.length; i++) {
        const { slots, span } = bars[i] as BarText;
        if (slots.length === 0) continue;
        const start = lineStart + span.start;
        found.push({ row, bar: firstBar + i, slots, length, meter, pickup: false, start, lineStart });
      }
    }
  }
  return found;
}

/** From the first of some slots to the last. Counts from where `lineStart` does. */
export const spanOfSlots = (slots: readonly Slot[], lineStart: number): Span =>
  shift({ start: (slots[0] as Slot).span.start, end: (slots[slots.length - 1] as Slot).span.end }, lineStart);

/** Whether something among them, at any depth, can't be read, so that nobody knows how many there are. */
export const hasUnread = (slots: readonly Slot[]): boolean =>
  slots.some((slot) => (slot.kind === "group" ? hasUnread(slot.slots) : slot.content.kind === "unread"));

/** What keeps the one before sounding, as it is written in this row. */
export const holdSign = (row: RowName): "-" | "/" => (row === "chords" ? "/" : "-");
