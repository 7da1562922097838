import { meterText } from "../chart/beat-name.js";
import type { Chart, Header, HomeKey, Meter, PlacedSection, Play, System } from "../chart/model.js";
import { keyName, prettyKey } from "../theory/key.js";
import { prettyStrict } from "../theory/note-name.js";
import { prettyNumber } from "../theory/tone-number.js";
import { type MeasuredBar, measureBar, rowsOfHands } from "./stand-bar.js";
import { partsOfBar } from "./stand-bar-parts.js";
import { type EndingPart, endingsOf, linePiece, type Piece } from "./stand-line.js";
import { type SheetOptions, sizes, widthOf, wrapped, write } from "./stand-sheet.js";

/** A piece that stays whole, and how it stands to what comes before and after. */
export interface Block extends Piece {
  /** The room above it, unless it is the first on its page. */
  readonly space: number;
  /** A heading: never the last on a page. */
  readonly leads: boolean;
}

/** Bars that sound with the same rows in the same key and time, and what changes where they start. */
interface MeasuredSystem {
  readonly system: System;
  readonly bars: readonly MeasuredBar[];
  readonly changes: readonly string[];
  readonly plays: readonly Play[];
}

/** A section whose bars are measured; it is broken into lines for any width. */
export interface MeasuredSection {
  readonly placed: PlacedSection;
  readonly facts: readonly string[];
  readonly systems: readonly MeasuredSystem[];
  /** Played after its last bar. */
  readonly plays: readonly Play[];
  readonly endings: ReadonlyMap<number, EndingPart>;
  readonly verses: number;
  readonly hasDots: boolean;
}

/** What holds where a system starts, as far as it is printed. */
interface Holding {
  readonly home: HomeKey;
  readonly meter: Meter;
  readonly tempo: number | undefined;
  readonly feel: string;
}

export function measureSection(
  placed: PlacedSection,
  { header }: Pick<Chart, "header">,
  options: SheetOptions,
): MeasuredSection {
  const { section } = placed;
  const playsBefore = (bar: number): readonly Play[] =>
    section.plays.filter(({ beforeBar }) => beforeBar === bar);
  let before: Holding = header;
  const systems = section.systems.map((system): MeasuredSystem => {
    const own = section.bars.slice(system.firstBar, system.endBar);
    const changes = changesBetween(before, system);
    before = system;
    const first = own[0];
    const bars = own.map((bar) => measureBar(placed, system, bar, false, options));
    const pickup =
      first !== undefined && system.pickup.n > 0
        ? [measureBar(placed, system, first, true, options)].filter(({ items }) => items.length > 0)
        : [];
    return { system, bars: [...pickup, ...bars], changes, plays: playsBefore(system.firstBar) };
  });
  return {
    placed,
    facts: [...(systems[0]?.changes ?? []), ...factsOf(placed)],
    systems,
    plays: playsBefore(section.bars.length),
    endings: endingsOf(section.bars),
    verses: section.bars.reduce(
      (most, { words }) => words.reduce((some, { verse }) => Math.max(some, verse), most),
      0,
    ),
    hasDots: systems.some(({ bars }) => bars.some(({ hasDots }) => hasDots)),
  };
}

function factsOf({ section: { lands, vamp } }: PlacedSection): readonly string[] {
  return [
    ...(vamp ? ["repeat until cued"] : []),
    ...(lands === undefined
      ? []
      : [`leads to the ${prettyNumber({ number: lands.degree, alter: lands.alter })}`]),
  ];
}

const changesBetween = (before: Holding, now: Holding): readonly string[] => [
  ...(keyName(before.home.key) === keyName(now.home.key) ? [] : [`in ${prettyKey(now.home.key)}`]),
  ...(meterText(before.meter) === meterText(now.meter) ? [] : [meterText(now.meter)]),
  ...(before.tempo === now.tempo || now.tempo === undefined ? [] : [tempoText(now.tempo, now.meter)]),
  ...(before.feel === now.feel ? [] : [`${now.feel} feel`]),
];

/** A metronome mark where the font has the beat's note, else in words. */
export function tempoText(tempo: number, { beats, unit }: Meter): string {
  if (unit === 4) return `♩ = ${tempo}`;
  if (unit === 8) return beats === 6 || beats === 9 || beats === 12 ? `♩. = ${tempo}` : `♪ = ${tempo}`;
  return `${tempo} beats a minute`;
}

/** What stands at the head of a chart, for its facts line. */
export const headFacts = ({ home, meter, tempo, feel }: Header): readonly string[] => [
  prettyKey(home.key),
  meterText(meter),
  ...(tempo === undefined ? [] : [tempoText(tempo, meter)]),
  ...(feel === "straight" ? [] : [`${feel} feel`]),
];

/** The room that row names, or else the numbers of verses, need at the left in all sections. */
export function labelWidth(sections: readonly MeasuredSection[]): number {
  const has = (row: string): boolean =>
    sections.some(({ systems }) =>
      systems.some(({ bars }) => bars.some(({ lines }) => (lines as ReadonlyMap<string, number>).has(row))),
    );
  if (rowsOfHands.some(has)) return 50;
  return sections.some(({ verses }) => verses > 1) ? 20 : 0;
}

/**
 * A section's heading and lines for a width. `joined` lets systems that are alike stand in one line, which saves
 * paper; else each starts a line as in the text.
 */
export function sectionBlocks(
  measured: MeasuredSection,
  width: number,
  labels: number,
  joined: boolean,
): readonly Block[] {
  const { placed, facts, systems, plays, endings, verses } = measured;
  const blocks: Block[] = [];
  if (placed.section.name !== "" || facts.length > 0)
    blocks.push(headingBlock(placed.section.name, facts, width));
  const groups = joined ? grouped(systems) : systems.map((it) => [it]);
  for (const group of groups) {
    const [first] = group;
    if (first === undefined) continue;
    for (const play of first.plays) blocks.push(playBlock(play, width));
    if (first.changes.length > 0 && first !== systems[0])
      blocks.push(textBlock(first.changes.join(" · "), sizes.facts, false, width, 10, true));
    for (const bars of brokenIntoLines(
      group.flatMap(({ bars }) => bars),
      width - labels,
    )) {
      const piece = linePiece({ placed, bars, endings, labels, verses }, width);
      blocks.push({ ...piece, space: 13, leads: false });
    }
  }
  for (const play of plays) blocks.push(playBlock(play, width));
  return blocks;
}

/** Systems in a row that are alike, so that nothing needs saying where one follows another. */
function grouped(systems: readonly MeasuredSystem[]): readonly (readonly MeasuredSystem[])[] {
  const groups: MeasuredSystem[][] = [];
  for (const it of systems) {
    const group = groups.at(-1);
    const before = group?.at(-1);
    const isAlike =
      before !== undefined &&
      it.changes.length === 0 &&
      it.plays.length === 0 &&
      it.bars[0]?.isPickup === false &&
      rowNames(before.system) === rowNames(it.system);
    if (isAlike) group?.push(it);
    else groups.push([it]);
  }
  return groups;
}

const rowNames = ({ rows }: System): string => rows.map(({ row }) => row).join(" ");

/** Bars in as few lines as hold them, the fullest of them as little full as can be. */
function brokenIntoLines(whole: readonly MeasuredBar[], width: number): readonly (readonly MeasuredBar[])[] {
  const bars = whole.flatMap((bar) => partsOfBar(bar, width));
  let best = linesWithin(bars, width);
  let [low, high] = [0, width];
  for (let i = 0; i < 8; i++) {
    const middle = (low + high) / 2;
    const lines = linesWithin(bars, middle);
    if (lines.length > best.length) low = middle;
    else [best, high] = [lines, middle];
  }
  return best;
}

function linesWithin(bars: readonly MeasuredBar[], width: number): readonly (readonly MeasuredBar[])[] {
  const lines: MeasuredBar[][] = [];
  let line: MeasuredBar[] = [];
  let sum = 0;
  for (const bar of bars) {
    // A pickup stays with the bar that it leads to.
    if (sum + bar.width > width && line.length > 0 && line.at(-1)?.isPickup !== true) {
      lines.push(line);
      [line, sum] = [[], 0];
    }
    line.push(bar);
    sum += bar.width;
  }
  return line.length > 0 ? [...lines, line] : lines;
}

function headingBlock(name: string, facts: readonly string[], width: number): Block {
  const title = wrapped(name, sizes.section, true, width, 2);
  const last = title.at(-1) ?? "";
  const start = last === "" ? 0 : widthOf(last, sizes.section, true) + 12;
  const more = facts.join(" · ");
  const fits = start + widthOf(more, sizes.facts) <= width;
  const below = fits ? [] : wrapped(more, sizes.facts, false, width, 2);
  const baseline = (i: number): number => 14 + 18 * i;
  const end = title.length === 0 ? 14 : baseline(title.length - 1);
  return {
    draw: () => [
      ...title.map((line, i) => write(0, baseline(i), line, sizes.section, { bold: true })),
      ...(fits && more !== "" ? [write(start, end, more, sizes.facts)] : []),
      ...below.map((line, i) => write(0, end + 15 * (i + 1), line, sizes.facts)),
    ],
    height: end + 15 * below.length + 3,
    space: 22,
    leads: true,
  };
}

/** Text in lines, each `size` and a quarter high. */
export function textBlock(
  text: string,
  size: number,
  bold: boolean,
  width: number,
  space: number,
  leads: boolean,
  most = 6,
): Block {
  const lines = wrapped(text, size, bold, width, most);
  return {
    draw: () => lines.map((line, i) => write(0, size * (1 + 1.25 * i), line, size, { bold })),
    height: lines.length === 0 ? 0 : size * (1.25 * lines.length),
    space,
    leads,
  };
}

/** `→ Tag ×2 in F`: another section is played here. */
function playBlock({ item }: Play, width: number): Block {
  const { move } = item;
  const how =
    move === undefined
      ? ""
      : move.kind === "in"
        ? ` in ${prettyStrict(move.tonic.fifths)}`
        : ` ${move.halfSteps > 0 ? "up" : "down"} ${Math.abs(move.halfSteps) === 1 ? "half" : "whole"}`;
  const text = `→ ${item.name}${item.times === 1 ? "" : ` ×${item.times}`}${how}`;
  return textBlock(text, sizes.section - 2, true, width, 12, false, 2);
}

/** Whether a section has anything to print. */
export const isPrinted = ({ section: { bars, plays } }: PlacedSection): boolean =>
  bars.length > 0 || plays.length > 0;
