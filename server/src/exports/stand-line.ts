import { slotsIn } from "../chart/in-bar.js";
import type { Bar, PlacedSection, SlotEvent } from "../chart/model.js";
import type { PitchedRow } from "../syntax/tree.js";
import { pitchClass } from "../theory/note-name.js";
import { prettyPitch } from "../theory/pitch.js";
import type { Shape } from "./drawing.js";
import { cueLine, type MeasuredBar, rowsOfHands, type SheetRow } from "./stand-bar.js";
import { barLineShapes } from "./stand-bar-line.js";
import { placed as placedShape, sizes, stroke, write } from "./stand-sheet.js";
import { toneBaseline, toneLine } from "./stand-tones.js";

/** Where a bar stands in an ending: its number, and whether the bracket opens or closes there. */
export interface EndingPart {
  readonly number: 1 | 2;
  readonly opens: boolean;
  readonly closes: boolean;
}

export interface LineOfBars {
  readonly placed: PlacedSection;
  readonly bars: readonly MeasuredBar[];
  /** By the bar's index. */
  readonly endings: ReadonlyMap<number, EndingPart>;
  /** The room for row names at the left. */
  readonly labels: number;
  readonly verses: number;
}

/** Shapes that are set as one, from 0 down to `height`. */
export interface Piece {
  readonly height: number;
  /** Drawn when its place is known: paper is tried in several sizes, and the height is all that this takes. */
  readonly draw: () => readonly Shape[];
}

/** A line is stretched to the right edge so far; one that holds less is stretched a little and ends before. */
const [mostStretch, shortStretch] = [2.6, 1.8];

/** One line of bars with all its rows, as wide as `width`, or shorter where little stands in it. */
export function linePiece(line: LineOfBars, width: number): Piece {
  const { bars, labels } = line;
  const natural = bars.reduce((sum, bar) => sum + bar.width, 0);
  const wanted = (width - labels) / natural;
  const stretch = wanted < 1 ? 1 : wanted > mostStretch ? shortStretch : wanted;
  const rows = rowsOf(line);
  // A bar that is wider than the paper is made smaller with all that stands in its line.
  const scale = wanted < 1 ? width / (labels + natural) : 1;
  return {
    height: rows.height * scale,
    draw: () => drawLine(line, rows, stretch).map((shape) => placedShape(shape, scale, [0, 0])),
  };
}

interface Rows {
  /** The top of each row, or the baseline of a row of text. */
  readonly tops: ReadonlyMap<SheetRow, number>;
  readonly lines: ReadonlyMap<SheetRow, number>;
  /** From where to where bar lines go: words between two staves part them. */
  readonly spans: readonly (readonly [top: number, bottom: number])[];
  readonly hasEndings: boolean;
  readonly endings: number;
  readonly height: number;
}

function rowsOf({ bars, endings, verses }: LineOfBars): Rows {
  const lines = new Map<SheetRow, number>();
  for (const bar of bars)
    for (const [row, some] of bar.lines) lines.set(row, Math.max(some, lines.get(row) ?? 0));
  const hasEndings = bars.some(
    ({ bar, isPickup }) => !isPickup && (endings.has(bar.index) || (bar.repeat.end && bar.repeat.times > 2)),
  );
  const tops = new Map<SheetRow, number>();
  const spans: [number, number][] = [];
  let y = hasEndings ? 15 : 0;
  const endingsTop = y - 13;
  const cues = lines.get("cue") ?? 0;
  if (cues > 0) {
    tops.set("cue", y);
    y += cues * cueLine;
  }
  let top = y;
  if (lines.has("chords") || [...lines.keys()].every((row) => row === "cue")) {
    tops.set("chords", y + 17);
    y += 22;
  }
  if (lines.has("numbers")) {
    tops.set("numbers", y + 10);
    y += 14;
  }
  const tones = (row: PitchedRow): void => {
    const some = lines.get(row);
    if (some === undefined) return;
    tops.set(row, y);
    y += some * toneLine + 9;
  };
  tones("lead");
  let hasWords = false;
  for (let verse = 1; verse <= verses; verse++) {
    const row: SheetRow = `verse ${verse}`;
    if (!lines.has(row)) continue;
    if (!hasWords) spans.push([top, y]);
    hasWords = true;
    tops.set(row, y + 13);
    y += 17;
  }
  if (hasWords) {
    y += 6;
    top = y;
  }
  for (const row of rowsOfHands) if (row !== "lead") tones(row);
  if (y > top) spans.push([top, y]);
  return { tops, lines, spans, hasEndings, endings: endingsTop, height: y };
}

function drawLine(line: LineOfBars, rows: Rows, stretch: number): readonly Shape[] {
  const { placed, bars, labels } = line;
  const shapes: Shape[] = [...labelShapes(line, rows)];
  const starts: number[] = [];
  let x = labels;
  for (const { width } of bars) {
    starts.push(x);
    x += width * stretch;
  }
  const ends = [...starts.slice(1), x];
  // Row by row, so that the text reads back in the order in which it is meant.
  for (const [row, top] of rows.tops) {
    bars.forEach(({ items }, i) => {
      const own = items.filter(({ item }) => item.row === row);
      own.forEach(({ item, x: inBar }, k) => {
        const start = starts[i] as number;
        const next = own[k + 1];
        const until = next === undefined ? (ends[i] as number) : start + next.x * stretch - next.item.before;
        shapes.push(...item.shapes(start + inBar * stretch, top, until, rows.lines.get(row) ?? 1));
      });
    });
  }
  const last = placed.section.bars.length - 1;
  for (let i = -1; i < bars.length; i++) {
    const [before, after] = [bars[i], bars[i + 1]];
    if (after?.isPickup === true || after?.part.isFirst === false || before?.part.isLast === false) continue;
    const at = i < 0 ? labels : (ends[i] as number);
    const isEnd = before?.bar.index === last && !before.isPickup;
    const repeat = before?.isPickup === true ? undefined : before?.bar.repeat;
    for (const [top, bottom] of rows.spans)
      shapes.push(...barLineShapes(at, top, bottom, repeat, after?.bar.repeat, isEnd));
  }
  return [...shapes, ...endingShapes(line, rows, ends)];
}

/** Names of rows with the lowest key of their home octave, and numbers of verses. */
function labelShapes({ placed, bars, verses, labels }: LineOfBars, rows: Rows): readonly Shape[] {
  const shapes: Shape[] = [];
  for (const row of rowsOfHands) {
    const top = rows.tops.get(row);
    if (top === undefined) continue;
    const isBottom = row === "left" || row === "bass";
    const y = top + toneBaseline + (isBottom ? ((rows.lines.get(row) ?? 1) - 1) * toneLine : 0);
    shapes.push(write(0, y, row, sizes.label));
    const home = bars.some(({ counted }) => counted.has(row)) ? homeOf(placed, row, bars) : undefined;
    if (home !== undefined) shapes.push(write(26, y, home, sizes.label - 1.5));
  }
  if (verses < 2) return shapes;
  for (let verse = 1; verse <= verses; verse++) {
    const baseline = rows.tops.get(`verse ${verse}`);
    if (baseline !== undefined)
      shapes.push(write(labels - 5, baseline, `${verse}.`, sizes.label, { anchor: "end" }));
  }
  return shapes;
}

/** The lowest key of a row's home octave in its first slot of the line. */
function homeOf(placed: PlacedSection, row: PitchedRow, bars: readonly MeasuredBar[]): string | undefined {
  let slot: SlotEvent | undefined;
  for (const { bar, isPickup } of bars) slot ??= slotsIn(placed, row, bar.index, isPickup)[0];
  const { section } = placed;
  return slot && prettyPitch({ fifths: nearestName(slot.home, section.start.key.tonic), midi: slot.home });
}

/** A key's name: a natural where there is one, else the one nearer to a tonic. */
function nearestName(midi: number, tonic: number): number {
  const isOn = (fifths: number): boolean => pitchClass(fifths) === midi % 12;
  const natural = [-1, 0, 1, 2, 3, 4, 5].find(isOn);
  const near = [0, -1, 1, -2, 2, -3, 3, -4, 4, -5, 5, 6].find((distance) => isOn(tonic + distance)) ?? 0;
  return natural ?? tonic + near;
}

/** Brackets over first and second endings, and how often a repeat is played where it is more than twice. */
function endingShapes(
  { bars, endings, labels }: LineOfBars,
  { endings: top }: Rows,
  ends: readonly number[],
): readonly Shape[] {
  const shapes: Shape[] = [];
  bars.forEach(({ bar, isPickup, part: { isFirst, isLast } }, i) => {
    if (isPickup) return;
    const [start, end] = [i === 0 ? labels : (ends[i - 1] as number), ends[i] as number];
    const part = endings.get(bar.index);
    if (part !== undefined) {
      const [opens, closes] = [part.opens && isFirst, part.closes && isLast];
      const [left, right] = [start + (opens ? 3 : 0), end - (closes ? 3 : 0)];
      const down = top + 11;
      shapes.push(
        stroke(
          [
            ...(opens ? ([[left, down]] as const) : []),
            [left, top],
            [right, top],
            ...(closes && part.number === 1 ? ([[right, down]] as const) : []),
          ],
          0.9,
        ),
      );
      if (opens) shapes.push(write(left + 4, top + 11, `${part.number}.`, sizes.label + 1, { bold: true }));
    }
    const { times } = bar.repeat;
    if (bar.repeat.end && isLast && times > 2)
      shapes.push(write(end - 6, top + 11, `×${times}`, sizes.label + 1.5, { bold: true, anchor: "end" }));
  });
  return shapes;
}

/** Which bars of a section stand in which ending. */
export function endingsOf(bars: readonly Bar[]): ReadonlyMap<number, EndingPart> {
  const found = new Map<number, EndingPart>();
  let number: 1 | 2 | undefined;
  bars.forEach(({ index, repeat }, i) => {
    const opens = repeat.ending !== undefined;
    if (opens) number = repeat.ending;
    else if (repeat.start) number = undefined;
    if (number === undefined) return;
    const next = bars[i + 1]?.repeat;
    const closes =
      next === undefined ||
      next.ending !== undefined ||
      next.start ||
      repeat.end ||
      (number === 2 && repeat.double);
    found.set(index, { number, opens, closes });
    if (closes) number = undefined;
  });
  return found;
}
