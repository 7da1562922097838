import { locate } from "../chart/locate.js";
import type { Located, LocatedAs } from "../chart/located.js";
import type { ChordEvent, Note, SlotEvent } from "../chart/model.js";
import type { Document } from "../document/document.js";
import { indexAt } from "../text/lines.js";
import { type Span, shift } from "../text/span.js";
import type { Charts, Place } from "./charts.js";
import { placeOfSection, sectionNamedAt } from "./section-uses.js";

/** Where something is written, and what belongs to it. */
export interface Target extends Place {
  /** All of it: of a section its whole text. Holds `span`. */
  readonly whole: Span;
}

export interface Definition {
  /** What was asked about, from the text's start. */
  readonly origin: Span;
  /** At least one. */
  readonly targets: readonly Target[];
}

/**
 * Where that is written which the place at `offset` speaks of: of a name in `form` or `play` the section, of a `use`
 * path the chart, of `=` and `%` what they repeat, of `-`, `/` and `_` what they hold, of a number its chord.
 */
export function definition(document: Document, offset: number, charts: Charts): Definition | undefined {
  const here = locate(document, offset);
  const targets = targetsOf(document, here, offset, charts);
  return targets.length === 0 ? undefined : { origin: here.span, targets };
}

function targetsOf(document: Document, here: Located, offset: number, charts: Charts): readonly Target[] {
  switch (here.kind) {
    case "section":
    case "section-use": {
      const named = sectionNamedAt(document, offset);
      if (named?.opens !== undefined) return inChart(document, [named.span]);
      const section = named?.section && placeOfSection(named.section, document, charts);
      return section === undefined ? [] : [section];
    }
    case "use": {
      const path = here.used?.found === "chart" ? charts.find(document.path, here.path) : undefined;
      const start: Span = { start: 0, end: 0 };
      return path === undefined ? [] : [{ path, span: start, whole: start }];
    }
    case "chord-sign":
      return inChart(document, chordsOf(document, here));
    case "note-sign":
      return inChart(document, slotsOf(document, here));
    case "tone":
    case "grace":
      return inChart(document, spansOfTone(document, here));
    case "stack":
      return here.event?.pushed === true ? inChart(document, spansOfChord(here, here.event.chord)) : [];
    default:
      return [];
  }
}

const inChart = ({ path }: Document, spans: readonly Span[]): readonly Target[] =>
  spans.map((span) => ({ path, span, whole: span }));

type InSection = { readonly placed: { readonly offset: number } };

const spansOfChord = ({ placed }: InSection, chord: ChordEvent | undefined): readonly Span[] =>
  chord === undefined ? [] : [shift(chord.span, placed.offset)];

function chordsOf(document: Document, here: LocatedAs<"chord-sign">): readonly Span[] {
  // What stops the chord refers to nothing.
  if (here.sign === "r" || here.sign === "NC") return [];
  return joined(
    document,
    here.events.map(({ span }) => shift(span, here.placed.offset)),
  );
}

function slotsOf(document: Document, here: LocatedAs<"note-sign">): readonly Span[] {
  const { sign, event, events, placed } = here;
  switch (sign) {
    case "-":
      return joined(document, event?.held.map((note) => slotSpan(document, note, placed.offset)) ?? []);
    case "=":
    case "%":
      return joined(
        document,
        events.map((it: SlotEvent) => shift(it.span, placed.offset)),
      );
    default:
      return [];
  }
}

/** The slot in which a note is struck. */
function slotSpan(document: Document, note: Note, offset: number): Span {
  const struck = locate(document, note.span.start + offset);
  return struck.kind === "tone" || struck.kind === "grace"
    ? shift(struck.slot.span, struck.lineStart)
    : shift(note.span, offset);
}

function spansOfTone(document: Document, here: LocatedAs<"tone" | "grace">): readonly Span[] {
  const { tone, note, placed, event, row } = here;
  if (here.kind === "tone" && tone.held !== undefined && note !== undefined) {
    const span = shift(note.span, placed.offset);
    return span.start === here.span.start ? [] : [span];
  }
  if (event?.pushed === true) return spansOfChord(here, event.chord);
  const name = here.kind === "grace" ? tone.grace : tone.name;
  const countsFromKey = tone.counts === "key" || (tone.counts === undefined && isMelodic(row.row));
  if (name?.kind !== "number" || (countsFromKey && name.number !== 0)) return [];
  return joined(document, spansOfChord(here, note?.chord));
}

const isMelodic = (row: string): boolean => row === "lead" || row === "bass";

/** Each once and in order; those of one line as one stretch. */
function joined({ tree }: Document, spans: readonly Span[]): readonly Span[] {
  const lines = new Map<number, Span>();
  for (const span of spans) {
    const line = indexAt(tree.starts, span.start);
    const known = lines.get(line) ?? span;
    lines.set(line, {
      start: Math.min(known.start, span.start),
      end: Math.max(known.end, span.end),
    });
  }
  return [...lines.values()].sort((a, b) => a.start - b.start);
}
