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
  const begins: number[] = [];
  for (let i = 0; i < tree.lines.length; i++) {
    const { kind } = (tree.lines[i] as Line).statement;
    if (kind === "section" || (begins.length === 0 && opensNameless.has(kind))) begins.push(i);
  }
  const headerEnd = begins[0] ?? tree.lines.length;
  const sections = new Array<OutlinedSection>(begins.length);
  const old = previous?.sections ?? [];
  const place = (i: number, source: SectionSource): OutlinedSection => ({
    source,
    firstLine: begins[i] as number,
    offset: tree.starts[begins[i] as number] as number,
  });
  const endOf = (i: number): number => begins[i + 1] ?? tree.lines.length;

  let front = 0;
  while (front < begins.length && front < old.length) {
    const { source } = old[front] as OutlinedSection;
    if (!hasLines(source, tree, begins[front] as number, endOf(front))) break;
    sections[front] = place(front, source);
    front++;
  }
  let back = 0;
  while (back < begins.length - front && back < old.length - front) {
    const { source } = old[old.length - 1 - back] as OutlinedSection;
    const i = begins.length - 1 - back;
    if (!hasLines(source, tree, begins[i] as number, endOf(i))) break;
    sections[i] = place(i, source);
    back++;
  }
  const known = new Map<string, SectionSource>();
  if (front + back < begins.length) {
    for (const { source } of old) known.set(source.text, source);
  }
  for (let i = front; i < begins.length - back; i++) {
    const first = begins[i] as number;
    const lines = tree.lines.slice(first, endOf(i));
    const start = tree.starts[first] as number;
    const text = tree.text.slice(start, tree.starts[endOf(i)] ?? tree.text.length);
    let source = known.get(text);
    if (source === undefined) {
      source = readSource(lines, text);
      known.set(text, source);
    }
    sections[i] = place(i, source);
  }
  return { header: tree.lines.slice(0, headerEnd), headerStarts: tree.starts.slice(0, headerEnd), sections };
}

function hasLines(source: SectionSource, tree: Tree, first: number, end: number): boolean {
  if (source.lines.length !== end - first) return false;
  for (let i = first; i < end; i++) if (source.lines[i - first] !== tree.lines[i]) return false;
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
