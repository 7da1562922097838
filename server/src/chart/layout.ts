import { isTextRow } from "../syntax/text-row.js";
import type { BarText, Line, RowLine, RowName } from "../syntax/tree.js";
import { shift } from "../text/span.js";
import { compare, type Fraction, plus, times, zero } from "../theory/fraction.js";
import { barLength, beatLength } from "./bar-time.js";
import { afterLine, type InForce, inForceAtStart } from "./in-force.js";
import type {
  Feel,
  HomeKey,
  Lands,
  Meter,
  Play,
  Repeat,
  SectionContext,
  SectionSource,
  System,
  SystemRow,
} from "./model.js";

/** A bar before its words and cue are known. */
export interface BarFrame {
  readonly index: number;
  readonly system: number;
  readonly at: Fraction;
  readonly length: Fraction;
  readonly repeat: Repeat;
}

/** A section's lines put in their places: which rows form a system, in which key and meter, and its bars. */
export interface Layout {
  readonly start: HomeKey;
  readonly tempo: number | undefined;
  readonly feel: Feel;
  readonly lands: Lands | undefined;
  readonly vamp: boolean;
  readonly systems: readonly System[];
  readonly bars: readonly BarFrame[];
  /** Whether a repeat or an ending stands anywhere. */
  readonly repeats: boolean;
  readonly plays: readonly Play[];
  readonly length: Fraction;
}

export function layOut(source: SectionSource, context: SectionContext): Layout {
  let now = inForceAtStart(context);
  /** What holds where its first bar starts. */
  let start: InForce | undefined;
  let lands: Lands | undefined;
  let vamp = false;
  const systems: System[] = [];
  const bars: BarFrame[] = [];
  const plays: Play[] = [];
  let at = zero;
  let rows: SystemRow[] = [];
  let unread = false;

  const close = (): void => {
    if (rows.length === 0) {
      unread = false;
      return;
    }
    start ??= now;
    const { home, meter, tempo, feel } = now;
    const index = systems.length;
    const firstBar = bars.length;
    const length = barLength(meter);
    const count = rows.reduce((most, { line }) => Math.max(most, line.bars.length), 0);
    const top = (rows[0] as SystemRow).line.bars;
    for (let i = 0; i < count; i++) {
      bars.push({ index: bars.length, system: index, at, length, repeat: repeatOf(top[i]) });
      at = plus(at, length);
    }
    const pickup = rows.reduce(
      (most, { row, line }) => (isTextRow(row) ? most : Math.max(most, line.pickup.length)),
      0,
    );
    systems.push({
      index,
      rows,
      firstBar,
      endBar: bars.length,
      home,
      meter,
      tempo,
      feel,
      unread,
      pickup: times(beatLength(meter), pickup),
    });
    rows = [];
    unread = false;
  };

  for (let i = 0; i < source.lines.length; i++) {
    const { statement, text } = source.lines[i] as Line;
    const lineStart = source.starts[i] as number;
    if (statement.kind === "comment") continue;
    if (statement.kind === "unread" && text.includes("|")) {
      unread = true;
      continue;
    }
    if (statement.kind === "row") {
      if (statement.row !== "words" && rows.some(({ row }) => row === statement.row)) close();
      rows.push({ row: statement.row, line: statement, start: lineStart });
      continue;
    }
    close();
    switch (statement.kind) {
      case "lands":
        if (statement.degree !== undefined) {
          const { degree, alter, span } = statement.degree;
          lands ??= { degree, alter, span: shift(span, lineStart) };
        }
        break;
      case "vamp":
        vamp = true;
        break;
      case "play":
        if (statement.item !== undefined)
          plays.push({ item: statement.item, lineStart, beforeBar: bars.length });
        break;
      default:
        now = afterLine(statement, now, context);
    }
  }
  close();
  const { home, tempo, feel } = start ?? now;
  return {
    start: home,
    tempo,
    feel,
    lands,
    vamp,
    systems,
    bars,
    repeats: bars.some(({ repeat: { start, end, ending } }) => start || end || ending !== undefined),
    plays,
    length: at,
  };
}

const noRepeat: Repeat = { start: false, end: false, times: 1, ending: undefined, double: false };

function repeatOf(bar: BarText | undefined): Repeat {
  const start = bar?.open.starts ?? false;
  const end = bar?.close?.ends ?? false;
  const ending = bar?.ending?.number;
  const double = bar?.close?.double ?? false;
  if (!start && !end && !double && ending === undefined) return noRepeat;
  return { start, end, times: end ? (bar?.close?.times ?? 1) : 1, ending, double };
}

/** The row of this name in a system; of several `words` rows the first. */
export const rowIn = (system: System, row: RowName): SystemRow | undefined =>
  system.rows.find((it) => it.row === row);

/** Whether a row of this line has anything to play before its first bar line. */
export const pickupLength = (line: RowLine, meter: Meter): Fraction =>
  times(beatLength(meter), line.pickup.length);

export const longest = (a: Fraction, b: Fraction): Fraction => (compare(a, b) >= 0 ? a : b);
