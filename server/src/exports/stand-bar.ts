import { beatLength, beatsInBar, leavesOf } from "../chart/bar-time.js";
import { chordAt, chordsIn, slotsIn } from "../chart/in-bar.js";
import type { Bar, PlacedSection, System } from "../chart/model.js";
import type { PitchedRow } from "../syntax/tree.js";
import { type Fraction, minus, plus, times } from "../theory/fraction.js";
import type { Shape } from "./drawing.js";
import { chordMarks } from "./stand-chord.js";
import { filled, type SheetOptions, sizes, stroke, widthOf, wrapped, write } from "./stand-sheet.js";
import { stackMark, toneLine } from "./stand-tones.js";

/** What stands under one another in a line of bars, from above to below; verses are counted from 1. */
export type SheetRow = "cue" | "chords" | "numbers" | PitchedRow | `verse ${number}`;

/** Something in a row of a bar, at its time. */
interface Item {
  readonly row: SheetRow;
  /** Whole notes from the bar's start; geometry, so a plain number will do. */
  readonly at: number;
  readonly before: number;
  readonly width: number;
  /** Lines of tones or words, 1 for anything else. */
  readonly lines: number;
  readonly hasDots?: boolean;
  /** Tones are numbers, which count from the row's home octave. */
  readonly counts?: boolean;
  /** `y` is the row's top, or the baseline of a row of text; `until` where the next in its row stands, or the bar ends. */
  readonly shapes: (x: number, y: number, until: number, rowLines: number) => readonly Shape[];
}

/** A bar as wide as what is in it, before its line is filled. */
export interface MeasuredBar {
  readonly bar: Bar;
  readonly isPickup: boolean;
  readonly width: number;
  readonly items: readonly { readonly item: Item; readonly x: number }[];
  /** How many lines each row needs; rows that have nothing here are missing. */
  readonly lines: ReadonlyMap<SheetRow, number>;
  readonly hasDots: boolean;
  /** The rows whose tones are numbers. */
  readonly counted: ReadonlySet<SheetRow>;
  /** Of a bar that is wider than a line and stands in several, the part; its ends alone have bar lines. */
  readonly part: { readonly isFirst: boolean; readonly isLast: boolean };
}

const whole = { isFirst: true, isLast: true };

/** Between a bar line and what stands next to it. */
export const barPad = 8;
/** What a repeat's dots and thick line need beside the bar line. */
const repeatSign = 11;
const gap = 6;
const cueWidth = 150;
const mostCueLines = 4;

/**
 * The room that engraved music gives to a length: a half note less than twice a quarter's. The power is in use since
 * tables for engravers were printed (common practice, no single source).
 */
const roomFor = (wholeNotes: number): number => (wholeNotes <= 0 ? 0 : 20 * (wholeNotes * 4) ** 0.6);

export const rowsOfHands: readonly PitchedRow[] = ["lead", "right", "left", "bass"];

/** Measures a bar of a system, or the pickup into its first one. */
export function measureBar(
  placed: PlacedSection,
  system: System,
  bar: Bar,
  isPickup: boolean,
  options: SheetOptions,
): MeasuredBar {
  const start = isPickup ? minus(bar.at, system.pickup) : bar.at;
  const length = isPickup ? system.pickup : bar.length;
  const timeOf = (at: Fraction): number => {
    const { n, d } = minus(at, start);
    return n / d;
  };
  const items = [
    ...chordItems(placed, system, bar, isPickup, timeOf, options),
    ...(options.hands === "none"
      ? []
      : rowsOfHands.flatMap((row) => toneItems(placed, row, bar, isPickup, timeOf, options))),
    ...wordItems(bar, isPickup, timeOf),
    ...(isPickup ? [] : cueItems(bar)),
  ].sort((a, b) => a.at - b.at);
  const { xs, end } = solve(items, length.n / length.d);
  const isBare = items.length === 0;
  const before = isPickup ? 0 : barPad + (bar.repeat.start ? repeatSign : 0);
  const after = barPad + (bar.repeat.end ? repeatSign : 0);
  const cue = items.find(({ row }) => row === "cue")?.width ?? 0;
  return {
    bar,
    isPickup,
    width: Math.max(before + (isBare ? end * 0.7 : end) + after, before + cue + barPad),
    items: items.map((item) => ({ item, x: before + (xs.get(item.at) ?? 0) })),
    lines: linesIn(items),
    hasDots: items.some((item) => item.hasDots === true),
    part: whole,
    counted: new Set(items.filter(({ counts }) => counts === true).map(({ row }) => row)),
  };
}

/** How many lines each row of a bar needs. */
export function linesIn(items: readonly Item[]): ReadonlyMap<SheetRow, number> {
  const lines = new Map<SheetRow, number>();
  for (const { row, lines: some } of items) lines.set(row, Math.max(some, lines.get(row) ?? 0));
  return lines;
}

/** Where each time of a bar stands so that nothing touches, and where the last thing ends. */
function solve(items: readonly Item[], length: number): { xs: ReadonlyMap<number, number>; end: number } {
  const columns = new Map<number, Item[]>();
  for (const item of items) {
    if (item.row === "cue") continue;
    const there = columns.get(item.at);
    if (there === undefined) columns.set(item.at, [item]);
    else there.push(item);
  }
  const xs = new Map<number, number>();
  const ends = new Map<SheetRow, number>();
  let [x, at] = [0, 0];
  for (const time of [...columns.keys()].sort((a, b) => a - b)) {
    x += roomFor(time - at);
    at = time;
    const column = columns.get(time) ?? [];
    for (const { row, before } of column) {
      const last = ends.get(row);
      x = Math.max(x, last === undefined ? before : last + gap + before);
    }
    xs.set(time, x);
    for (const { row, width } of column) ends.set(row, x + width);
  }
  return { xs, end: Math.max(x + roomFor(length - at), ...ends.values()) };
}

type TimeOf = (at: Fraction) => number;

const plain = { before: 0, lines: 1 };

function chordItems(
  placed: PlacedSection,
  system: System,
  bar: Bar,
  isPickup: boolean,
  timeOf: TimeOf,
  { chords }: SheetOptions,
): readonly Item[] {
  const row = system.rows.find((it) => it.row === "chords");
  if (row === undefined) return [];
  const items: Item[] = [];
  for (const event of chordsIn(placed, bar.index, isPickup)) {
    const { main, below } = chordMarks(event, chords);
    const at = timeOf(event.at);
    items.push({ row: "chords", at, width: main.width, shapes: main.shapes, ...plain });
    if (below !== undefined)
      items.push({ row: "numbers", at, width: below.width, shapes: below.shapes, ...plain });
  }
  const written = row.line.bars[bar.index - system.firstBar];
  const slots = isPickup ? row.line.pickup : written?.slots;
  const leaves = slots === undefined ? [] : (leavesOf(slots, isPickup ? system.pickup : bar.length) ?? []);
  leaves.forEach(({ content, at }, i) => {
    const time = at.n / at.d;
    // A silence is said once, where it starts.
    if (content.kind !== "unread" && content.kind === leaves[i - 1]?.content.kind) return;
    if (content.kind === "noChord") items.push(textItem("chords", time, "N.C.", sizes.chord * 0.72, true));
    else if (content.kind === "rest") items.push(restItem("chords", time));
    else if (content.kind === "unread") items.push(textItem("chords", time, "?", sizes.chord, true));
  });
  return isPickup ? items : [...items, ...beatStrokes(placed, bar, items)];
}

/** A slanting stroke for each beat on which a chord goes on, in bars where that isn't plain without. */
function beatStrokes(placed: PlacedSection, bar: Bar, items: readonly Item[]): readonly Item[] {
  const struck = items.filter(({ row }) => row === "chords");
  if (struck.length === 1 && struck[0]?.at === 0) return [];
  const beat = beatLength(bar.meter);
  const strokes: Item[] = [];
  for (let i = 0; i < Math.min(beatsInBar(bar.meter), 16); i++) {
    const offset = times(beat, i);
    const at = offset.n / offset.d;
    if (struck.some((it) => it.at === at)) continue;
    if (chordAt(placed, bar, plus(bar.at, offset))?.sounds !== true) continue;
    strokes.push({
      row: "chords",
      at,
      width: 7,
      ...plain,
      shapes: (x, y) => [
        stroke(
          [
            [x, y - 0.5],
            [x + 6, y - 12],
          ],
          1.6,
        ),
      ],
    });
  }
  return strokes;
}

function toneItems(
  placed: PlacedSection,
  row: PitchedRow,
  bar: Bar,
  isPickup: boolean,
  timeOf: TimeOf,
  { hands }: SheetOptions,
): readonly Item[] {
  const items: Item[] = [];
  const fromBottom = row === "left" || row === "bass";
  let last: "tone" | "line" | "rest" | undefined;
  for (const slot of slotsIn(placed, row, bar.index, isPickup)) {
    const at = timeOf(slot.at);
    const mark = slot.kind === "hold" ? undefined : stackMark(slot, hands);
    if (mark !== undefined) {
      const { width, before, lines, hasDots, counts, shapes } = mark;
      items.push({
        row,
        at,
        width,
        before,
        lines,
        hasDots,
        counts,
        shapes: (x, y, _until, rowLines) => shapes(x, fromBottom ? y + (rowLines - lines) * toneLine : y),
      });
      last = "tone";
    } else if (slot.kind === "unread") {
      items.push(textItem(row, at, "?", sizes.tone, false));
      last = "tone";
    } else if (slot.kind === "hold" && slot.held.length > 0) {
      // Where the tones of the bar before go on, or of this one: one line up to what comes next.
      if (last !== "line") items.push(lineItem(row, at, fromBottom));
      last = "line";
    } else {
      if (last !== "rest") items.push(restItem(row, at));
      last = "rest";
    }
  }
  return items;
}

const middleOfTone = 7;

const lineItem = (row: PitchedRow, at: number, fromBottom: boolean): Item => ({
  row,
  at,
  width: 8,
  ...plain,
  shapes: (x, y, until, rowLines) => {
    const height = y + middleOfTone + (fromBottom ? (rowLines - 1) * toneLine : 0);
    return [
      stroke(
        [
          [x, height],
          [Math.max(x + 6, until - 5), height],
        ],
        0.9,
      ),
    ];
  },
});

/** A block under a line, as the rest of a half or a whole bar is engraved. In a row of text `y` is the baseline. */
const restItem = (row: SheetRow, at: number): Item => ({
  row,
  at,
  width: 9,
  ...plain,
  shapes: (x, y) => {
    const top = row === "chords" ? y - 8 : y + 5;
    return [
      stroke(
        [
          [x, top],
          [x + 9, top],
        ],
        0.8,
      ),
      filled([
        [x + 1.5, top],
        [x + 7.5, top],
        [x + 7.5, top + 3.5],
        [x + 1.5, top + 3.5],
      ]),
    ];
  },
});

const textItem = (row: SheetRow, at: number, text: string, size: number, bold: boolean): Item => ({
  row,
  at,
  width: widthOf(text, size, bold),
  ...plain,
  shapes: (x, y) => [
    write(x, row === "chords" || row.startsWith("verse") ? y : y + 11, text, size, { bold }),
  ],
});

/** Syllables that fall together (words under a bar without a lead) stand beside one another. */
function wordItems(bar: Bar, isPickup: boolean, timeOf: TimeOf): readonly Item[] {
  const found = new Map<string, { row: SheetRow; at: number; text: string }>();
  for (const { verse, text, at } of bar.words) {
    const isBefore = minus(at, bar.at).n < 0;
    if (isBefore !== isPickup) continue;
    const key = `${verse} ${at.n}/${at.d}`;
    const there = found.get(key);
    if (there === undefined) found.set(key, { row: `verse ${verse}`, at: timeOf(at), text });
    else there.text += there.text.endsWith("-") ? text : ` ${text}`;
  }
  return [...found.values()].map(({ row, at, text }) => textItem(row, at, text, sizes.words, false));
}

/** A cue over its bar; a long one in several lines. */
function cueItems({ cue }: Bar): readonly Item[] {
  if (cue === undefined || cue === "") return [];
  const lines = wrapped(cue, sizes.cue, false, cueWidth, mostCueLines);
  return [
    {
      row: "cue",
      at: 0,
      before: 0,
      width: Math.max(...lines.map((line) => widthOf(line, sizes.cue))),
      lines: lines.length,
      shapes: (x, y, _until, rowLines) =>
        lines.map((line, i) =>
          write(x, y + (rowLines - lines.length + i + 1) * cueLine - 3, line, sizes.cue),
        ),
    },
  ];
}

export const cueLine = 13;
