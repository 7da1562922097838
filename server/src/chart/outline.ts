import type { Line, Statement, Tree } from "../syntax/tree.js";
import type { Holds, SectionSource } from "./model.js";

/** A chart's text cut into its header and its sections, before anything is resolved. */
export interface Outline {
  /** The lines before the first section, row, or other line that only a section can hold. */
  readonly header: readonly Line[];
  readonly headerStarts: readonly number[];
  readonly sections: readonly OutlinedSection[];
  readonly contents: Contents;
  /** All lines of the chart. */
  readonly lines: readonly Line[];
}

/** What a chart's sections are called and what they hold beside music, as indices of its sections. */
export interface Contents {
  /** For each name the section that has it, of several the first. */
  readonly names: ReadonlyMap<string, number>;
  /** Those that hold something of a kind. */
  readonly holding: Readonly<Record<keyof Holds, readonly number[]>>;
}

export interface OutlinedSection {
  readonly source: SectionSource;
  readonly firstLine: number;
  readonly offset: number;
}

const opensNameless = new Set(["row", "lands", "vamp", "play"]);

/**
 * Cuts a tree into header and sections. Sections whose lines are those of `previous` are the same objects, and
 * so are sections of equal text.
 */
export function outline(tree: Tree, previous?: Outline): Outline {
  const front = previous === undefined ? noSections : sameFront(tree, previous);
  const back = previous === undefined ? noSections : sameBack(tree, previous, front.length);
  const middleEnd = back[0]?.firstLine ?? tree.lines.length;
  const begins: number[] = [];
  for (let i = endOf(front) ?? 0; i < middleEnd; i++) {
    if (opens(tree, i, front.length + begins.length === 0)) begins.push(i);
  }
  const texts = begins.map((first, i) => {
    const end = tree.starts[begins[i + 1] ?? middleEnd] ?? tree.text.length;
    return tree.text.slice(tree.starts[first], end);
  });
  const known = sourcesOf(texts, previous);
  const middle = begins.map((first, i) => {
    const text = texts[i] as string;
    const source = known.get(text) ?? readSource(tree.lines.slice(first, begins[i + 1] ?? middleEnd), text);
    known.set(text, source);
    return { source, firstLine: first, offset: tree.starts[first] as number };
  });
  const sections = front.concat(middle, back);
  const headerEnd = sections[0]?.firstLine ?? tree.lines.length;
  const isSameHeader = previous !== undefined && hasHeader(tree, headerEnd, previous);
  return {
    header: isSameHeader ? previous.header : tree.lines.slice(0, headerEnd),
    headerStarts: isSameHeader ? previous.headerStarts : tree.starts.slice(0, headerEnd),
    sections,
    contents: hasContents(sections, front.length, back.length, previous)
      ? previous.contents
      : contentsOf(sections),
    lines: tree.lines,
  };
}

const noSections: readonly OutlinedSection[] = [];

const hasHeader = ({ lines }: Tree, end: number, { header }: Outline): boolean =>
  header.length === end && header.every((line, i) => line === lines[i]);

function contentsOf(sections: readonly OutlinedSection[]): Contents {
  const names = new Map<string, number>();
  const holding: Record<keyof Holds, number[]> = { play: [], form: [], lands: [], pickup: [] };
  sections.forEach(({ source: { name, holds } }, i) => {
    if (!names.has(name)) names.set(name, i);
    for (const kind of held) if (holds[kind]) holding[kind].push(i);
  });
  return { names, holding };
}

const held: readonly (keyof Holds)[] = ["play", "form", "lands", "pickup"];

/** Whether sections, of which all but those in the middle are those of `previous`, have the same contents. */
function hasContents(
  sections: readonly OutlinedSection[],
  front: number,
  back: number,
  previous: Outline | undefined,
): previous is Outline {
  if (previous?.sections.length !== sections.length) return false;
  for (let i = front; i < sections.length - back; i++) {
    const { name, holds } = (sections[i] as OutlinedSection).source;
    const old = (previous.sections[i] as OutlinedSection).source;
    if (name !== old.name || held.some((kind) => holds[kind] !== old.holds[kind])) return false;
  }
  return true;
}

/** The sources of an earlier outline that may have one of these texts. */
function sourcesOf(texts: readonly string[], previous: Outline | undefined): Map<string, SectionSource> {
  const known = new Map<string, SectionSource>();
  const lengths = new Set(texts.map(({ length }) => length));
  for (const { source } of previous?.sections ?? []) {
    if (lengths.has(source.text.length)) known.set(source.text, source);
  }
  return known;
}

/** Whether a section starts with this line. */
function opens({ lines }: Tree, at: number, isFirst: boolean): boolean {
  const { kind } = (lines[at] as Line).statement;
  return kind === "section" || (isFirst && opensNameless.has(kind));
}

/** The line after the last of some sections. */
function endOf(sections: readonly OutlinedSection[]): number | undefined {
  const last = sections[sections.length - 1];
  return last === undefined ? undefined : last.firstLine + last.source.lines.length;
}

/** The sections that stand at the start of both, after the same header. */
function sameFront(
  { lines }: Tree,
  { header, sections: old, lines: before }: Outline,
): readonly OutlinedSection[] {
  const most = Math.min(lines.length, before.length);
  let same = 0;
  while (same < most && lines[same] === before[same]) same++;
  if (same < header.length) return noSections;
  // A section ends where the next one starts, so that line must be the same too.
  const isWhole = (i: number): boolean => {
    const next = old[i + 1]?.firstLine;
    return next === undefined ? same === lines.length && same === before.length : next < same;
  };
  let count = 0;
  while (count < old.length && isWhole(count)) count++;
  // Nothing before them has changed, so they stand where they stood.
  return old.slice(0, count);
}

/** The sections after the first `front` that stand at the end of both. */
function sameBack(
  tree: Tree,
  { sections: old, lines: before }: Outline,
  front: number,
): readonly OutlinedSection[] {
  const { lines, starts } = tree;
  const most = Math.min(lines.length, before.length);
  let same = 0;
  while (same < most && lines[lines.length - 1 - same] === before[before.length - 1 - same]) same++;
  const further = lines.length - before.length;
  let first = old.length;
  const least = endOf(old.slice(front - 1, front)) ?? 0;
  while (first > front) {
    const { source, firstLine } = old[first - 1] as OutlinedSection;
    const isThere = firstLine >= before.length - same && firstLine + further >= least;
    if (!isThere || source.nameSpan === undefined) break;
    first--;
  }
  const back = old.slice(first);
  const [it] = back;
  if (it === undefined || (further === 0 && starts[it.firstLine] === it.offset)) return back;
  return back.map(({ source, firstLine }) => {
    const at = firstLine + further;
    return { source, firstLine: at, offset: starts[at] as number };
  });
}

function readSource(lines: readonly Line[], text: string): SectionSource {
  const starts: number[] = [];
  let at = 0;
  for (const line of lines) {
    starts.push(at);
    at += line.text.length;
  }
  const has = (kind: Statement["kind"]): boolean => lines.some(({ statement }) => statement.kind === kind);
  const [head] = lines;
  const named = head?.statement.kind === "section" ? head.statement : undefined;
  return {
    name: named?.name ?? "",
    nameSpan: named?.nameSpan,
    lines,
    starts,
    text,
    holds: { play: has("play"), form: has("form"), lands: has("lands"), pickup: lines.some(hasPickup) },
  };
}

const hasPickup = ({ statement }: Line): boolean => statement.kind === "row" && statement.pickup.length > 0;
