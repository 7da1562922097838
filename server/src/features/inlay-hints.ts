import { chordsIn, slotsIn } from "../chart/in-bar.js";
import type { ChordEvent, Note, PlacedSection, SlotEvent, System, SystemRow } from "../chart/model.js";
import { type Document, reachInForce } from "../document/document.js";
import { usualReach } from "../keyboard/hand.js";
import { isTextRow } from "../syntax/text-row.js";
import type { PitchedRow } from "../syntax/tree.js";
import type { Span } from "../text/span.js";
import { prettyChord } from "../theory/chord.js";
import { prettyName } from "../theory/note-name.js";
import { fingeringOf } from "./fingering.js";
import { lastSystemBefore } from "./system-at.js";

/** Which hints are wanted; none by default. */
export interface HintsWanted {
  /** Note names behind the numbers of the hands and the melody. */
  readonly notes?: boolean;
  /** Letters behind chords written as numbers. */
  readonly letters?: boolean;
  /** The fingers of what a hand strikes, from the lowest key up. */
  readonly fingering?: boolean;
}

/** A word shown behind a place of the text. */
export interface InlayHint {
  readonly at: number;
  readonly text: string;
}

/**
 * What the numbers in a range mean in the key that they are written in: `3+5+b7` sounds `G B♭ D♭`, `4maj7` is
 * `A♭maj7`. In order of the text; costs by the range.
 */
export function inlayHints(document: Document, range: Span, wanted: HintsWanted): readonly InlayHint[] {
  const { notes = false, letters = false, fingering = false } = wanted;
  if (!notes && !letters && !fingering) return [];
  const hints: InlayHint[] = [];
  for (const placed of sectionsIn(document, range)) {
    const { systems } = placed.section;
    const from = Math.max(0, lastSystemBefore(placed, range.start - placed.offset));
    for (let i = from; i < systems.length; i++) {
      const system = systems[i] as System;
      if ((system.rows[0]?.start ?? 0) + placed.offset > range.end) break;
      for (const row of system.rows)
        rowHints(document, placed, system, row, { notes, letters, fingering }, hints);
    }
  }
  return hints.filter(({ at }) => range.start <= at && at <= range.end).sort((a, b) => a.at - b.at);
}

/** The chart's own sections whose text a range touches. */
function sectionsIn({ outline, chart }: Document, range: Span): readonly PlacedSection[] {
  const { sections } = outline;
  let low = 0;
  let high = sections.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const { offset, source } = sections[middle] as (typeof sections)[number];
    if (offset + source.text.length < range.start) low = middle + 1;
    else high = middle;
  }
  const found: PlacedSection[] = [];
  for (let i = low; i < sections.length && (sections[i]?.offset ?? 0) <= range.end; i++) {
    found.push(chart.sections[i] as PlacedSection);
  }
  return found;
}

function rowHints(
  document: Document,
  placed: PlacedSection,
  { firstBar, endBar }: System,
  { row, start }: SystemRow,
  { notes, letters, fingering }: HintsWanted,
  hints: InlayHint[],
): void {
  if (isTextRow(row) || (row === "chords" ? !letters : !notes && !fingering)) return;
  const { offset } = placed;
  const end = start + lineLength(placed, start);
  const add = (span: Span, text: string | undefined): void => {
    // What a bar repeats stands in a line of its own.
    if (text !== undefined && start <= span.start && span.end <= end)
      hints.push({ at: span.end + offset, text });
  };
  const ofBar = (bar: number, pickup: boolean): void => {
    if (row === "chords") {
      for (const it of chordsIn(placed, bar, pickup)) add(it.span, lettersOf(it, document.text, offset));
    } else {
      for (const it of slotsIn(placed, row, bar, pickup)) {
        const said = [
          notes ? namesOf(it, row) : undefined,
          fingering ? fingersOf(document, placed, it) : undefined,
        ];
        add(it.span, said.filter((text) => text !== undefined).join(" · ") || undefined);
      }
    }
  };
  ofBar(firstBar, true);
  for (let bar = firstBar; bar < endBar; bar++) ofBar(bar, false);
}

function lineLength({ section: { source } }: PlacedSection, start: number): number {
  const end = source.text.indexOf("\n", start);
  return (end < 0 ? source.text.length : end) - start;
}

/** A chord's letters, where it is written as a number and here. */
function lettersOf(event: ChordEvent, text: string, offset: number): string | undefined {
  if (event.repeatedBy !== undefined) return undefined;
  const first = text.slice(event.span.start + offset, event.span.end + offset);
  return /^\/?[A-G]/.test(first) ? undefined : prettyChord(event.chord);
}

/** The notes of a stack that is written with numbers, from the lowest up. */
function namesOf(event: SlotEvent, row: PitchedRow): string | undefined {
  if (event.kind !== "stack" || event.repeatedBy !== undefined || event.row !== row) return undefined;
  const notes: readonly Note[] = [...event.struck.filter(({ grace }) => !grace), ...event.held];
  if (!notes.some(({ tone }) => tone.name.kind === "number")) return undefined;
  return [...notes]
    .sort((a, b) => a.pitch.midi - b.pitch.midi)
    .map(({ pitch }) => prettyName(pitch.fifths))
    .join(" ");
}

/** The fingers of a stack that a hand plays and that stands here. */
function fingersOf(document: Document, { section }: PlacedSection, event: SlotEvent): string | undefined {
  const { hand } = event;
  if (hand === undefined || event.kind !== "stack" || event.repeatedBy !== undefined) return undefined;
  const reach = reachInForce(document)[hand] ?? usualReach;
  return fingeringOf(section, hand, reach).get(event)?.join(" ");
}
