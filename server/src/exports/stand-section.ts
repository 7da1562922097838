import type { Chart, PlacedSection } from "../chart/model.js";
import { prettyChord } from "../theory/chord.js";
import type { Drawing, Shape } from "./drawing.js";
import { isPrinted, labelWidth, measureSection, sectionBlocks } from "./stand-blocks.js";
import { placed as placedShape, type SheetOptions } from "./stand-sheet.js";

/** As wide as the music on a page of A4, with a little room around it. */
const [width, margin] = [515, 10];

/** A section as one picture, however high: its heading and its lines. */
export function standSection(placed: PlacedSection, chart: Chart, options: SheetOptions = {}): Drawing {
  const measured = measureSection(placed, chart, options);
  const shapes: Shape[] = [];
  let y = 0;
  for (const block of sectionBlocks(measured, width, labelWidth([measured]), false)) {
    if (y > 0) y += block.space;
    for (const shape of block.draw()) shapes.push(placedShape(shape, 1, [margin, margin + y]));
    y += block.height;
  }
  return { width: width + 2 * margin, height: y + 2 * margin, words: wordsOf(placed), shapes };
}

/** `Verse: G, G7/B, Cmaj7, Cm6.` */
function wordsOf({ section: { name, chords } }: PlacedSection): string {
  const all = chords.map(({ chord }) => prettyChord(chord));
  const shown = all.length > mostChords ? [...all.slice(0, mostChords), "…"] : all;
  const list = shown.length === 0 ? "no chords" : shown.join(", ");
  return `${name === "" ? "" : `${name}: `}${list}.`;
}

const mostChords = 64;

/** The section of a name (letters large or small), or the first that has anything to print. */
export function sectionNamed(chart: Chart, name: string | undefined): PlacedSection | undefined {
  const printed = chart.sections.filter(isPrinted);
  if (name === undefined) return printed[0];
  const wanted = name.trim().toLowerCase();
  return (
    printed.find(({ section }) => section.name === name) ??
    printed.find(({ section }) => section.name.trim().toLowerCase() === wanted)
  );
}
