import { barLength } from "../chart/bar-time.js";
import { meterText } from "../chart/beat-name.js";
import { chordInNumbers } from "../chart/chord-summary.js";
import type { Bar, Chart, ChordEvent, Note, PlacedSection, SlotEvent, System } from "../chart/model.js";
import { numberInChord } from "../chart/number-in-chord.js";
import { timesWords } from "../chart/times-words.js";
import { usualReach } from "../keyboard/hand.js";
import type { PitchedRow } from "../syntax/tree.js";
import { visible } from "../text/visible.js";
import { prettyQuality } from "../theory/chord.js";
import { compare, type Fraction, minus, plus, printFraction, zero } from "../theory/fraction.js";
import { degreeInKey, keyName } from "../theory/key.js";
import { prettyNumber } from "../theory/tone-number.js";
import { type ChordAct, chordActs } from "./chord-acts.js";
import type {
  BarView,
  CellView,
  ChordView,
  PageView,
  SectionView,
  ShownRow,
  SlotView,
  SystemView,
} from "./page-data.js";
import { soundView } from "./page-sound.js";
import type { Performance } from "./performance.js";

const pitched: readonly PitchedRow[] = ["lead", "right", "left", "bass"];
/** As a score has them: words under the melody, hands below, what is said about the bar on top. */
const shownOrder = ["cue", "chords", "numbers", "lead", "words", "right", "left", "bass"] as const;

/** A view, where in the text of its section what each of its cells shows starts, and when: from the section's first bar line. */
export interface ViewedChart {
  readonly view: PageView;
  readonly starts: ReadonlyMap<CellView, number>;
  readonly times: ReadonlyMap<CellView, Fraction>;
}

/** A chart and how it is played, as a page shows and plays it. */
export const pageView = (chart: Chart, performance: Performance): PageView =>
  viewedChart(chart, performance).view;

export function viewedChart(chart: Chart, performance: Performance): ViewedChart {
  const places = new Map<PlacedSection, number>(chart.sections.map((placed, i) => [placed, i]));
  const slots: Slots = { views: [], ofNote: new Map(), starts: new Map(), times: new Map() };
  const sections = chart.sections.map((placed, i) => sectionView(chart, placed, i, slots));
  const view: PageView = {
    tonic: chart.header.home.key.tonic,
    one: chart.header.home.one,
    reach: { left: chart.header.reach.left ?? usualReach, right: chart.header.reach.right ?? usualReach },
    sections,
    form: chart.form.map(({ section, times, moved }) => [
      places.get(section) ?? 0,
      times,
      moved.halfSteps === 0 && keyName(moved.key) === keyName(section.section.start.key)
        ? null
        : moved.key.tonic,
    ]),
    slots: slots.views,
    sound: soundView(performance, places, slots.ofNote),
  };
  return { view, starts: slots.starts, times: slots.times };
}

/** The slots of a page, in the order in which they were added, in which of them each note is struck, and where cells come from. */
interface Slots {
  readonly views: SlotView[];
  readonly ofNote: Map<Note, number>;
  readonly starts: Map<CellView, number>;
  readonly times: Map<CellView, Fraction>;
}

/** Adds a slot and says its index. */
function addSlot({ views, ofNote }: Slots, slot: SlotEvent, section: number): number {
  const index = views.length;
  const graces = new Map<Note, Note>();
  slot.struck.forEach((note, i) => {
    ofNote.set(note, index);
    const next = slot.struck[i + 1];
    if (note.grace && next !== undefined) graces.set(next, note);
  });
  const notes = [...slot.held, ...slot.struck.filter(({ grace }) => !grace)];
  notes.sort((a, b) => a.pitch.midi - b.pitch.midi);
  views.push({
    row: slot.row,
    section,
    hand: slot.hand ?? null,
    kind: slot.kind === "unread" ? "rest" : slot.kind,
    rolled: slot.rolled,
    pushed: slot.pushed,
    tones: notes.map((note) => ({
      fifths: note.pitch.fifths,
      midi: note.pitch.midi,
      ...shownNumber(note),
      held: slot.held.includes(note),
      grace: graces.get(note)?.pitch.fifths ?? null,
    })),
  });
  return index;
}

/** In the hands the number in the chord, in lead and bass that in the key. */
function shownNumber(note: Note): { readonly number: number; readonly alter: number } {
  const { row, chord, key, pitch } = note;
  const inKey = row === "lead" || row === "bass" || chord === undefined;
  return inKey ? degreeInKey(key, pitch.fifths) : numberInChord(chord.chord, note);
}

function sectionView(chart: Chart, placed: PlacedSection, index: number, slots: Slots): SectionView {
  const { section } = placed;
  const { header } = chart;
  const { start, lands, vamp, tempo, feel } = section;
  const facts = [
    ...(tempo === undefined || tempo === header.tempo ? [] : [`${tempo} beats a minute`]),
    ...(feel === header.feel ? [] : [`${feel} feel`]),
    ...(lands === undefined
      ? []
      : [`leads to the ${prettyNumber({ number: lands.degree, alter: lands.alter })}`]),
    ...(vamp ? ["repeated until cued"] : []),
    ...playsBefore(placed, section.bars.length),
  ];
  const acts = chordActs(section);
  const bySystem = new Map<string, SlotEvent[]>();
  for (const row of pitched) {
    for (const slot of section.rows[row].slots) {
      const name = cellName(row, slot.bar, slot.pickup);
      const there = bySystem.get(name);
      if (there === undefined) bySystem.set(name, [slot]);
      else there.push(slot);
    }
  }
  const source: Source = {
    placed,
    index,
    slots,
    slotsIn: (row, bar, pickup) => bySystem.get(cellName(row, bar, pickup)) ?? [],
    actsIn: (bar, pickup) => (pickup ? acts.pickups.get(bar) : acts.bars[bar]) ?? [],
  };
  return {
    name: visible(section.name),
    tonic: start.key.tonic,
    mode: start.key.mode,
    facts,
    systems: section.systems.flatMap((it) => systemViews(it, source)),
  };
}

interface Source {
  readonly placed: PlacedSection;
  readonly index: number;
  readonly slots: Slots;
  readonly slotsIn: (row: PitchedRow, bar: number, pickup: boolean) => readonly SlotEvent[];
  readonly actsIn: (bar: number, pickup: boolean) => readonly ChordAct[];
}

const cellName = (row: PitchedRow, bar: number, pickup: boolean): string => `${row} ${bar} ${pickup}`;

/** What is said of other sections that are played before a bar, or after the last one: `first Chorus, twice`. */
export const playsBefore = ({ section, plays }: PlacedSection, bar: number): string[] =>
  section.plays
    .filter(({ beforeBar }, i) => beforeBar === bar && plays[i] !== undefined)
    .map(
      ({ item }) =>
        `${bar < section.bars.length ? "first" : "then"} ${visible(item.name)}${timesWords(item.times)}`,
    );

/** A system is shown in parts of so many bars at most: a browser lays out what is seen, part by part. */
const mostBars = 32;

/** The parts of a system that are shown: the index of the first bar of each, and of the one after its last. */
export function shownParts({ firstBar, endBar }: System): readonly (readonly [first: number, end: number])[] {
  const parts: [number, number][] = [];
  for (let first = firstBar; first < endBar; first += mostBars)
    parts.push([first, Math.min(endBar, first + mostBars)]);
  return parts;
}

function systemViews(system: System, source: Source): readonly SystemView[] {
  const written = new Set(system.rows.map(({ row }) => row));
  const verses = system.rows.filter(({ row }) => row === "words").length;
  const names = shownOrder.flatMap((row): { row: ShownRow["row"]; verse: number }[] => {
    if (row === "words") return Array.from({ length: verses }, (_, i) => ({ row, verse: i + 1 }));
    return written.has(row === "numbers" ? "chords" : row) ? [{ row, verse: 0 }] : [];
  });
  return shownParts(system).map(([first, end]): SystemView => {
    const bars = source.placed.section.bars.slice(first, end);
    const pickup = first === system.firstBar && system.pickup.n > 0 ? bars.slice(0, 1) : [];
    const shown = [
      ...pickup.map((bar) => barView(bar, true, names, source)),
      ...bars.map((bar) => barView(bar, false, names, source)),
    ];
    const rows = names.map(
      ({ row, verse }, i): ShownRow => ({
        row,
        verse,
        lines: shown.reduce((most, { cells }) => Math.max(most, linesOf(cells[i] ?? [], source)), 1),
      }),
    );
    return { rows, bars: shown };
  });
}

const linesOf = (cells: readonly CellView[], { slots }: Source): number =>
  cells.reduce(
    (most, cell) => ("slot" in cell ? Math.max(most, slots.views[cell.slot]?.tones.length ?? 1) : most),
    1,
  );

/** Something that starts at a time from the bar's start. */
type Timed = {
  readonly at: Fraction;
  /** Where it starts in the section's text; `undefined` where it has no place of its own. */
  readonly from?: number | undefined;
} & ({ readonly chord: ChordView } | { readonly slot: number } | { readonly text: string });

function barView(
  bar: Bar,
  pickup: boolean,
  rows: readonly { readonly row: ShownRow["row"]; readonly verse: number }[],
  source: Source,
): BarView {
  const { section } = source.placed;
  const timed = rows.map(({ row, verse }): readonly Timed[] => {
    if (row === "chords") return chordCells(source.actsIn(bar.index, pickup), chordView, true);
    if (row === "numbers")
      return chordCells(source.actsIn(bar.index, pickup), (it) => prettyQuality(chordInNumbers(it)), false);
    if (row === "cue") return pickup || bar.cue === undefined ? [] : [{ at: zero, text: visible(bar.cue) }];
    if (row === "words") {
      return bar.words
        .filter((word) => word.verse === verse && compare(word.at, bar.at) < 0 === pickup)
        .map((word) => ({ at: minus(word.at, bar.at), from: word.span.start, text: visible(word.text) }));
    }
    return source
      .slotsIn(row, bar.index, pickup)
      .filter(({ kind, struck, held }) => kind === "hold" || struck.length > 0 || held.length > 0)
      .filter(({ kind, held }) => kind !== "hold" || held.length > 0)
      .map((slot) => ({
        at: minus(slot.at, bar.at),
        from: (slot.repeatedBy ?? slot.written).start,
        slot: addSlot(source.slots, slot, source.index),
      }));
  });
  const starts = new Map<string, Fraction>();
  for (const row of timed) for (const { at } of row) starts.set(printFraction(at), at);
  const order = [...starts.values()].sort(compare).map(printFraction);
  const columns = Math.max(1, order.length);
  const places = new Map(order.map((name, i) => [name, i]));
  const cells = timed.map((row, r) =>
    row.map((it, i): CellView => {
      const c = places.get(printFraction(it.at)) ?? 0;
      const next = row[i + 1];
      const end = next === undefined ? columns : (places.get(printFraction(next.at)) ?? columns);
      // What is said of a bar, and words, may run on over what follows.
      const s = Math.max(1, rows[r]?.row === "words" && next === undefined ? 1 : end - c);
      const cell: CellView =
        "chord" in it
          ? { c, s, chord: it.chord }
          : "slot" in it
            ? { c, s, slot: it.slot }
            : { c, s, text: it.text };
      if (it.from !== undefined) source.slots.starts.set(cell, it.from);
      source.slots.times.set(cell, plus(bar.at, it.at));
      return cell;
    }),
  );
  const before = section.bars[bar.index - 1];
  const oldKey = before?.home.key ?? section.start.key;
  const oldMeter = before?.meter;
  const isNew = oldMeter === undefined || compare(barLength(oldMeter), barLength(bar.meter)) !== 0;
  const isFirst = bar.index === 0 && source.index === 0;
  return {
    bar: bar.index,
    pickup,
    before: pickup
      ? []
      : [
          ...playsBefore(source.placed, bar.index),
          ...(isNew &&
          !isFirst &&
          (oldMeter !== undefined || meterText(section.context.meter) !== meterText(bar.meter))
            ? [meterText(bar.meter)]
            : []),
        ],
    key: pickup || keyName(oldKey) === keyName(bar.home.key) ? null : [bar.home.key.tonic, bar.home.key.mode],
    columns,
    cells,
    opens: !pickup && bar.repeat.start,
    repeats: !pickup && bar.repeat.end ? bar.repeat.times : 0,
    ending: pickup ? 0 : (bar.repeat.ending ?? 0),
    double: !pickup && bar.repeat.double,
  };
}

function chordView(event: ChordEvent): ChordView {
  const { chord } = event;
  return {
    root: chord.root,
    bass: chord.bass ?? null,
    quality: prettyQuality(chord.quality.symbol),
    number: prettyQuality(chordInNumbers(event)),
  };
}

/** The chords as they are struck; where the row falls silent it says so in words. */
function chordCells(
  acts: readonly ChordAct[],
  show: (event: ChordEvent) => ChordView | string,
  saysSilence: boolean,
): readonly Timed[] {
  return acts.flatMap(({ kind, at, event }): Timed[] => {
    if (kind === "silence") return saysSilence && acts.length > 1 ? [{ at, text: "N.C." }] : [];
    if (kind === "hold" || event === undefined) return [];
    const shown = show(event);
    const from = (event.repeatedBy ?? event.span).start;
    return [typeof shown === "string" ? { at, from, text: shown } : { at, from, chord: shown }];
  });
}
