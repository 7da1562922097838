import type { PlacedSection } from "../chart/model.js";
import { movedBy } from "../chart/moves.js";
import type { Document } from "../document/document.js";
import { isUnread } from "../problems/unread.js";
import type { Line } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { indexAt } from "../text/lines.js";
import { sliceOf } from "../text/span.js";
import { type Key, practical } from "../theory/key.js";
import { nameOf, pitchClass } from "../theory/note-name.js";
import type { Change } from "./change.js";
import { keysFrom } from "./keys.js";
import { canBeSaid, sectionWord } from "./section-word.js";

/** The order of the twelve keys: from key to key a fourth up, a half step up, or in any order, each once. */
export type PractiseOrder = "fourths" | "half-steps" | "shuffled";

/** Stands behind the lines that practising writes, so that it finds them again. */
const mark = "; practice";

/**
 * Writes the form through the twelve keys: the form as it is, then once for each other key. The lines that an earlier
 * practice wrote are taken away. `seed`, any whole number, decides the order where it is shuffled.
 */
export function practise(document: Document, order: PractiseOrder, seed: number): Change {
  const { chart, tree } = document;
  const unread = unreadForm(document);
  if (unread !== undefined) {
    return {
      refused: `The form in line ${unread + 1} can't be read as it stands. Mend it first: practice goes on from it.`,
    };
  }
  const own = writtenForm(document);
  if (own.length === 0) return { refused: "There is no section to practise yet. Write one first." };
  const unsaid = own.find(({ name }) => !canBeSaid(name));
  if (unsaid !== undefined) {
    return {
      refused:
        unsaid.name === ""
          ? "Bars before the first section have no name that a form could say. Put a line such as “section Verse” above them first."
          : `The section ${unsaid.name} has a quotation mark in its name, so that no form can say it. Write the name without it first.`,
    };
  }
  const home = chart.header.home.key;
  const keys = ordered(keysFrom(home), order, seed).slice(1);
  const rounds = keys.map((key) => `form ${own.map((step) => inKey(step, key, home)).join(" ")}  ${mark}`);
  const isSaid = tree.lines.some((line) => line.statement.kind === "form" && !isPractice(line));
  const asWritten = `form ${own.map(({ text }) => text).join(" ")}  ${mark}`;
  const lines = isSaid ? rounds : [asWritten, ...rounds];
  return { edits: [...withoutPractice(document), ...inserted(document, lines)], notes: [] };
}

/** Takes the lines away that practising has written; nothing where there are none. */
export const endPractice = (document: Document): Change => ({
  edits: withoutPractice(document),
  notes: [],
});

/** The first line of the form, as the player wrote it, that has something in it that can't be read there. */
function unreadForm({ tree, problems }: Document): number | undefined {
  const wrong = problems.filter(isUnread).map(({ span }) => indexAt(tree.starts, span.start));
  return wrong.find((i) => {
    const line = tree.lines[i];
    return line?.statement.kind === "form" && !isPractice(line);
  });
}

/** Whether a practice has left lines. */
export const hasPractice = ({ tree }: Document): boolean =>
  tree.lines.some((line) => line.statement.kind === "form" && isPractice(line));

/** A word of the form in the chart's own key: its section, the key that it starts in, and its text. */
interface Step {
  readonly placed: PlacedSection;
  readonly key: Key;
  readonly name: string;
  readonly times: string;
  readonly text: string;
}

/** The form without what a practice has written; without any `form` line every section in its turn. */
function writtenForm({ chart, tree }: Document): readonly Step[] {
  const steps: Step[] = [];
  const { home } = chart.header;
  for (const [i, line] of tree.lines.entries()) {
    if (line.statement.kind !== "form" || isPractice(line)) continue;
    for (const item of line.statement.items) {
      const placed = chart.formWords.find(
        (it) => it.item === item && it.lineStart === tree.starts[i],
      )?.section;
      if (placed === undefined) continue;
      const times = item.times === 1 ? "" : ` x${item.times}`;
      const { key } = movedBy(item.move, placed.section, home);
      steps.push({ placed, key, name: item.name, times, text: sliceOf(line.text, item.span) });
    }
  }
  if (steps.length > 0) return steps;
  return chart.sections
    .filter(({ path, section }) => path === undefined && section.bars.length > 0)
    .map((placed) => {
      const { name, start } = placed.section;
      return { placed, key: start.key, name, times: "", text: sectionWord(name) };
    });
}

const isPractice = ({ text }: Line): boolean => text.trimEnd().endsWith(mark);

/** The word of a step when the whole form is played in `key` in place of `home`. */
function inKey({ key, name, times }: Step, { tonic }: Key, home: Key): string {
  const moved = practical({ mode: key.mode, tonic: key.tonic + tonic - home.tonic });
  return `${sectionWord(name)}${times} in ${nameOf(moved.tonic)}`;
}

/** Twelve keys from the first on, in the order of a practice; the first stays the first. */
function ordered(keys: readonly Key[], order: PractiseOrder, seed: number): readonly Key[] {
  const [first, ...others] = keys;
  if (first === undefined) return keys;
  if (order === "half-steps") return keys;
  if (order === "shuffled") return [first, ...shuffled(others, seed)];
  return keys.map((_, i) => {
    const wanted = pitchClass(first.tonic - i);
    return keys.find(({ tonic }) => pitchClass(tonic) === wanted) as Key;
  });
}

/** Durstenfeld's shuffle (1964), fed by Park and Miller's minimal standard generator (1988). */
function shuffled<T>(items: readonly T[], seed: number): readonly T[] {
  const result = [...items];
  const modulus = 2_147_483_647;
  let state = (Math.abs(Math.trunc(Number.isFinite(seed) ? seed : 0)) % (modulus - 1)) + 1;
  const next = (): number => {
    state = (state * 48_271) % modulus;
    return state;
  };
  // Seeds that lie near each other start alike.
  for (let i = 0; i < 4; i++) next();
  for (let i = result.length - 1; i > 0; i--) {
    const k = next() % (i + 1);
    [result[i], result[k]] = [result[k] as T, result[i] as T];
  }
  return result;
}

function withoutPractice({ tree }: Document): readonly Edit[] {
  return tree.lines.flatMap((line, i): Edit[] => {
    if (line.statement.kind !== "form" || !isPractice(line)) return [];
    const start = tree.starts[i] as number;
    return [{ span: { start, end: start + line.text.length }, text: "" }];
  });
}

/** The lines put behind the last form line, else at the end of the header, else in front of the first section. */
function inserted({ outline, tree, text }: Document, lines: readonly string[]): readonly Edit[] {
  const lineEnd = /\r\n|\n|\r/.exec(text)?.[0] ?? "\n";
  const isLast = (line: Line, i: number): boolean =>
    line.statement.kind === "form"
      ? !isPractice(line)
      : line.statement.kind !== "blank" && i < outline.header.length;
  const form = tree.lines.findLastIndex((line) => line.statement.kind === "form" && !isPractice(line));
  const last = form >= 0 ? form : tree.lines.findLastIndex(isLast);
  const above = tree.lines[last];
  if (above !== undefined) {
    const at = (tree.starts[last] as number) + above.text.replace(/[\r\n]+$/, "").length;
    return [{ span: { start: at, end: at }, text: lines.map((it) => lineEnd + it).join("") }];
  }
  const start = outline.sections[0]?.offset ?? 0;
  const at = start === 0 && text.startsWith("\uFEFF") ? 1 : start;
  return [{ span: { start: at, end: at }, text: lines.map((it) => it + lineEnd).join("") }];
}
