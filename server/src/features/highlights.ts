import { locate } from "../chart/locate.js";
import type { Located } from "../chart/located.js";
import type { ChordEvent, Note, PlacedSection, SlotEvent } from "../chart/model.js";
import { sectionWords } from "../checks/section-words.js";
import type { Document } from "../document/document.js";
import { type Span, shift } from "../text/span.js";
import { chordSymbol } from "../theory/chord.js";
import { nameSpanOf, sectionNamedAt } from "./section-uses.js";

/** A place that belongs with the one under the cursor. */
export interface Highlight {
  readonly span: Span;
  /** `struck`: where a section opens or a note is struck; `used`: where it is named or held; `alike`: the same chord. */
  readonly kind: "struck" | "used" | "alike";
}

/**
 * What belongs with the place at `offset`, in the order of the text: all places of a section's name, all places of
 * the same chord in the section, a note and what holds it.
 */
export function highlights(document: Document, offset: number): readonly Highlight[] {
  const here = locate(document, offset);
  return inOrder(highlightsOf(document, here, offset));
}

function highlightsOf(document: Document, here: Located, offset: number): readonly Highlight[] {
  switch (here.kind) {
    case "section":
    case "section-use":
      return namesLike(document, offset);
    case "chord":
      return here.event === undefined ? [] : chordsLike(here.placed, here.event);
    case "chord-sign": {
      const [event] = here.events;
      // `%` strikes several, and is no place of any one.
      if (event === undefined || here.sign === "%") return [];
      return here.sign === "r" || here.sign === "NC" ? [] : chordsLike(here.placed, event);
    }
    case "tone":
    case "grace":
      return here.note === undefined ? [] : noteAndHolds(here.placed, here.note);
    case "stack":
    case "note-sign":
      return here.event === undefined ? [] : slotAndHolds(here.placed, here.event);
    default:
      return [];
  }
}

function namesLike(document: Document, offset: number): readonly Highlight[] {
  const named = sectionNamedAt(document, offset);
  if (named === undefined) return [];
  const { chart, path } = document;
  const { name, section, opens } = named;
  // A second section of the name is one that no word means.
  if (opens !== undefined && section === undefined) return [{ span: named.span, kind: "struck" }];
  const found: Highlight[] = sectionWords(chart)
    .filter(({ item }) => item.name === name)
    .map(({ item, lineStart }) => ({ span: shift(item.nameSpan, lineStart), kind: "used" }));
  const own =
    section?.path === path ? chart.sections[chart.outline.contents.names.get(name) ?? -1] : undefined;
  if (own !== undefined) found.push({ span: nameSpanOf(own), kind: "struck" });
  return found;
}

function chordsLike({ section, offset }: PlacedSection, { chord }: ChordEvent): readonly Highlight[] {
  const wanted = chordSymbol(chord);
  return section.chords
    .filter((it) => it.repeatedBy === undefined && chordSymbol(it.chord) === wanted)
    .map(({ span }) => ({ span: shift(span, offset), kind: "alike" }));
}

const noteAndHolds = ({ offset }: PlacedSection, note: Note): readonly Highlight[] => [
  { span: shift(note.span, offset), kind: "struck" },
  ...note.heldBy.map(({ span }): Highlight => ({ span: shift(span, offset), kind: "used" })),
];

function slotAndHolds(placed: PlacedSection, event: SlotEvent): readonly Highlight[] {
  const notes = [...event.struck, ...event.held];
  const found = notes.flatMap((note) => noteAndHolds(placed, note));
  if (found.length === 0 || event.repeatedBy === undefined) return found;
  return [...found, { span: shift(event.repeatedBy, placed.offset), kind: "used" }];
}

/** In the order of the text, each place once; where two overlap the first stands. */
function inOrder(found: readonly Highlight[]): readonly Highlight[] {
  const sorted = [...found].sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end);
  const apart: Highlight[] = [];
  for (const it of sorted) {
    const last = apart.at(-1);
    if (last === undefined || last.span.end <= it.span.start) apart.push(it);
  }
  return apart;
}
