import type { Document } from "../document/document.js";
import { tempoLineEdit } from "../edits/tempo-line.js";
import { sliceOf } from "../text/span.js";
import type { Change } from "./change.js";

/** What a `tempo` line may say, in beats a minute. */
const [slowest, fastest] = [1, 999] as const;

export const isTempo = (value: unknown): value is number =>
  Number.isInteger(value) && (value as number) >= slowest && (value as number) <= fastest;

/** Writes the chart's tempo at its head. Sections that say their own keep it, and are named. */
export function setTempo({ chart, text }: Document, tempo: number): Change {
  const edit = tempoLineEdit(chart.outline, tempo);
  const edits = sliceOf(text, edit.span) === edit.text ? [] : [edit];
  const own = chart.sections
    .filter(({ section, path }) => path === undefined && section.source.lines.some(saysTempo))
    .map(({ section }) => (section.name === "" ? "The music before the first section" : section.name));
  const notes = own.map((name) => `${name} has a tempo line of its own and keeps it.`);
  return { edits, notes: edits.length === 0 ? [] : notes };
}

const saysTempo = ({ statement }: { readonly statement: { readonly kind: string } }): boolean =>
  statement.kind === "tempo";
