import type { Line, Tree } from "../syntax/tree.js";
import type { SectionSource } from "./model.js";

/** A chart's text cut into its header and its sections, before anything is resolved. */
export interface Outline {
  /** The lines before the first section, row, or other line that only a section can hold. */
  readonly header: readonly Line[];
  readonly headerStarts: readonly number[];
  readonly sections: readonly OutlinedSection[];
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
  const back = previous === undefined ? noSections : sameBack(tree, previous, front);
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
  const sections = [...front, ...middle, ...back];
  if (previous !== undefined && front.length > 0) {
    return { header: previous.header, headerStarts: previous.headerStarts, sections };
  }
  const headerEnd = sections[0]?.firstLine ?? tree.lines.length;
  return { header: tree.lines.slice(0, headerEnd), headerStarts: tree.starts.slice(0, headerEnd), sections };
}

const noSections: readonly OutlinedSection[] = [];

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
function sameFront(tree: Tree, { header, sections: old }: Outline): readonly OutlinedSection[] {
  const front: OutlinedSection[] = [];
  for (let i = 0; i < header.length; i++) if (tree.lines[i] !== header[i]) return front;
  let first = header.length;
  for (const it of old) {
    const end = first + it.source.lines.length;
    const isWhole = end === tree.lines.length || (end < tree.lines.length && opens(tree, end, false));
    if (!isWhole || !hasLines(it.source, tree, first)) return front;
    // Nothing before it has changed, so it stands where it stood.
    front.push(it);
    first = end;
  }
  return front;
}

/** The sections that stand at the end of both. */
function sameBack(
  tree: Tree,
  { sections: old }: Outline,
  front: readonly OutlinedSection[],
): readonly OutlinedSection[] {
  const back: OutlinedSection[] = [];
  const least = endOf(front) ?? 0;
  let end = tree.lines.length;
  for (let i = old.length - 1; i >= front.length; i--) {
    const it = old[i] as OutlinedSection;
    const first = end - it.source.lines.length;
    if (first < least || it.source.nameSpan === undefined || !hasLines(it.source, tree, first)) break;
    const offset = tree.starts[first] as number;
    back.push(
      first === it.firstLine && offset === it.offset ? it : { source: it.source, firstLine: first, offset },
    );
    end = first;
  }
  return back.reverse();
}

function hasLines({ lines }: SectionSource, tree: Tree, first: number): boolean {
  for (let i = 0; i < lines.length; i++) if (lines[i] !== tree.lines[first + i]) return false;
  return true;
}

function readSource(lines: readonly Line[], text: string): SectionSource {
  const starts: number[] = [];
  let at = 0;
  for (const line of lines) {
    starts.push(at);
    at += line.text.length;
  }
  const hasForm = lines.some(({ statement }) => statement.kind === "form");
  const head = lines[0]?.statement;
  return head?.kind === "section"
    ? { name: head.name, nameSpan: head.nameSpan, lines, starts, text, hasForm }
    : { name: "", nameSpan: undefined, lines, starts, text, hasForm };
}
