import type {
  BarLine,
  BarText,
  BassText,
  ChordText,
  EndingText,
  FormItem,
  FromText,
  GroupSlot,
  KeyLine,
  LeafSlot,
  Line,
  MoveText,
  PitchedRow,
  RowLine,
  RowName,
  Slot,
  StackText,
  Statement,
  Token,
  ToneText,
  Tree,
} from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { type Fraction, minus, plus, times } from "../theory/fraction.js";
import { barLength, beatLength, leavesOf } from "./bar-time.js";
import { type InForce, inForceAt } from "./in-force.js";
import type {
  Bar,
  Chart,
  ChordEvent,
  Lands,
  Moved,
  Note,
  PlacedSection,
  SlotEvent,
  System,
  SystemRow,
  Used,
  Word,
} from "./model.js";
import { movedBy } from "./moves.js";
import type { Outline } from "./outline.js";

/** What a place is looked up in: a document is one. */
export interface Charted {
  readonly text: string;
  readonly tree: Tree;
  readonly outline: Outline;
  readonly chart: Chart;
}

/** Where something stands. Spans count from the text's start, unless an object of the tree or a section holds them. */
export interface Where {
  /** What is located, from the text's start; empty where nothing stands. */
  readonly span: Span;
  /** The index of its line, the line, and where it starts in the text. */
  readonly lineIndex: number;
  readonly line: Line;
  readonly lineStart: number;
  /** The section that the line is of; `undefined` in the header. Its own spans count from `placed.offset`. */
  readonly placed: PlacedSection | undefined;
}

/** A bar of a row, or its pickup. */
export interface BarPlace {
  readonly placed: PlacedSection;
  readonly system: System;
  readonly row: SystemRow;
  /** Of a pickup the bar that it leads into; `undefined` where no system has any bar. */
  readonly bar: Bar | undefined;
  /** `undefined` for a pickup. */
  readonly text: BarText | undefined;
  readonly pickup: boolean;
}

/** A slot of a bar with its time. */
export interface SlotPlace extends BarPlace {
  readonly slot: LeafSlot;
  /** From the section's first bar line, in whole notes; `undefined` where the bar's slots are too short to count. */
  readonly at: Fraction | undefined;
  readonly length: Fraction | undefined;
}

/** A slot of a pitched row. */
export interface NoteSlot extends SlotPlace {
  /** What it sounds; `undefined` where its bar can't be counted. */
  readonly event: SlotEvent | undefined;
}

/** Everything that can stand at a place of a chart. */
export type Located =
  /** White space, or a place between the parts of a line; `in` the bar, where it stands in a row. */
  | (Where & { readonly kind: "nothing"; readonly in: BarPlace | undefined })
  | (Where & { readonly kind: "comment" })
  /** The first word of a line: `key`, `section`, `right`. */
  | (Where & { readonly kind: "word"; readonly statement: Statement; readonly text: string })
  /** What `title`, `by` or `note` says. */
  | (Where & { readonly kind: "text"; readonly word: "title" | "by" | "note"; readonly text: string })
  /** The key of a key line, with what holds after it. `counts` is false where an earlier line of the header wins. */
  | (Where & {
      readonly kind: "key" | "original";
      readonly keyLine: KeyLine;
      readonly inForce: InForce;
      readonly counts: boolean;
    })
  | (Where & { readonly kind: "time"; readonly meter: { readonly beats: number; readonly unit: number } })
  | (Where & { readonly kind: "tempo"; readonly tempo: number; readonly inForce: InForce })
  | (Where & { readonly kind: "feel"; readonly feel: "straight" | "swing" | "shuffle" })
  | (Where & {
      readonly kind: "reach";
      readonly left: number | undefined;
      readonly right: number | undefined;
    })
  | (Where & { readonly kind: "lands"; readonly lands: Lands; readonly inForce: InForce })
  /** A section's name where it opens. */
  | (Where & { readonly kind: "section"; readonly placed: PlacedSection; readonly name: string })
  /** A section's name in `form` or `play`. */
  | (Where & Played & { readonly kind: "section-use" })
  /** `in Eb`, `up half`. */
  | (Where & Played & { readonly kind: "move"; readonly move: MoveText })
  /** `x2` after a name. */
  | (Where & Played & { readonly kind: "times" })
  /** A path of a `use` line. */
  | (Where & { readonly kind: "use"; readonly used: Used | undefined; readonly path: string })
  /** `from C3` after a row's name. */
  | (Where & { readonly kind: "from"; readonly row: RowName; readonly from: FromText | undefined })
  /** A bar line, `|:`, `:|`, or the `x3` after it. `before` is the bar that it closes, `after` the one that it opens. */
  | (Where & {
      readonly kind: "bar-line";
      readonly barLine: BarLine;
      readonly row: SystemRow;
      readonly before: Bar | undefined;
      readonly after: Bar | undefined;
    })
  /** `1.` or `2.` */
  | (Where & { readonly kind: "ending"; readonly ending: EndingText; readonly bar: Bar | undefined })
  /** `(`, `)`, and the signs before a group. */
  | (Where & BarPlace & { readonly kind: "group"; readonly group: GroupSlot | undefined })
  | (Where &
      SlotPlace & {
        readonly kind: "chord";
        readonly chord: ChordText | BassText;
        /** `undefined` where it can't be resolved: a bass alone with nothing before it. */
        readonly event: ChordEvent | undefined;
      })
  /** A sign that is a slot in the chord row: `/`, `-`, `%`, `r`, `NC`, `=`. */
  | (Where &
      SlotPlace & {
        readonly kind: "chord-sign";
        readonly sign: SlotSign;
        /** What `%` strikes anew; elsewhere the chord that sounds, or that numbers go on counting from. */
        readonly events: readonly ChordEvent[];
      })
  /** A tone of a stack, without its neighbours. */
  | (Where &
      NoteSlot & {
        readonly kind: "tone" | "grace";
        readonly stack: StackText;
        readonly tone: ToneText;
        /** `undefined` where it has nothing to count from. Of a tone held with `_` the one that is held. */
        readonly note: Note | undefined;
      })
  /** A stack as a whole: one of the signs between and before its tones. */
  | (Where & NoteSlot & { readonly kind: "stack"; readonly stack: StackText })
  /** A sign that is a slot in a row of notes: `-`, `=`, `%`, `r`. */
  | (Where &
      NoteSlot & {
        readonly kind: "note-sign";
        readonly sign: SlotSign;
        /** What `%` plays anew, in order; else the slot alone. */
        readonly events: readonly SlotEvent[];
      })
  /** A syllable; `word` is `undefined` where it has no note. */
  | (Where & BarPlace & { readonly kind: "syllable"; readonly word: Word | undefined })
  /** A word of a cue; the span is that of the whole cue. */
  | (Where & BarPlace & { readonly kind: "cue"; readonly cue: string })
  | (Where & { readonly kind: "unread"; readonly text: string; readonly in: BarPlace | undefined });

export type SlotSign = "-" | "/" | "=" | "%" | "r" | "NC";

/** A section as a word of `form` or `play` has it played. */
export interface Played {
  readonly item: FormItem;
  readonly in: "form" | "play";
  /** `undefined` for a name that nobody has. */
  readonly target: PlacedSection | undefined;
  /** How it is played; `undefined` with the target. */
  readonly moved: Moved | undefined;
}

export type LocatedKind = Located["kind"];
/** What is located of one kind. */
export type LocatedAs<K extends LocatedKind> = Extract<Located, { readonly kind: K }>;

/**
 * What stands at a place of a chart: the character at `offset`, or where that is white space the one before it. For
 * any text and any offset there is an answer; one outside the text counts as its nearest end.
 */
export function locate(charted: Charted, offset: number): Located {
  const { tree } = charted;
  const at = Number.isNaN(offset) ? 0 : Math.max(0, Math.min(Math.trunc(offset), tree.text.length));
  const lineIndex = indexAt(tree.starts, at);
  const line = tree.lines[lineIndex] as Line;
  const lineStart = tree.starts[lineIndex] as number;
  const placed = sectionAt(charted, lineIndex);
  const inLine = at - lineStart;
  const place: Place = { charted, lineIndex, line, lineStart, placed, inLine };
  const token = tokenAt(line, inLine);
  if (token === undefined) return nothing(place);
  if (token.kind === "comment") return { kind: "comment", ...where(place, token.span) };
  return (
    inStatement({ ...place, inLine: Math.min(inLine, token.span.end - 1) }, token) ?? unread(place, token)
  );
}

/** The section whose text a line is of; `undefined` in the header. */
export function sectionAt({ outline, chart }: Charted, lineIndex: number): PlacedSection | undefined {
  let low = -1;
  let high = outline.sections.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((outline.sections[middle]?.firstLine ?? 0) <= lineIndex) low = middle;
    else high = middle - 1;
  }
  return low < 0 ? undefined : chart.sections[low];
}

interface Place {
  readonly charted: Charted;
  readonly lineIndex: number;
  readonly line: Line;
  readonly lineStart: number;
  readonly placed: PlacedSection | undefined;
  /** From the line's start. */
  readonly inLine: number;
}

const where = ({ lineIndex, line, lineStart, placed }: Place, inLine: Span): Where => ({
  span: shift(inLine, lineStart),
  lineIndex,
  line,
  lineStart,
  placed,
});

const nothing = (place: Place): Located => {
  const { inLine, line } = place;
  const here = { start: inLine, end: inLine };
  const { statement } = line;
  const bar = statement.kind === "row" ? barAt(place, statement) : undefined;
  return { kind: "nothing", ...where(place, here), in: bar };
};

const unread = (place: Place, { span }: Token): Located => {
  const { statement } = place.line;
  return {
    kind: "unread",
    ...where(place, span),
    text: sliceOf(place.line.text, span),
    in: statement.kind === "row" ? barAt(place, statement) : undefined,
  };
};

const isBlank = ({ kind }: Token): boolean => kind === "white" || kind === "lineEnd";

/** The token at a place of a line, or the one that ends there; `undefined` between white space. */
function tokenAt({ tokens }: Line, at: number): Token | undefined {
  let low = 0;
  let high = tokens.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((tokens[middle] as Token).span.start <= at) low = middle;
    else high = middle - 1;
  }
  const here = tokens[low];
  if (here !== undefined && !isBlank(here)) return here;
  const before = here?.span.start === at ? tokens[low - 1] : undefined;
  return before === undefined || isBlank(before) ? undefined : before;
}

const holds = ({ start, end }: Span, at: number): boolean => start <= at && at < end;
/** As wide as its quotation marks, where it has any. */
const holdsQuoted = ({ start, end }: Span, token: Span): boolean => token.start <= start && end <= token.end;

function inStatement(place: Place, token: Token): Located | undefined {
  const { line, inLine, charted, placed, lineStart } = place;
  const { statement } = line;
  const here = where(place, token.span);
  if (token.kind === "headerWord" || token.kind === "sectionWord" || token.kind === "rowWord") {
    return { kind: "word", ...here, statement, text: sliceOf(line.text, token.span) };
  }
  switch (statement.kind) {
    case "text":
      return holds(statement.span, inLine)
        ? { kind: "text", ...where(place, statement.span), word: statement.word, text: statement.value }
        : undefined;
    case "key":
      return keyAt(place, statement);
    case "time":
      return statement.value && holds(statement.span, inLine)
        ? { kind: "time", ...where(place, statement.span), meter: statement.value }
        : undefined;
    case "tempo":
      return statement.value !== undefined && holds(statement.span, inLine)
        ? {
            kind: "tempo",
            ...where(place, statement.span),
            tempo: statement.value,
            inForce: inForceHere(place),
          }
        : undefined;
    case "feel":
      return statement.value && holds(statement.span, inLine)
        ? { kind: "feel", ...where(place, statement.span), feel: statement.value }
        : undefined;
    case "reach":
      return holds(statement.span, inLine) && token.kind !== "unread"
        ? {
            kind: "reach",
            ...where(place, statement.span),
            left: statement.left,
            right: statement.right,
          }
        : undefined;
    case "form":
      return playedAt(place, token, statement.items, "form");
    case "play":
      return playedAt(place, token, statement.item === undefined ? [] : [statement.item], "play");
    case "use": {
      if (statement.path === undefined || !holdsQuoted(statement.span, token.span)) return undefined;
      const start = statement.span.start + lineStart;
      const used = charted.chart.uses.find(({ span }) => span.start === start);
      return { kind: "use", ...here, used, path: statement.path };
    }
    case "section":
      return placed !== undefined && holdsQuoted(statement.nameSpan, token.span)
        ? { kind: "section", ...here, placed, name: statement.name }
        : undefined;
    case "lands":
      return statement.degree !== undefined && holds(statement.degree.span, inLine)
        ? {
            kind: "lands",
            ...where(place, statement.degree.span),
            lands: statement.degree,
            inForce: inForceHere(place),
          }
        : undefined;
    case "row":
      return inRow(place, token, statement);
    default:
      return undefined;
  }
}

/** What holds where a line stands: in the header what the header says in all. */
function inForceHere({ charted, placed, lineIndex }: Place, further = 0): InForce {
  if (placed === undefined) return charted.chart.header;
  return inForceAt(placed, lineIndex - placed.firstLine + further);
}

function keyAt(place: Place, keyLine: KeyLine): Located | undefined {
  const { inLine, placed, charted, lineIndex } = place;
  const { keySpan, original, tonic } = keyLine;
  const isOriginal = original !== undefined && holds(original.span, inLine);
  if (tonic === undefined || !(isOriginal || holds(keySpan, inLine))) return undefined;
  const first = charted.outline.header.findIndex(
    ({ statement }) => statement.kind === "key" && statement.tonic !== undefined,
  );
  return {
    kind: isOriginal ? "original" : "key",
    ...where(place, isOriginal ? original.span : keySpan),
    keyLine,
    inForce: inForceHere(place, 1),
    counts: placed !== undefined || first === lineIndex,
  };
}

function playedAt(
  place: Place,
  token: Token,
  items: readonly FormItem[],
  within: "form" | "play",
): Located | undefined {
  const { inLine } = place;
  for (const item of items) {
    const isName = holdsQuoted(item.nameSpan, token.span);
    if (!isName && !holds(item.span, inLine)) continue;
    const played = playedItem(place, item, within);
    if (isName) return { kind: "section-use", ...where(place, token.span), ...played };
    if (item.move !== undefined && holds(item.move.span, inLine)) {
      return { kind: "move", ...where(place, item.move.span), ...played, move: item.move };
    }
    if (token.kind === "times") return { kind: "times", ...where(place, token.span), ...played };
  }
  return undefined;
}

function playedItem({ charted, placed, lineStart }: Place, item: FormItem, within: "form" | "play"): Played {
  const { chart } = charted;
  if (within === "play") {
    const i = placed?.section.plays.findIndex(
      (it) => it.item === item && it.lineStart + placed.offset === lineStart,
    );
    const target = placed?.plays[i ?? -1];
    const moved =
      placed === undefined || target === undefined
        ? undefined
        : movedBy(
            item.move,
            target.section,
            placed.section.context.home,
            placed.section.context.displacement,
          );
    return { item, in: within, target, moved };
  }
  const target = chart.formWords.find((it) => it.item === item && it.lineStart === lineStart)?.section;
  const moved = target === undefined ? undefined : movedBy(item.move, target.section, chart.header.home);
  return { item, in: within, target, moved };
}

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
function barAt(place: Place, { bars, from, nameSpan }: RowLine): BarPlace | undefined {
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

function inRow(place: Place, token: Token, line: RowLine): Located | undefined {
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
    const isText = bar.row.row === "words" || bar.row.row === "cue";
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

/** The first of a list, in order of bars, that stands in this bar or a later one. */
function firstInBar(items: readonly { readonly bar: number }[], bar: number): number {
  let low = 0;
  let high = items.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((items[middle] as { readonly bar: number }).bar < bar) low = middle + 1;
    else high = middle;
  }
  return low;
}

function ofBar<T extends { readonly bar: number }>(items: readonly T[], bar: number): T[] {
  const found: T[] = [];
  for (let i = firstInBar(items, bar); i < items.length && items[i]?.bar === bar; i++)
    found.push(items[i] as T);
  return found;
}

/** What a row plays in a bar of a section, in order; or what its pickup into that bar plays. */
export function slotsIn(
  { section }: PlacedSection,
  row: PitchedRow,
  bar: number,
  pickup: boolean,
): SlotEvent[] {
  return ofBar(section.rows[row].slots, bar).filter((it) => it.pickup === pickup);
}

const slotsOfBar = ({ placed, bar, system, pickup }: BarPlace, row: PitchedRow): SlotEvent[] =>
  slotsIn(placed, row, bar?.index ?? system.firstBar, pickup);

/** The chords struck in a bar of a section, or in the pickup into it. */
export function chordsIn({ section }: PlacedSection, bar: number, pickup: boolean): ChordEvent[] {
  return ofBar(section.chords, bar).filter((it) => it.pickup === pickup);
}

const chordsOfBar = ({ placed, bar, system, pickup }: BarPlace): ChordEvent[] =>
  chordsIn(placed, bar?.index ?? system.firstBar, pickup);

/**
 * The chord struck last at a time of a bar or before it, in written order, a second ending going on from before its
 * first; `sounds` is false after `r` or `NC`, where it has ended. Pickups don't count.
 */
export function chordAt(
  { section }: PlacedSection,
  bar: Bar | undefined,
  at: Fraction | undefined,
): { readonly event: ChordEvent; readonly sounds: boolean } | undefined {
  if (bar === undefined || at === undefined) return undefined;
  const { bars, chords } = section;
  /** How long it is since the time that is asked for, at the start of the bar that is looked at. */
  let gone = minus(at, bar.at);
  const own = ofBar(chords, bar.index).findLast((it) => !it.pickup && it.at.n * at.d <= at.n * it.at.d);
  if (own !== undefined) return { event: own, sounds: isLonger(own.length, minus(at, own.at)) };
  let index = bar.index;
  while (index > 0) {
    index = barBefore(bars, index);
    const there = bars[index];
    if (there === undefined) return undefined;
    gone = plus(gone, there.length);
    const last = ofBar(chords, index).findLast((it) => !it.pickup);
    if (last === undefined) continue;
    return { event: last, sounds: isLonger(last.length, minus(gone, minus(last.at, there.at))) };
  }
  return undefined;
}

const isLonger = (a: Fraction, b: Fraction): boolean => a.n * b.d > b.n * a.d;

/** The bar that a bar goes on from: of a second ending the one before its first. */
function barBefore(bars: readonly Bar[], index: number): number {
  if (bars[index]?.repeat.ending !== 2) return index - 1;
  let first = index - 1;
  while (first > 0 && bars[first]?.repeat.ending !== 1) first--;
  return bars[first]?.repeat.ending === 1 ? first - 1 : index - 1;
}

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
