import type { Section } from "../chart/model.js";
import { isTextRow } from "../syntax/text-row.js";
import type { PitchedRow, RowName } from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import { sliceOf } from "../text/span.js";
import { type Key, prettyKey } from "../theory/key.js";
import { prettyName } from "../theory/note-name.js";
import type { SectionCheck } from "./check.js";
import { marksOf } from "./marks.js";

/** A sign for what the key's own scale has already. Text that `%` repeats in another key has to keep what it says here. */
export const minorDegree: SectionCheck<"minor-degree"> = {
  code: "minor-degree",
  run({ section }, report) {
    const keysOf = keysOfTexts(section);
    for (const { span, degree, key, fifths, row } of marksOf(section, "minor-degree")) {
      const keys = keysOf(row, span.start);
      if (keys.some((it) => !isSame(it, key))) continue;
      const wrote = sliceOf(section.source.text, span);
      const write = `${degree}`;
      const fixes = [{ title: `Write ${write}`, edits: [{ span, text: write }], silent: true }];
      report(span, { wrote, write, key: prettyKey(key), tone: prettyName(fifths) }, { row, fixes });
    }
  },
};

const isSame = (a: Key, b: Key): boolean => a.tonic === b.tonic && a.mode === b.mode;

/** The keys in which the text at a place sounds, where a section has several: a chord keeps its sound, whatever repeats it. */
function keysOfTexts({ systems, rows }: Section): (row: RowName, at: number) => readonly Key[] {
  const first = systems[0]?.home.key;
  if (first === undefined || systems.every(({ home }) => isSame(home.key, first))) return () => [];
  const known = new Map<
    PitchedRow,
    { readonly starts: readonly number[]; readonly keys: readonly Key[][] }
  >();
  return (row, at) => {
    if (row === "chords" || isTextRow(row)) return [];
    const texts = known.get(row) ?? textsOf(row);
    known.set(row, texts);
    return texts.keys[indexAt(texts.starts, at)] ?? [];
  };

  function textsOf(row: PitchedRow) {
    const byStart = new Map<number, Key[]>();
    for (const { span, system } of rows[row].slots) {
      const key = systems[system]?.home.key;
      if (key === undefined) continue;
      const there = byStart.get(span.start);
      if (there === undefined) byStart.set(span.start, [key]);
      else if (!there.some((it) => isSame(it, key))) there.push(key);
    }
    const sorted = [...byStart].sort(([a], [b]) => a - b);
    return { starts: sorted.map(([start]) => start), keys: sorted.map(([, keys]) => keys) };
  }
}
