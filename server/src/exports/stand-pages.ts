import type { Chart, FormStep } from "../chart/model.js";
import { keyName } from "../theory/key.js";
import { prettyStrict } from "../theory/note-name.js";
import type { Drawing, Shape } from "./drawing.js";
import {
  type Block,
  headFacts,
  isPrinted,
  labelWidth,
  type MeasuredSection,
  measureSection,
  sectionBlocks,
  textBlock,
} from "./stand-blocks.js";
import {
  cutTo,
  margin,
  papers,
  placed,
  type SheetOptions,
  sizes,
  smallestScale,
  stroke,
  widthOf,
  wrapped,
  write,
} from "./stand-sheet.js";

/** How a chart is tried on paper, best first: lines as in the text before joined ones, large before small. */
const attempts: readonly { readonly scale: number; readonly joined: boolean }[] = [
  { scale: 1, joined: false },
  { scale: 0.95, joined: false },
  { scale: 0.9, joined: false },
  { scale: 1, joined: true },
  { scale: 0.9, joined: true },
  { scale: 0.85, joined: false },
  { scale: 0.8, joined: false },
  { scale: 0.8, joined: true },
  { scale: smallestScale, joined: false },
  { scale: smallestScale, joined: true },
];
/** How much larger it may be where the page has room and no line gets shorter by it. */
const largerScales = [1.3, 1.2, 1.1];
/** Where one page won't do, nothing is made smaller than this. */
const smallestOnPages = 0.9;

/** A chart for the music stand: on one page where one holds it, else on as few as need be. */
export function standPages(chart: Chart, options: SheetOptions = {}): readonly Drawing[] {
  const paper = papers[options.paper ?? "a4"];
  const width = paper.width - 2 * margin;
  const height = paper.height - 2 * margin;
  const sections = chart.sections.filter(isPrinted).map((it) => measureSection(it, chart, options));
  const labels = labelWidth(sections);
  const laidOut = ({ scale, joined }: (typeof attempts)[number]): readonly (readonly Placed[])[] =>
    paged(
      [
        ...headBlocks(chart, width / scale),
        ...sections.flatMap((it) => sectionBlocks(it, width / scale, labels, joined)),
        ...legendBlocks(sections, options, width / scale),
      ],
      height / scale,
    );
  let best: ((typeof attempts)[number] & { readonly pages: readonly (readonly Placed[])[] }) | undefined;
  for (const attempt of attempts) {
    const { scale } = attempt;
    // What takes many pages is not going to fit on one, nor on two.
    if (best !== undefined && best.pages.length > 3) break;
    const pages = laidOut(attempt);
    const isBetter =
      best === undefined ||
      pages.length === 1 ||
      (pages.length < best.pages.length && scale >= smallestOnPages);
    if (isBetter) best = { pages, ...attempt };
    if (best?.pages.length === 1) break;
  }
  const isRoomy = best?.pages.length === 1 && best.scale === 1 && !best.joined;
  for (const scale of isRoomy ? largerScales : []) {
    const pages = laidOut({ scale, joined: false });
    if (pages.length > 1 || pages[0]?.length !== best?.pages[0]?.length) continue;
    best = { pages, scale, joined: false };
    break;
  }
  const { pages, scale } = best ?? { pages: [], scale: 1 };
  return pages.map((blocks, i) => ({
    ...paper,
    words: chart.header.title ?? "",
    shapes: [
      ...blocks.flatMap(({ block, y, shrunk }) =>
        block.draw().map((shape) => placed(shape, scale * shrunk, [margin, margin + y * scale])),
      ),
      ...(pages.length > 1 ? footer(chart, i, pages.length, paper) : []),
    ],
  }));
}

interface Placed {
  readonly block: Block;
  readonly y: number;
  /** Below 1 for a block that is higher than a page. */
  readonly shrunk: number;
}

/** Blocks on pages of a height: a heading goes with what follows it, and no block is parted. */
function paged(blocks: readonly Block[], height: number): readonly (readonly Placed[])[] {
  const pages: Placed[][] = [[]];
  let y = 0;
  for (let i = 0; i < blocks.length; ) {
    let end = i;
    while (blocks[end]?.leads === true && end < blocks.length - 1) end++;
    const together = blocks.slice(i, end + 1);
    i = end + 1;
    let needed = 0;
    together.forEach((it, k) => {
      needed += it.height + (k > 0 || y > 0 ? it.space : 0);
    });
    if (y > 0 && y + needed > height) {
      pages.push([]);
      y = 0;
    }
    const headings = together
      .slice(0, -1)
      .reduce((sum, it, k) => sum + it.height + (k > 0 ? it.space : 0), 0);
    for (const block of together) {
      const top = y === 0 ? 0 : y + block.space;
      const isLast = block === together.at(-1);
      const room = height - (isLast && y > 0 && headings > 0 ? top : y === 0 ? 0 : top);
      const shrunk = block.height > room ? Math.max(0.02, room / block.height) : 1;
      pages.at(-1)?.push({ block, y: top, shrunk });
      y = top + block.height * shrunk;
    }
  }
  return pages;
}

/** Title, name, facts and the form, parted from the music by a line. */
function headBlocks(chart: Chart, width: number): readonly Block[] {
  const { title, by, notes } = chart.header;
  const shapes: Shape[] = [];
  let y = 0;
  for (const line of wrapped(title ?? "", sizes.title, true, width, 3)) {
    y += sizes.title * (y === 0 ? 0.85 : 1.15);
    shapes.push(write(width / 2, y, line, sizes.title, { bold: true, anchor: "middle" }));
  }
  y += y === 0 ? sizes.facts : 20;
  const facts = headFacts(chart.header).join(" · ");
  const room = Math.max(60, width - widthOf(facts, sizes.facts) - 20);
  shapes.push(write(0, y, facts, sizes.facts));
  if (by !== undefined)
    shapes.push(write(width, y, cutTo(by, sizes.by, false, room), sizes.by, { anchor: "end" }));
  const [only, ...more] = chart.form;
  const isOneSection = more.length === 0 && only?.times === 1 && only.moved.halfSteps === 0;
  const steps = isOneSection ? [] : chart.form.map(stepText).filter((text) => text !== "");
  y += 8;
  shapes.push(rule(y, width));
  const { lines, size } = formLines(steps, width);
  lines.forEach((line, i) => {
    y += i === 0 ? 19 : 18;
    shapes.push(write(0, y, line, size, { bold: true }));
  });
  if (lines.length > 0) {
    y += 8;
    shapes.push(rule(y, width));
  }
  return [
    { draw: () => shapes, height: y, space: 0, leads: false },
    ...notes.map((note) => textBlock(note, sizes.note, false, width, 8, false)),
  ];
}

const rule = (y: number, width: number): Shape =>
  stroke(
    [
      [0, y],
      [width, y],
    ],
    0.8,
  );

const [mostFormLines, smallestForm] = [8, 11];

/** `Verse · Tag ×2 · Verse in A♭`: in one line if letters that can be read allow it. */
function formLines(
  steps: readonly string[],
  width: number,
): { readonly lines: readonly string[]; readonly size: number } {
  if (steps.length === 0) return { lines: [], size: 0 };
  const whole = widthOf(steps.join(" · "), sizes.form, true);
  const size = Math.min(sizes.form, Math.max(smallestForm, (sizes.form * width) / whole));
  const lines: string[] = [];
  let line = "";
  for (const step of steps) {
    const longer = line === "" ? step : `${line} · ${step}`;
    if (line === "" || widthOf(longer, size, true) <= width) line = longer;
    else {
      lines.push(line);
      line = step;
    }
    if (lines.length === mostFormLines) break;
  }
  const all =
    lines.length === mostFormLines ? [...lines.slice(0, -1), `${lines.at(-1)} …`] : [...lines, line];
  return { lines: all.map((it) => cutTo(it, size, true, width)), size };
}

function stepText({ section: { section }, times, moved }: FormStep): string {
  if (section.name === "") return "";
  const isMoved = keyName(moved.key) !== keyName(section.start.key) || moved.halfSteps !== 0;
  const { tonic, mode } = moved.key;
  const key = isMoved ? ` in ${prettyStrict(tonic)}${mode === "major" ? "" : ` ${mode}`}` : "";
  return `${section.name}${times === 1 ? "" : ` ×${times}`}${key}`;
}

/** What the dots and the notes beside row names mean, where there are any. */
function legendBlocks(
  sections: readonly MeasuredSection[],
  { hands }: SheetOptions,
  width: number,
): readonly Block[] {
  if (hands === "names" || hands === "none" || !sections.some(({ hasDots }) => hasDots)) return [];
  const text =
    "A dot over a number: an octave higher, under it: an octave lower, counted from the note by the row's name up.";
  return [textBlock(text, 8.5, false, width, 14, false)];
}

function footer(
  chart: Chart,
  index: number,
  count: number,
  { width, height }: { readonly width: number; readonly height: number },
): readonly Shape[] {
  const place = `${index + 1} / ${count}`;
  const title = chart.header.title;
  const text = title === undefined ? place : `${cutTo(title, sizes.label, false, width / 2)} · ${place}`;
  return [write(width - margin, height - margin / 2, text, sizes.label, { anchor: "end" })];
}
