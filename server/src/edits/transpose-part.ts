import { nextHome } from "../chart/home-octave.js";
import type { ChordEvent, Note, PlacedSection, Section, SectionSource, System } from "../chart/model.js";
import { outline } from "../chart/outline.js";
import { resolveSection } from "../chart/section.js";
import { parse } from "../syntax/parse.js";
import type { Line, PitchedRow } from "../syntax/tree.js";
import { applyEdits } from "../text/edits.js";
import type { Span } from "../text/span.js";
import { type Key, keyName } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import type { ChartText } from "./chart-text.js";
import { type Move, type MoveWriter, moveSectionText, setKeyLine } from "./move-text.js";
import type { EditResult } from "./result.js";
import { finish, type KeyTarget, newWriter, refusal } from "./transpose.js";

type Refused = Extract<EditResult, { refused: string }>;

/** Systems of one section, `from` to before `to`, and how they move. */
export interface Part {
  readonly placed: PlacedSection;
  readonly from: number;
  readonly to: number;
}

/** Moves one section to a key: sets or adds its `key` line and rewrites its letters. */
export function transposeSection(text: ChartText, placed: PlacedSection, target: KeyTarget): EditResult {
  const parts = partsOfSection(placed);
  return parts.length === 0
    ? { refused: "This section has no rows to move." }
    : transposeParts(text, parts, target);
}

/** Moves what a selection touches, widened to whole systems: a `key` line before it, and the old key after it. */
export function transposeSelection(text: ChartText, selection: Span, target: KeyTarget): EditResult {
  const parts = partsTouched(text, selection);
  return parts.length === 0
    ? { refused: "No row of the chart is selected. Select the bars that should move." }
    : transposeParts(text, parts, target);
}

/** A section as what moves; nothing where it has no rows. */
export function partsOfSection(placed: PlacedSection): readonly Part[] {
  const to = placed.section.systems.length;
  return to === 0 ? [] : [{ placed, from: 0, to }];
}

/** The systems that a selection touches, for each section one run. */
export function partsTouched({ chart }: Pick<ChartText, "chart">, selection: Span): readonly Part[] {
  const parts: Part[] = [];
  for (const placed of chart.sections) {
    if (placed.path !== undefined) continue;
    const { offset, section } = placed;
    if (offset > selection.end || offset + section.source.text.length < selection.start) continue;
    const touched = section.systems.filter((system) => {
      const { first, last } = linesOf(section, system);
      const { starts, lines } = section.source;
      const start = offset + (starts[first] as number);
      const end = offset + (starts[last] as number) + (lines[last] as Line).text.length;
      return start <= selection.end && end > selection.start;
    });
    const [first, last] = [touched[0], touched[touched.length - 1]];
    if (first !== undefined && last !== undefined)
      parts.push({ placed, from: first.index, to: last.index + 1 });
  }
  return parts;
}

/** The key in which a part starts now. */
export const keyOfPart = ({ placed, from }: Part): Key => (placed.section.systems[from] as System).home.key;

/** How a part moves when it is brought to another tonic. */
export function moveOfPart({ placed: { section }, from }: Part, tonic: number): Move {
  const { home } = section.systems[from] as System;
  const before = section.systems[from - 1]?.home ?? section.context.home;
  const { one } = nextHome(before, { ...home.key, tonic }, section.context.firstOne);
  return { fifths: tonic - home.key.tonic, halfSteps: one - home.one, home: false };
}

/** The indices of a system's first and last row among the lines of its section. */
function linesOf({ source }: Section, { rows }: System): { readonly first: number; readonly last: number } {
  const at = rows.map(({ start }) => source.starts.indexOf(start));
  return { first: Math.min(...at), last: Math.max(...at) };
}

function transposeParts(text: ChartText, parts: readonly Part[], target: KeyTarget): EditResult {
  const writer = newWriter(text);
  const moves: Move[] = [];
  for (const part of parts) {
    const refused = refusal(target, keyOfPart(part)) ?? refuseNameless(part);
    if (refused !== undefined) return refused;
    moves.push(movePart(writer, part, target.tonic));
  }
  const result = finish(writer, text.tree);
  if ("refused" in result) return result;
  const after = outline(parse(applyEdits(text.tree.text, result.edits)));
  for (const [i, part] of parts.entries()) {
    const source = after.sections[text.chart.sections.indexOf(part.placed)]?.source;
    const refused = refuseUneven(part, (moves[i] as Move).halfSteps, source);
    if (refused !== undefined) return refused;
  }
  return result;
}

const refuseNameless = ({ placed, from }: Part): Refused | undefined =>
  placed.section.source.nameSpan === undefined && from === 0
    ? {
        refused:
          "Bars before the first section can't have a key of their own. Put a line such as “section Verse” above them, then move them.",
      }
    : undefined;

function movePart(writer: MoveWriter, part: Part, tonic: number): Move {
  const { placed, from, to } = part;
  const { section, offset } = placed;
  const { lines, starts } = section.source;
  const system = section.systems[from] as System;
  const before = section.systems[from - 1];
  const next = section.systems[to];
  const { first } = linesOf(section, system);
  const { last } = linesOf(section, section.systems[to - 1] as System);
  const key = { ...system.home.key, tonic };
  const move = moveOfPart(part, tonic);
  if (move.fifths === 0 && move.halfSteps === 0) return move;
  const keyLine = lastKeyLine(lines, before === undefined ? 0 : linesOf(section, before).last, first);
  if (keyLine === undefined)
    insertKey(writer, lines, offset + (starts[first] as number), first, keyName(key));
  else {
    const line = lines[keyLine] as Line;
    if (line.statement.kind === "key") {
      setKeyLine(writer, line, offset + (starts[keyLine] as number), line.statement, tonic);
    }
  }
  const end = next === undefined ? lines.length : last + 1;
  moveSectionText(writer, section.source, offset, move, { from: first, to: end }, undefined);
  if (next !== undefined && lastKeyLine(lines, last, linesOf(section, next).first) === undefined) {
    const at = offset + (starts[last + 1] as number);
    insertKey(writer, lines, at, first, keyName(next.home.key));
  }
  return move;
}

/** The last `key` line between two lines. */
function lastKeyLine(lines: readonly Line[], after: number, before: number): number | undefined {
  for (let i = before - 1; i > after; i--) {
    const { statement } = lines[i] as Line;
    if (statement.kind === "key" && statement.tonic !== undefined) return i;
  }
  return undefined;
}

/** Puts a `key` line in, indented as the rows are. */
function insertKey(writer: MoveWriter, lines: readonly Line[], at: number, row: number, name: string): void {
  const { text } = lines[row] as Line;
  const indent = /^[ \t]*/.exec(text)?.[0] ?? "";
  const lineEnd = lines.map((line) => /[\r\n]+$/.exec(line.text)?.[0]).find((it) => it !== undefined) ?? "\n";
  writer.edits.push({ span: { start: at, end: at }, text: `${indent}key ${name}${lineEnd}` });
}

/** Why a move that would not take everything along by the same distance is not made. */
function refuseUneven(
  { placed, from, to }: Part,
  halfSteps: number,
  source: SectionSource | undefined,
): Refused | undefined {
  const { section } = placed;
  if (source === undefined) return undefined;
  const moved = resolveSection(source, section.context);
  const isInside = (bar: number): boolean => {
    const system = section.bars[bar]?.system ?? -1;
    return system >= from && system < to;
  };
  const wrong =
    firstWrong(section.chords, moved.chords, (before, after) => {
      const by = isInside(before.bar) ? halfSteps : 0;
      return (pitchClass(after.chord.root) - pitchClass(before.chord.root) - by) % 12 === 0;
    }) ??
    rows
      .map((row) =>
        firstWrong(section.rows[row].notes, moved.rows[row].notes, (before, after) => {
          const by = isInside(before.bar) ? halfSteps : 0;
          return after.pitch.midi - before.pitch.midi === by;
        }),
      )
      .find((it) => it !== undefined);
  if (wrong === undefined) return undefined;
  return {
    refused: `“${wrong.text}” in bar ${wrong.bar + 1} would not move with the rest: it hangs on a chord, a bar or a key outside. Write it out, or take more into the selection.`,
  };
}

const rows: readonly PitchedRow[] = ["lead", "right", "left", "bass"];

function firstWrong<T extends ChordEvent | Note>(
  before: readonly T[],
  after: readonly T[],
  isRight: (before: T, after: T) => boolean,
): T | undefined {
  return before.find((it, i) => {
    const there = after[i];
    return there === undefined || !isRight(it, there);
  });
}
