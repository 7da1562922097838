import { isUnread } from "../problems/unread.js";
import type { Line, Tree } from "../syntax/tree.js";
import { type Span, sliceOf } from "../text/span.js";
import { type Key, type ModeName, practical, prettyKey, signature } from "../theory/key.js";
import { nameOf } from "../theory/note-name.js";
import type { ChartText } from "./chart-text.js";
import { lettersOf } from "./letters.js";
import {
  blockMove,
  itemsOf,
  type MoveWriter,
  moveHeaderKey,
  moveItem,
  moveSectionText,
} from "./move-text.js";
import type { EditNote, EditResult } from "./result.js";
import { unreadNotes } from "./unread-notes.js";
import { signStyle } from "./written-name.js";

/** Where a chart should go: a tonic, and the mode only where it was said. */
export interface KeyTarget {
  /** Its place on the line of fifths. */
  readonly tonic: number;
  readonly mode: ModeName | undefined;
}

/** The widest signature that is written, in sharps or flats. */
const widest = 7;

/** Why a key can't be moved to; `undefined` where it can. */
export function refusal(target: KeyTarget, now: Key): Extract<EditResult, { refused: string }> | undefined {
  const kept = { tonic: target.tonic, mode: now.mode };
  if (target.mode !== undefined && target.mode !== now.mode) {
    return {
      refused: `A move keeps the mode, and this is in ${prettyKey(now)}. Move it to ${prettyKey(kept)} instead.`,
      offer: nameOf(kept.tonic),
    };
  }
  if (Math.abs(signature(kept)) > widest) {
    const twin = practical(kept);
    return {
      refused: `${prettyKey(kept)} would need ${Math.abs(signature(kept))} ${signature(kept) > 0 ? "sharps" : "flats"}. Move it to ${prettyKey(twin)}: it sounds the same.`,
      offer: nameOf(twin.tonic),
    };
  }
  return undefined;
}

/**
 * The edits that move a whole chart to a key: `key` lines, every `in KEY` and every letter, and no other
 * character. Where it lands depends on where it was written and on the target alone.
 */
export function transposeChart(text: ChartText, target: KeyTarget): EditResult {
  const { chart, outline, tree } = text;
  const { header } = chart;
  const refused = refuseUnreadKey(text) ?? refusal(target, header.home.key);
  if (refused !== undefined) return refused;
  const move = blockMove(header, target.tonic);
  const writer = newWriter(text);
  // At home already, `(original …)` says nothing more and goes.
  if (move.fifths !== 0 || move.halfSteps !== 0 || header.original === target.tonic) {
    moveHeaderKey(writer, tree, outline, header, target.tonic);
    outline.header.forEach((line, i) => {
      for (const item of itemsOf(line.statement)) {
        moveItem(writer, line, tree.starts[i] as number, item, modeOf(text, item.name), move);
      }
    });
    for (const { source, offset } of outline.sections) {
      const all = { from: 0, to: source.lines.length };
      moveSectionText(writer, source, offset, move, all, (name) => modeOf(text, name));
    }
  }
  return finish(writer, tree);
}

/** The mode in which a section of this name starts; the chart's own where nobody has that name. */
const modeOf = ({ chart }: ChartText, name: string): ModeName =>
  (chart.sections.find(({ section }) => section.name === name)?.section.start ?? chart.header.home).key.mode;

/** A writer in the style in which the chart's own names are written. */
export function newWriter({ tree }: ChartText): MoveWriter {
  const names: string[] = [];
  const add = ({ text }: Line, span: Span): void => {
    names.push(sliceOf(text, span).replace(/[0-9]+$/, ""));
  };
  for (const line of tree.lines) {
    const { statement } = line;
    if (statement.kind === "key" && statement.tonic !== undefined) {
      add(line, statement.tonic.span);
      if (statement.original !== undefined) add(line, statement.original.tonic.span);
    } else if (statement.kind === "row") for (const letter of lettersOf(statement)) add(line, letter.span);
  }
  return { edits: [], tooFar: [], otherwise: [], style: signStyle(names) };
}

/** A key that can't be read can't be moved: nobody knows from where. */
function refuseUnreadKey({ tree }: ChartText): Extract<EditResult, { refused: string }> | undefined {
  const at = tree.lines.findIndex(
    ({ statement, problems }) => statement.kind === "key" && problems.some(isUnread),
  );
  if (at < 0) return undefined;
  return { refused: `The key in line ${at + 1} can't be read. Mend it first: a move counts from it.` };
}

/** The edits of a writer, with what can't be exact said; refused where a pitch can't be written any more. */
export function finish({ edits, tooFar, otherwise }: MoveWriter, tree: Tree): EditResult {
  const { text } = tree;
  const lost = tooFar[0];
  if (lost !== undefined) {
    return {
      refused: `The pitch ${sliceOf(text, lost)} would leave the octaves that can be written, 0 to 9. Write it nearer to the keyboard first.`,
    };
  }
  const respelled: EditNote[] = otherwise.slice(0, 1).map((span) => ({
    message: `Coming home, ${sliceOf(text, span)} will be spelled in the way of the other names in this chart; it sounds the same.`,
    span,
  }));
  return { edits, notes: [...unreadNotes(tree, "moved"), ...respelled] };
}
