import type { Section, SlotEvent } from "../chart/model.js";
import { barAround } from "../edits/bar-around.js";
import type { Edit } from "../text/edits.js";
import { applyEdits } from "../text/edits.js";
import { type Span, sliceOf } from "../text/span.js";

const known = new WeakMap<readonly SlotEvent[], ReadonlyMap<number, readonly SlotEvent[]>>();

/** Every time that the text of a slot sounds: itself, by `=` and by `%`. */
export function timesOf({ rows }: Section, slot: SlotEvent): readonly SlotEvent[] {
  const { slots } = rows[slot.row];
  let times = known.get(slots);
  if (times === undefined) {
    times = repeatedIn(slots);
    known.set(slots, times);
  }
  return times.get(slot.span.start) ?? (slot.kind === "stack" ? [slot] : []);
}

/** The stacks of a row that sound more than once, by where their text starts: few do. */
function repeatedIn(slots: readonly SlotEvent[]): ReadonlyMap<number, readonly SlotEvent[]> {
  const found = new Map<number, SlotEvent[]>();
  const stacks = slots.filter(({ kind }) => kind === "stack");
  for (const slot of stacks) if (slot.repeatedBy !== undefined) found.set(slot.span.start, []);
  if (found.size > 0) for (const slot of stacks) found.get(slot.span.start)?.push(slot);
  return found;
}

/**
 * The edits that give the text of a slot at each time that it sounds what is wanted there; a `=` or `%` that would
 * repeat something else is written out. `undefined` where that can't be done.
 */
export function writtenOut(
  section: Section,
  slot: SlotEvent,
  wanted: (time: SlotEvent) => string,
): readonly Edit[] | undefined {
  const { text } = section.source;
  const old = sliceOf(text, slot.span);
  const bars = new Map<Span | undefined, SlotEvent[]>();
  for (const time of timesOf(section, slot)) {
    const by = time.repeatedBy?.start === time.written.start ? undefined : time.repeatedBy;
    const there = bars.get(by);
    if (there === undefined) bars.set(by, [time]);
    else there.push(time);
  }
  let before: readonly Edit[] | undefined;
  const edits: Edit[] = [];
  for (const [by, times] of bars) {
    const changes = changesIn(times, old, wanted);
    if (by === undefined) edits.push(...changes.map((it) => narrowed(it, text)));
    else if (!areAlike(changes, before ?? [])) {
      // Which bar a % goes back to hangs on the ending that it stands in.
      if (section.bars.some(({ repeat }) => repeat.ending !== undefined)) return undefined;
      const around = barAround(section, slot.row, slot.span);
      const [first, last] = [around?.bar.slots[0], around?.bar.slots.at(-1)];
      if (around === undefined || first === undefined || last === undefined) return undefined;
      const from = first.span.start + around.start;
      const inBar = changes.map((it) => ({
        span: { start: it.span.start - from, end: it.span.end - from },
        text: it.text,
      }));
      edits.push({ span: by, text: applyEdits(text.slice(from, last.span.end + around.start), inBar) });
    }
    before = changes;
  }
  return edits;
}

/** The same for several slots, each written as `stacks` says; what it doesn't name stays. */
export function allWrittenOut(
  section: Section,
  stacks: ReadonlyMap<SlotEvent, string>,
): readonly Edit[] | undefined {
  const edits: Edit[] = [];
  const done = new Set<SlotEvent>();
  for (const slot of stacks.keys()) {
    if (done.has(slot)) continue;
    for (const time of timesOf(section, slot)) done.add(time);
    const old = sliceOf(section.source.text, slot.span);
    const there = writtenOut(section, slot, (time) => stacks.get(time) ?? old);
    if (there === undefined) return undefined;
    edits.push(...there);
  }
  return edits;
}

/** What changes in one bar: the slot, and each `=` that would not repeat what is wanted there. */
function changesIn(
  times: readonly SlotEvent[],
  old: string,
  wanted: (time: SlotEvent) => string,
): readonly Edit[] {
  const edits: Edit[] = [];
  let now = old;
  for (const time of times) {
    const text = wanted(time);
    const isAgain = time.written.start !== time.span.start;
    // A = strikes what is held in the slot that it repeats.
    if (isAgain ? struck(text) === struck(now) : text === old) continue;
    edits.push({ span: time.written, text: isAgain ? struck(text) : text });
    now = text;
  }
  return edits;
}

const struck = (text: string): string => text.replaceAll("_", "");

const areAlike = (some: readonly Edit[], others: readonly Edit[]): boolean =>
  some.length === others.length &&
  some.every(({ span, text }, i) => span.start === others[i]?.span.start && text === others[i]?.text);

/** An edit of what differs alone. */
function narrowed({ span, text: now }: Edit, text: string): Edit {
  const old = sliceOf(text, span);
  const most = Math.min(old.length, now.length);
  let head = 0;
  while (head < most && old[head] === now[head]) head++;
  let tail = 0;
  while (tail < most - head && old[old.length - 1 - tail] === now[now.length - 1 - tail]) tail++;
  return {
    span: { start: span.start + head, end: span.end - tail },
    text: now.slice(head, now.length - tail),
  };
}
