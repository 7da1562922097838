import { rowIn } from "../chart/layout.js";
import type { PlacedSection, SlotEvent, System } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import type { LeafSlot, Slot } from "../syntax/tree.js";
import { type Span, shift } from "../text/span.js";
import { asWritten, type Choice } from "./hand-line.js";

/**
 * Which slots are voiced: what is `empty`, `all`, or what a span of the chart chooses: the slots that it covers and the
 * empty bars that it touches; an empty span touches its whole system.
 */
export type Which = "empty" | "all" | Span;

/** Whether a bar that is written, or the pickup into it, is left as it is whatever is chosen. */
export type Stays = (bar: number, pickup: boolean) => boolean;

/** What is to be found of one hand in a section, whose style may follow the melody note by note. */
export function choiceFor(
  placed: PlacedSection,
  hand: Hand,
  which: Which,
  followsMelody: boolean,
  stays: Stays,
): Choice {
  const { section, offset } = placed;
  const span = typeof which === "string" ? undefined : shift(which, -offset);
  if (span !== undefined && (span.end < 0 || span.start > section.source.text.length)) return asWritten;
  const slots = section.rows[hand].slots;
  const chosen = new Set<number>();
  if (span !== undefined)
    for (const slot of slots)
      if (!isInRepeatedBar(slot) && overlaps(span, slot.written)) chosen.add(slot.span.start);
  const isChosen = (slot: SlotEvent): boolean => chosen.has(slot.span.start);
  /** Bars that `%` repeats along with what is chosen in them. */
  const along = new Set(
    slots.filter((slot) => isInRepeatedBar(slot) && isChosen(slot)).map(({ bar }) => bar),
  );

  const sungIn = (system: System): number =>
    followsMelody ? (rowIn(system, "lead")?.line.pickup.length ?? 0) : 0;
  /** Whether a bar, or a pickup, has chords to be voiced and may be written anew. */
  const mayChange = (bar: number, pickup: boolean): boolean => {
    const system = section.systems[section.bars[bar]?.system ?? -1];
    const chords = system && rowIn(system, "chords");
    if (system === undefined || chords === undefined || system.unread || stays(bar, pickup)) return false;
    return !pickup || chords.line.pickup.length + sungIn(system) > 0;
  };
  const kept = keptFor(placed, hand, (bar, pickup) => which === "all" && mayChange(bar, pickup));
  const whole = (bar: number, pickup: boolean): boolean => {
    const system = section.systems[section.bars[bar]?.system ?? -1];
    if (system === undefined || !mayChange(bar, pickup) || kept.systems.has(system.index)) return false;
    const row = rowIn(system, hand);
    if (pickup) {
      if (row !== undefined && which !== "all") return false;
      return which === "all" || span === undefined || isTouched(system, bar, span);
    }
    const own = row?.line.bars[bar - system.firstBar];
    if ((row !== undefined && own === undefined) || kept.bars.has(bar)) return false;
    if (which === "all") return true;
    if (row === undefined) return span === undefined || isTouched(system, bar, span);
    const content = own?.slots ?? [];
    if (content.length === 0) {
      return span === undefined || isTouched(system, bar, span);
    }
    const [only] = content;
    const isCovered = span !== undefined && only !== undefined && overlaps(span, shift(only.span, row.start));
    return isSameBar(content) && (along.has(bar) || isCovered);
  };
  const isOpen = (slot: SlotEvent): boolean => !isInRepeatedBar(slot) && isChosen(slot);
  return { whole, slot: isOpen, followsMelody, strikesAnew: () => false };
}

/** Bars that stay as they are, and systems that get no row. */
interface Kept {
  readonly bars: ReadonlySet<number>;
  readonly systems: ReadonlySet<number>;
}

/**
 * What stays since a written bar or pickup of the row goes on with it (`-`) or repeats it (`%`): filling the one would
 * change how the other sounds. What is written anew itself doesn't count.
 */
function keptFor(
  { section: { systems, bars } }: PlacedSection,
  row: Hand,
  isAnew: (bar: number, pickup: boolean) => boolean,
): Kept {
  const kept = { bars: new Set<number>(), systems: new Set<number>() };
  const systemOf = (bar: number): System => systems[bars[bar]?.system ?? 0] as System;
  // What stays since a later bar depends on it may depend on an earlier one.
  for (const { index, repeat } of [...bars].reverse()) {
    const system = systemOf(index);
    const line = rowIn(system, row)?.line;
    if (index === system.firstBar && goesOn(line?.pickup ?? []) && !isAnew(index, true))
      kept.bars.add(index - 1);
    const slots = line?.bars[index - system.firstBar]?.slots ?? [];
    const isSame = isSameBar(slots);
    if ((!isSame && !goesOn(slots)) || (isAnew(index, false) && !kept.bars.has(index))) continue;
    let before = index - 1;
    if (repeat.ending === 2) {
      while (before > 0 && bars[before]?.repeat.ending !== 1) before--;
      before--;
    }
    // A row that is missing from a system says nothing that could be repeated.
    for (; isSame && before >= 0 && rowIn(systemOf(before), row) === undefined; before--)
      kept.systems.add(systemOf(before).index);
    if (before >= 0) kept.bars.add(before);
  }
  return kept;
}

const goesOn = (slots: readonly Slot[]): boolean => firstLeaf(slots)?.content.kind === "hold";

function firstLeaf([first]: readonly Slot[]): LeafSlot | undefined {
  return first?.kind === "group" ? firstLeaf(first.slots) : first;
}

/** Whether a slot stands in a bar that `%` repeats. */
export const isInRepeatedBar = ({ repeatedBy, written }: SlotEvent): boolean =>
  repeatedBy !== undefined && repeatedBy.start !== written.start;

const isSameBar = ([only, second]: readonly Slot[]): boolean =>
  second === undefined && only?.kind === "leaf" && only.content.kind === "sameBar";

/** Whether a span touches a bar in any row of its system; an empty one, as a cursor is, touches all bars. */
function isTouched({ rows, firstBar }: System, bar: number, span: Span): boolean {
  return rows.some(({ line, start }) => {
    if (span.start === span.end) {
      const end = line.bars.at(-1)?.span.end ?? line.nameSpan.end;
      return start <= span.start && span.start <= start + end + 1;
    }
    const there = line.bars[bar - firstBar];
    return there !== undefined && overlaps(span, shift(there.span, start));
  });
}

/** Whether two spans share a character. */
const overlaps = (a: Span, b: Span): boolean => a.start < b.end && b.start < a.end;
