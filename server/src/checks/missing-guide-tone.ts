import { rowIn } from "../chart/layout.js";
import type { ChordEvent, Section, SlotEvent, System } from "../chart/model.js";
import { prettyChord, toneInChord } from "../theory/chord.js";
import { compare, type Fraction, plus } from "../theory/fraction.js";
import { pitchClass, prettyName } from "../theory/note-name.js";
import { contradicts, guideTones } from "../theory/quality.js";
import { prettyNumber, type ToneNumber } from "../theory/tone-number.js";
import type { SectionCheck } from "./check.js";
import { numberIn } from "./outside-chord.js";
import { isPassing } from "./passing-tones.js";

/** A chord whose third or seventh, as its symbol promises them, neither the hands nor the bass play while it lasts. */
export const missingGuideTone: SectionCheck<"missing-guide-tone"> = {
  code: "missing-guide-tone",
  run({ section }, report) {
    const isJudged = section.systems.map(isWhole);
    if (!isJudged.includes(true)) return;
    const told = new Set<number>();
    const under = tonesUnder(section);
    let playing: readonly Playing[] | undefined;
    let from = 0;
    for (const { event, end, events } of wholeChords(section)) {
      const { chord, at, bar } = event;
      if (isJudged[section.bars[bar]?.system ?? -1] !== true) continue;
      const wanted = guideTones(chord.quality).map((n) => ({ n, bit: bitOf(toneInChord(chord, n)) }));
      let heard = events.reduce((tones, { index }) => tones | (under[index] ?? 0), 0);
      if (wanted.every(({ bit }) => (heard & bit) !== 0)) continue;
      // What is struck under it is not enough: then it may be held into it.
      playing ??= played(section);
      while (from < playing.length && compare((playing[from] as Playing).until, at) <= 0) from++;
      let isUnread = false;
      for (let i = from; i < playing.length && compare((playing[i] as Playing).slot.at, end) < 0; i++) {
        const { slot, until } = playing[i] as Playing;
        if (slot.pushed || compare(until, at) <= 0) continue;
        isUnread ||= slot.kind === "unread";
        heard |= tonesOf(slot);
      }
      // A chord over which all hands rest is stopped time: nothing is voiced there.
      if (isUnread || heard === 0 || told.has(event.span.start)) continue;
      const missing = wanted
        .filter(({ n, bit }) => (heard & bit) === 0 && !isContradicted(section, events, n))
        .map(({ n }) => n);
      if (missing.length === 0) continue;
      const { span } = event;
      told.add(span.start);
      const tones = missing.map((n) => ({
        number: prettyNumber(n),
        note: prettyName(toneInChord(chord, n)),
      }));
      report(span, { chord: prettyChord(chord), tones }, { row: "chords" });
    }
  },
};

/** A chord for its whole length: a bass alone (`/7`) is the chord before it, which goes on. */
interface WholeChord {
  readonly event: ChordEvent;
  readonly events: readonly ChordEvent[];
  readonly end: Fraction;
}

function wholeChords({ chords }: Section): readonly WholeChord[] {
  const whole: { event: ChordEvent; events: ChordEvent[]; end: Fraction }[] = [];
  for (const event of chords) {
    const end = plus(event.at, event.length);
    const last = whole.at(-1);
    if (last !== undefined && event.text.startsWith("/")) {
      last.events.push(event);
      last.end = end;
    } else whole.push({ event, events: [event], end });
  }
  return whole;
}

/** A right hand stands there, every row can be read, and all have the same bars: else the chords may stand elsewhere. */
const isWhole = (system: System): boolean =>
  !system.unread &&
  rowIn(system, "right") !== undefined &&
  system.rows.every(({ line }) => line.bars.length === system.endBar - system.firstBar);

/** Another tone stands in its place, and `outside-chord` has told that. */
const isContradicted = (section: Section, events: readonly ChordEvent[], wanted: ToneNumber): boolean =>
  [section.rows.right, section.rows.left].some(({ notes }) =>
    notes.some((note) => {
      if (note.grace || note.chord === undefined || !events.includes(note.chord)) return false;
      const number = numberIn(note, note.chord.chord);
      return (
        number?.number === wanted.number &&
        contradicts(note.chord.chord.quality, number) &&
        !isPassing(note, section)
      );
    }),
  );

/** The tones that hands and bass strike for each chord, by its index: under it, or pushed before it. */
function tonesUnder({ rows, chords }: Section): readonly number[] {
  const under = new Array<number>(chords.length).fill(0);
  for (const { slots } of [rows.right, rows.left, rows.bass, rows.lead]) {
    for (const slot of slots) {
      const index = slot.chord?.index ?? -1;
      // A pickup counts from the chord that it leads to, and is over before it comes.
      if (index < 0 || slot.pickup !== slot.chord?.pickup) continue;
      if (slot.row === "lead" && slot.hand !== "right") continue;
      under[index] = (under[index] ?? 0) | tonesOf(slot);
    }
  }
  return under;
}

/** A set of tones is a number with a bit for each of the twelve. */
const bitOf = (fifths: number): number => 1 << pitchClass(fifths);

function tonesOf({ struck, held }: SlotEvent): number {
  let tones = 0;
  for (const { pitch } of struck) tones |= bitOf(pitch.fifths);
  for (const { pitch } of held) tones |= bitOf(pitch.fifths);
  return tones;
}

interface Playing {
  readonly slot: SlotEvent;
  readonly until: Fraction;
}

/** What hands and bass do, in order of time. The melody counts where a hand plays it. */
function played({ rows }: Section): readonly Playing[] {
  const slots = [...rows.right.slots, ...rows.left.slots, ...rows.bass.slots];
  for (const slot of rows.lead.slots) if (slot.hand === "right") slots.push(slot);
  return slots
    .map((slot) => ({ slot, until: plus(slot.at, slot.length) }))
    .sort((a, b) => compare(a.slot.at, b.slot.at));
}
