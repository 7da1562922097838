import { isTextRow } from "../syntax/text-row.js";
import type {
  BarLine,
  GroupSlot,
  LeafSlot,
  PitchedRow,
  RowLine,
  Slot,
  StackText,
  Token,
  ToneText,
} from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { type Fraction, minus, plus, times } from "../theory/fraction.js";
import { barLength, beatLength, leavesOf } from "./bar-time.js";
import { chordAt, chordsIn, slotsIn } from "./in-bar.js";
import type { BarPlace, Located, NoteSlot, SlotPlace, SlotSign } from "./located.js";
import { holds, type Place, where } from "./lookup-place.js";
import type { Bar, ChordEvent, Note, SlotEvent, System, SystemRow } from "./model.js";

/** The system of a row line, by halving: they stand in order. */
function systemRowAt(place: Place): { readonly system: System; readonly row: SystemRow } | undefined {
  const { placed, lineStart } = place;
  if (placed === undefined) return undefined;
  const { systems } = placed.section;
  const start = lineStart - placed.offset;
  let low = 0;
  let high = systems.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((systems[middle]?.rows[0]?.start ?? 0) <= start) low = middle;
    else high = middle - 1;
  }
  const system = systems[low];
  const row = system?.rows.find((it) => it.start === start);
  return system === undefined || row === undefined ? undefined : { system, row };
}

/** The bar of a row at a place: that after the bar line on its left; before the first one the pickup. */
export function barAt(place: Place, { bars, from, nameSpan }: RowLine): BarPlace | undefined {
  const { placed, inLine } = place;
  const found = systemRowAt(place);
  if (placed === undefined || found === undefined) return undefined;
  const { system } = found;
  const i = bars.findLastIndex(({ span, open }) => Math.min(span.start, open.span.end) <= inLine);
  if (i < 0 && inLine < (from?.span.end ?? nameSpan.end)) return undefined;
  const bar = placed.section.bars[system.firstBar + Math.max(i, 0)];
  return {
    placed,
    ...found,
    bar: bar?.system === system.index ? bar : undefined,
    text: bars[i],
    pickup: i < 0,
  };
}

export function inRow(place: Place, token: Token, line: RowLine): Located | undefined {
  const { inLine, placed } = place;
  const found = systemRowAt(place);
  if (placed === undefined || found === undefined) return undefined;
  const { system, row } = found;
  const { bars } = line;
  const barOf = (i: number): Bar | undefined =>
    i < 0 || i >= system.endBar - system.firstBar ? undefined : placed.section.bars[system.firstBar + i];
  if (token.kind === "from" || (line.from !== undefined && holds(line.from.span, inLine))) {
    return { kind: "from", ...where(place, line.from?.span ?? token.span), row: line.row, from: line.from };
  }
  for (const [i, { open, close, ending }] of bars.entries()) {
    if (ending !== undefined && holds(ending.span, inLine)) {
      return { kind: "ending", ...where(place, ending.span), ending, bar: barOf(i) };
    }
    const isOpen = isOf(open, inLine);
    if (!isOpen && (close === undefined || !isOf(close, inLine))) continue;
    // A line that closes a bar opens the next one, if there is one.
    const next = isOpen ? i : i + 1;
    const barLine = isOpen ? open : (close as BarLine);
    const [before, after] = [barOf(next - 1), next < bars.length ? barOf(next) : undefined];
    return { kind: "bar-line", ...where(place, withTimes(barLine)), barLine, row, before, after };
  }
  const bar = barAt(place, line);
  if (bar === undefined || token.kind === "unread") return undefined;
  return inSlots(place, token, bar, bar.text?.slots ?? line.pickup);
}

const withTimes = ({ span, timesSpan }: BarLine): Span => ({
  start: span.start,
  end: timesSpan?.end ?? span.end,
});
const isOf = (it: BarLine, at: number): boolean => holds(withTimes(it), at);

function inSlots(place: Place, token: Token, bar: BarPlace, slots: readonly Slot[]): Located | undefined {
  const { inLine } = place;
  let inside = slots;
  let group: GroupSlot | undefined;
  for (;;) {
    const slot = inside.find(({ span }) => holds(span, inLine));
    if (slot?.kind === "group") {
      group = slot;
      inside = slot.slots;
      continue;
    }
    if (slot !== undefined) return inLeaf(place, bar, slot);
    const isText = isTextRow(bar.row.row);
    if (group === undefined && (token.kind !== "groupClose" || isText)) return undefined;
    return { kind: "group", ...where(place, token.span), ...bar, group };
  }
}

function inLeaf(place: Place, bar: BarPlace, slot: LeafSlot): Located | undefined {
  const { row } = bar.row;
  const { content } = slot;
  if (row === "words") return syllableAt(place, bar, slot);
  if (row === "cue") return cueAt(place, bar);
  if (content.kind === "unread" || content.kind === "word") return undefined;
  const timed: SlotPlace = { ...bar, slot, ...timeOf(bar, slot) };
  const here = where(place, slot.span);
  const inSection = shift(slot.span, bar.row.start);
  if (row === "chords") {
    if (content.kind === "stack") return undefined;
    const own = chordsOfBar(bar);
    if (content.kind === "chord" || content.kind === "bass") {
      const event = own.find((it) => it.repeatedBy === undefined && it.span.start === inSection.start);
      return { kind: "chord", ...here, ...timed, chord: content, event };
    }
    const sign = signOf(content.kind, sliceOf(place.line.text, slot.span));
    const before = chordAt(bar.placed, bar.bar, timed.at);
    const events =
      sign === "%"
        ? own.filter(({ repeatedBy }) => repeatedBy?.start === inSection.start)
        : before === undefined
          ? []
          : [before.event];
    return { kind: "chord-sign", ...here, ...timed, sign, events };
  }
  const events = slotsOfBar(bar, row);
  const isHere = ({ written, repeatedBy }: SlotEvent): boolean =>
    written.start === inSection.start && (repeatedBy === undefined || repeatedBy.start === written.start);
  if (content.kind === "stack") {
    const event = events.find(isHere);
    return inStack(place, { ...timed, event }, content);
  }
  if (content.kind === "chord" || content.kind === "bass") return undefined;
  const sign = signOf(content.kind, sliceOf(place.line.text, slot.span));
  const played =
    sign === "%"
      ? events.filter(({ repeatedBy }) => repeatedBy?.start === inSection.start)
      : events.filter(isHere).slice(0, 1);
  return { kind: "note-sign", ...here, ...timed, event: played[0], sign, events: played };
}

function signOf(kind: "hold" | "again" | "sameBar" | "rest" | "noChord", text: string): SlotSign {
  if (kind === "hold") return text.startsWith("/") ? "/" : "-";
  if (kind === "again") return "=";
  if (kind === "sameBar") return "%";
  return kind === "noChord" || text === "NC" ? "NC" : "r";
}

function inStack(place: Place, slot: NoteSlot, stack: StackText): Located {
  const start = slot.slot.span.start;
  const inSlot = place.inLine - start;
  const tone = stack.tones.find(({ span }) => holds(span, inSlot));
  if (tone === undefined) return { kind: "stack", ...where(place, slot.slot.span), ...slot, stack };
  const isGrace = tone.graceSpan !== undefined && holds(tone.graceSpan, inSlot);
  const span = shift(isGrace ? (tone.graceSpan as Span) : tone.span, start);
  const note = noteOf(slot, tone, isGrace);
  return { kind: isGrace ? "grace" : "tone", ...where(place, span), ...slot, stack, tone, note };
}

/** The note of a tone: struck by it, or held by it from before. */
function noteOf({ event, slot, row }: NoteSlot, tone: ToneText, grace: boolean): Note | undefined {
  const struck = event?.struck.find((it) => it.tone === tone && it.grace === grace);
  if (struck !== undefined || grace) return struck;
  const start = tone.span.start + slot.span.start + row.start;
  return event?.held.find(({ heldBy }) => heldBy.some(({ span }) => span.start === start));
}

function timeOf(
  { bar, text, pickup, system, row }: BarPlace,
  slot: LeafSlot,
): { readonly at: Fraction | undefined; readonly length: Fraction | undefined } {
  const unknown = { at: undefined, length: undefined };
  const { pickup: slots } = row.line;
  if (bar === undefined && !pickup) return unknown;
  const length = pickup ? times(beatLength(system.meter), slots.length) : barLength(system.meter);
  const leaf = leavesOf(text?.slots ?? slots, length)?.find(({ span }) => span.start === slot.span.start);
  if (leaf === undefined) return unknown;
  const from = bar === undefined ? undefined : pickup ? minus(bar.at, length) : bar.at;
  return { at: from && plus(from, leaf.at), length: leaf.length };
}

const slotsOfBar = ({ placed, bar, system, pickup }: BarPlace, row: PitchedRow): SlotEvent[] =>
  slotsIn(placed, row, bar?.index ?? system.firstBar, pickup);

const chordsOfBar = ({ placed, bar, system, pickup }: BarPlace): ChordEvent[] =>
  chordsIn(placed, bar?.index ?? system.firstBar, pickup);

function syllableAt(place: Place, bar: BarPlace, slot: LeafSlot): Located {
  const at = place.inLine + bar.row.start;
  const words = bar.bar?.words ?? [];
  const verse = bar.system.rows.filter(({ row }) => row === "words").indexOf(bar.row) + 1;
  const own = words.filter((it) => it.verse === verse);
  // A `_` or `-` belongs to the syllable before it; any other text without a word is sung by nobody.
  const runsOn = "_-".includes(place.line.text[place.inLine] ?? " ");
  const word =
    own.find(({ span }) => holds(span, at)) ??
    (runsOn ? own.findLast(({ span }) => span.start <= at) : undefined);
  const span = word === undefined ? slot.span : shift(word.span, -bar.row.start);
  return { kind: "syllable", ...where(place, holds(span, place.inLine) ? span : slot.span), ...bar, word };
}

function cueAt(place: Place, bar: BarPlace): Located {
  const slots = bar.text?.slots ?? bar.row.line.pickup;
  const span = { start: slots[0]?.span.start ?? place.inLine, end: slots.at(-1)?.span.end ?? place.inLine };
  return { kind: "cue", ...where(place, span), ...bar, cue: sliceOf(place.line.text, span) };
}
