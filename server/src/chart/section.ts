import { compare, type Fraction, zero } from "../theory/fraction.js";
import { resolveChords } from "./chord-row.js";
import { type BarFrame, type Layout, layOut, longest, rowIn } from "./layout.js";
import type { Mark, Section, SectionContext, SectionSource, SystemRow } from "./model.js";
import { resolveRow } from "./note-row.js";
import { SungBar, SungWords } from "./sung-bar.js";
import { countWords } from "./words-row.js";

/** Contexts a section is remembered in: its present one, and those of charts that use it. */
const remembered = 4;
const known = new WeakMap<SectionSource, Map<string, Section>>();

/** A section in its context. Memoised by value: equal text in an equal context gives the same object. */
export function resolveSection(source: SectionSource, context: SectionContext): Section {
  const name = nameOfContext(context);
  const sections = known.get(source) ?? new Map<string, Section>();
  known.set(source, sections);
  let section = sections.get(name);
  if (section === undefined) {
    section = resolve(source, context);
    if (sections.size >= remembered) sections.delete(sections.keys().next().value as string);
    sections.set(name, section);
  }
  return section;
}

/** Whether sections are the same in both. */
export const isSameContext = (a: SectionContext, b: SectionContext): boolean =>
  a === b || nameOfContext(a) === nameOfContext(b);

/** All sections of a file share one context, so its name is made once. */
const contextNames = new WeakMap<SectionContext, string>();

function nameOfContext(context: SectionContext): string {
  const name = contextNames.get(context) ?? contextName(context);
  contextNames.set(context, name);
  return name;
}

const contextName = ({ home, firstOne, meter, tempo, feel, displacement }: SectionContext): string =>
  `${home.key.tonic} ${home.key.mode} ${home.one} ${firstOne} ${meter.beats}/${meter.unit} ${tempo} ${feel} ${displacement.fifths} ${displacement.halfSteps}`;

function resolve(source: SectionSource, context: SectionContext): Section {
  const { text } = source;
  const { displacement } = context;
  const layout = layOut(source, context);
  const chords = resolveChords(layout, text, displacement);
  const marks: Mark[] = [...chords.marks];
  const row = (name: "lead" | "right" | "left" | "bass") =>
    resolveRow(name, layout, text, displacement, chords, marks);
  const rows = { lead: row("lead"), right: row("right"), left: row("left"), bass: row("bass") };
  countWords(layout, text, rows.lead, marks);
  const { systems } = layout;
  const bars: SungBar[] = [];
  const words = new SungWords({ systems, bars }, text, rows.lead);
  for (const system of systems) {
    const cue = rowIn(system, "cue");
    for (let i = system.firstBar; i < system.endBar; i++) {
      const frame = layout.bars[i] as BarFrame;
      bars.push(new SungBar(frame, system, cue && cueOf(cue, i - system.firstBar, text), words));
    }
  }
  return {
    source,
    context,
    name: source.name,
    lands: layout.lands,
    vamp: layout.vamp,
    start: layout.start,
    tempo: layout.tempo,
    feel: layout.feel,
    systems,
    bars,
    plays: layout.plays,
    chords: chords.events,
    rows,
    marks,
    length: layout.length,
    longestPickup: layout.systems.reduce((most, { pickup }) => longest(most, pickup), zero),
    shortestBar: shortest(layout),
  };
}

const shortest = ({ bars }: Layout): Fraction | undefined =>
  bars.reduce<Fraction | undefined>(
    (least, { length }) => (least === undefined || compare(length, least) < 0 ? length : least),
    undefined,
  );

function cueOf({ line, start }: SystemRow, bar: number, text: string): string | undefined {
  const words = line.bars[bar]?.words;
  if (words === undefined) return undefined;
  const from = start + words.start;
  return text.slice(from, from + words.text.length);
}
