import type { Slot } from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { minus, plus } from "../theory/fraction.js";
import { type BarFrame, type Layout, rowIn } from "./layout.js";
import type { Mark, RowEvents, SlotEvent, SystemRow, Word } from "./model.js";
import { strikes } from "./strikes.js";

/** A syllable as written; `undefined` for the `_` that lets the one before run on. */
interface Syllable {
  readonly text: string | undefined;
  readonly span: Span;
}

/** The syllables of every bar, each on its lead note. */
export function resolveWords(
  layout: Layout,
  text: string,
  lead: RowEvents,
  marks: Mark[],
): ReadonlyMap<number, Word[]> {
  const words = new Map<number, Word[]>();
  if (!layout.systems.some((system) => rowIn(system, "words") !== undefined)) return words;
  const sung: SlotEvent[][] = [];
  const pickups: SlotEvent[][] = [];
  for (const slot of lead.slots) {
    const places = slot.pickup ? pickups : sung;
    const there = places[slot.bar];
    if (there === undefined) places[slot.bar] = [slot];
    else there.push(slot);
  }
  const add = (bar: number, more: Word[]): void => {
    const there = words.get(bar);
    if (there === undefined) words.set(bar, more);
    else there.push(...more);
  };
  for (const system of layout.systems) {
    const verses = system.rows.filter(({ row }) => row === "words");
    const hasLead = rowIn(system, "lead") !== undefined;
    verses.forEach(({ line, start }: SystemRow, index) => {
      const verse = index + 1;
      const place = (slots: readonly Slot[], bar: BarFrame, onto: readonly SlotEvent[]): void => {
        const syllables = syllablesOf(slots, text, start);
        if (syllables.length === 0) return;
        if (!hasLead) add(bar.index, [underBar(syllables, bar, verse, text)]);
        else add(bar.index, onNotes(syllables, onto, verse, marks));
      };
      const first = layout.bars[system.firstBar];
      if (first !== undefined) place(line.pickup, first, pickups[system.firstBar] ?? []);
      line.bars.forEach((written, i) => {
        const bar = layout.bars[system.firstBar + i] as BarFrame;
        place(written.slots, bar, sung[bar.index] ?? []);
      });
    });
  }
  return words;
}

/** `Har-bour _` gives `Har-`, `bour` and a running on. A `-` alone belongs to the syllable before it. */
function syllablesOf(slots: readonly Slot[], text: string, lineStart: number): Syllable[] {
  const syllables: { text: string | undefined; span: Span }[] = [];
  for (const slot of slots) {
    const span = shift(slot.span, lineStart);
    const written = sliceOf(text, span);
    if (!written.includes("-") && !written.includes("_")) {
      syllables.push({ text: written, span });
      continue;
    }
    for (const found of written.matchAll(/_|[^-_]+-?|-/gu)) {
      const at = span.start + found.index;
      const part = { start: at, end: at + found[0].length };
      if (found[0] !== "-") syllables.push({ text: found[0] === "_" ? undefined : found[0], span: part });
      else {
        const before = syllables.findLast((it) => it.text !== undefined);
        if (before?.text?.endsWith("-") === false) before.text += "-";
      }
    }
  }
  return syllables;
}

function underBar(syllables: readonly Syllable[], bar: BarFrame, verse: number, text: string): Word {
  const span = {
    start: (syllables[0] as Syllable).span.start,
    end: (syllables[syllables.length - 1] as Syllable).span.end,
  };
  return { verse, text: sliceOf(text, span).replace(/[ \t]+/g, " "), at: bar.at, length: bar.length, span };
}

function onNotes(
  syllables: readonly Syllable[],
  slots: readonly SlotEvent[],
  verse: number,
  marks: Mark[],
): Word[] {
  const notes = slots.filter(strikes);
  const words: { -readonly [K in keyof Word]: Word[K] }[] = [];
  syllables.forEach(({ text, span }, i) => {
    const slot = notes[i];
    if (slot === undefined) return;
    const last = words[words.length - 1];
    if (text !== undefined) words.push({ verse, text, at: slot.at, length: slot.lasts, span });
    else if (last !== undefined) last.length = minus(plus(slot.at, slot.lasts), last.at);
  });
  // The last syllable runs on through the notes that are left.
  const last = words[words.length - 1];
  const end = notes[notes.length - 1];
  if (last !== undefined && end !== undefined && syllables.length < notes.length) {
    last.length = minus(plus(end.at, end.lasts), last.at);
  }
  const isJudged = (): boolean =>
    slots.every(({ kind, placed }) => (kind === "stack" ? placed?.tones.length !== 0 : kind !== "unread"));
  if (syllables.length > notes.length && isJudged()) {
    const span = {
      start: (syllables[notes.length] as Syllable).span.start,
      end: (syllables[syllables.length - 1] as Syllable).span.end,
    };
    marks.push({ kind: "too-many-words", row: "words", span, words: syllables.length, notes: notes.length });
  }
  return words;
}
