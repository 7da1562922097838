import { visible } from "../text/visible.js";
import { printedRuns, printedWidths } from "./print-widths.js";

/** The glyph of a sign; those that share a code are numbered in the order of `printedRuns`, from 1 on. */
const glyphs = new Map<number, number>();
const points: number[] = [0xfffd];
const runs = printedRuns.split(" ").map(Number);
for (let i = 0; i < runs.length; i += 2) {
  const [first = 0, length = 0] = runs.slice(i, i + 2);
  for (let point = first; point < first + length; point++) {
    glyphs.set(point, points.length);
    points.push(point);
  }
}

const widthsOf = (text: string): readonly number[] => [600, ...text.split(" ").map(Number)];
const widths = { regular: widthsOf(printedWidths.regular), bold: widthsOf(printedWidths.bold) };

export type Face = keyof typeof widths;

/** What stands in print for a sign that the font doesn't have. */
const missing = "□";
const joiners = /\u200b|\u200c|\u200d|\u2060|[\ufe00-\ufe0f]/gu;

/**
 * A text as it is printed: accents put together with their letters, control signs made visible, and a box for each
 * sign that the font doesn't have.
 */
export function printed(text: string): string {
  let isPlain = true;
  for (let i = 0; i < text.length && isPlain; i++) {
    const unit = text.charCodeAt(i);
    isPlain = unit >= 0x20 && unit < 0x7f;
  }
  if (isPlain) return text;
  let out = "";
  for (const sign of visible(text).normalize("NFC").replace(joiners, ""))
    out += glyphs.has(sign.codePointAt(0) as number) ? sign : missing;
  return out;
}

/** The glyph numbers of a printed text. */
export const glyphsOf = (text: string): readonly number[] =>
  Array.from(text, (sign) => glyphs.get(sign.codePointAt(0) as number) ?? 0);

/** The sign that a glyph shows, as a code point. */
export const pointOf = (glyph: number): number => points[glyph] ?? 0xfffd;

/** A glyph's width in thousandths of the size. */
export const glyphWidth = (glyph: number, face: Face): number => widths[face][glyph] ?? 600;

/** How wide a printed text is, in points. */
export function textWidth(text: string, size: number, isBold: boolean): number {
  const face = widths[isBold ? "bold" : "regular"];
  let sum = 0;
  for (const sign of text) sum += face[glyphs.get(sign.codePointAt(0) as number) ?? 0] ?? 600;
  return (sum * size) / 1000;
}
