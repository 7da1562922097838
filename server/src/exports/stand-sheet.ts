import type { PathShape, Point, Shape, TextShape } from "./drawing.js";
import { printed, textWidth } from "./printed-text.js";

export type PaperName = "a4" | "letter";

/** Points: ISO 216 A4, and US Letter of 8.5 by 11 inches. */
export const papers: Readonly<Record<PaperName, { readonly width: number; readonly height: number }>> = {
  a4: { width: 595, height: 842 },
  letter: { width: 612, height: 792 },
};

/** How a chart is written on paper. */
export interface SheetOptions {
  readonly paper?: PaperName;
  /** As the chart has them where nothing is said; `both` puts the numbers under the letters. */
  readonly chords?: "letters" | "numbers" | "both";
  /** As the chords where nothing is said: names with letters, else numbers. `none` leaves lead, hands and bass out. */
  readonly hands?: "numbers" | "names" | "none";
}

/**
 * Sizes of letters in points, before a page is made smaller. Fluent reading needs small letters of 0.2 degrees
 * (Legge and Bigelow 2011, Journal of Vision 11(5):8); at 70 cm, where a stand is, that is 6.9 points. Figures and
 * capitals of chords and hands are as tall as that even on the smallest page (`smallestScale`).
 */
export const sizes = {
  title: 26,
  by: 13,
  facts: 12,
  form: 14,
  note: 11,
  section: 15,
  chord: 19,
  numberBelow: 12,
  tone: 13,
  words: 13,
  cue: 11,
  label: 9.5,
};

/** The height of a capital or figure of the font, as a part of its size. */
export const capital = 0.729;

export const smallestScale = 0.75;

/** Around what is printed. */
export const margin = 40;

export const ink = "#000000";

export interface TextStyle {
  readonly bold?: boolean;
  readonly anchor?: TextShape["anchor"];
}

export function write(x: number, y: number, text: string, size: number, style: TextStyle = {}): TextShape {
  const { bold = false, anchor = "start" } = style;
  const shown = printed(text);
  const width = textWidth(shown, size, bold);
  return { kind: "text", at: [x, y], anchor, text: shown, size, bold, fill: ink, width };
}

export const widthOf = (text: string, size: number, bold = false): number =>
  textWidth(printed(text), size, bold);

export const stroke = (points: readonly Point[], strokeWidth: number): PathShape => ({
  kind: "path",
  lines: [points],
  closed: false,
  stroke: ink,
  strokeWidth,
});

export const filled = (points: readonly Point[]): PathShape => ({
  kind: "path",
  lines: [points],
  closed: true,
  fill: ink,
});

export const dot = (x: number, y: number, radius: number): Shape => ({
  kind: "oval",
  centre: [x, y],
  radii: [radius, radius],
  turned: 0,
  fill: ink,
});

/** A shape made larger or smaller and then moved. */
export function placed(shape: Shape, scale: number, [dx, dy]: Point): Shape {
  const at = ([x, y]: Point): Point => [x * scale + dx, y * scale + dy];
  if (shape.kind === "text") {
    const { size, width = 0 } = shape;
    return { ...shape, at: at(shape.at), size: size * scale, width: width * scale };
  }
  const strokeWidth = shape.stroke === undefined ? {} : { strokeWidth: (shape.strokeWidth ?? 1) * scale };
  if (shape.kind === "oval") {
    const [a, b] = shape.radii;
    return { ...shape, ...strokeWidth, centre: at(shape.centre), radii: [a * scale, b * scale] };
  }
  return { ...shape, ...strokeWidth, lines: shape.lines.map((line) => line.map(at)) };
}

/** A text in lines that are no wider than this, at most so many; the last ends in `…` where more would follow. */
export function wrapped(text: string, size: number, bold: boolean, width: number, most: number): string[] {
  const lines: string[] = [];
  let line = "";
  let lineWidth = 0;
  const gap = widthOf(" ", size, bold);
  for (const word of text.split(/\s+/u)) {
    for (const part of pieces(word, size, bold, width)) {
      const partWidth = widthOf(part, size, bold);
      if (line === "") [line, lineWidth] = [part, partWidth];
      else if (lineWidth + gap + partWidth <= width) {
        line += ` ${part}`;
        lineWidth += gap + partWidth;
      } else {
        lines.push(line);
        if (lines.length === most) {
          lines[most - 1] = cutTo(`${line} …`, size, bold, width);
          return lines;
        }
        [line, lineWidth] = [part, partWidth];
      }
    }
  }
  return line === "" ? lines : [...lines, line];
}

/** A word that is wider than the line, in pieces that are not. */
function pieces(word: string, size: number, bold: boolean, width: number): readonly string[] {
  if (word === "") return [];
  if (widthOf(word, size, bold) <= width) return [word];
  const found: string[] = [];
  let piece = "";
  let pieceWidth = 0;
  for (const sign of printed(word)) {
    const more = widthOf(sign, size, bold);
    if (pieceWidth + more > width && piece !== "") {
      found.push(piece);
      [piece, pieceWidth] = ["", 0];
    }
    piece += sign;
    pieceWidth += more;
  }
  return [...found, piece];
}

/** A text that ends in `…` where it would be wider than this. */
export function cutTo(text: string, size: number, bold: boolean, width: number): string {
  const shown = printed(text);
  if (textWidth(shown, size, bold) <= width) return shown;
  const room = width - widthOf("…", size, bold);
  let kept = "";
  let sum = 0;
  for (const sign of shown) {
    sum += textWidth(sign, size, bold);
    if (sum > room) break;
    kept += sign;
  }
  return `${kept.trimEnd()}…`;
}
