import { rowIn } from "../chart/layout.js";
import type { ChordEvent, Section, SlotEvent } from "../chart/model.js";
import { prettyChord, toneInChord } from "../theory/chord.js";
import { compare, type Fraction, plus } from "../theory/fraction.js";
import { pitchClass, prettyName } from "../theory/note-name.js";
import { guideTones } from "../theory/quality.js";
import { prettyNumber } from "../theory/tone-number.js";
import type { SectionCheck } from "./check.js";

/** A chord whose third or seventh, as its symbol promises them, neither the hands nor the bass play while it lasts. */
export const missingGuideTone: SectionCheck<"missing-guide-tone"> = {
  code: "missing-guide-tone",
  run({ section }, report) {
    const hasRight = section.systems.map((system) => rowIn(system, "right") !== undefined);
    if (!hasRight.includes(true)) return;
    const told = new Set<number>();
    const playing = played(section);
    const early = pushedInto(playing);
    let from = 0;
    for (const { event, end, events } of wholeChords(section)) {
      const { chord, at, bar } = event;
      while (from < playing.length && compare((playing[from] as Playing).until, at) <= 0) from++;
      if (hasRight[section.bars[bar]?.system ?? -1] !== true) continue;
      let heard = events.reduce((tones, it) => tones | (early.get(it) ?? 0), 0);
      let isUnread = false;
      for (let i = from; i < playing.length && compare((playing[i] as Playing).slot.at, end) < 0; i++) {
        const { slot, until } = playing[i] as Playing;
        if (slot.pushed || compare(until, at) <= 0) continue;
        isUnread ||= slot.kind === "unread" || isMissing(slot, section);
        heard |= tonesOf(slot);
      }
      // A chord over which all hands rest is stopped time: nothing is voiced there.
      if (isUnread || heard === 0 || told.has(event.span.start)) continue;
      const missing = guideTones(chord.quality).filter((n) => (heard & bitOf(toneInChord(chord, n))) === 0);
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

/** A bar that its row stops before is told by `uneven-rows`, and nothing is made of its silence. */
function isMissing({ kind, system, row, bar }: SlotEvent, { systems }: Section): boolean {
  const of = kind === "rest" ? systems[system] : undefined;
  const line = of === undefined ? undefined : rowIn(of, row)?.line;
  return of !== undefined && line !== undefined && line.bars.length <= bar - of.firstBar;
}

/** The tones of pushed stacks, by the chord that they are played early for. */
function pushedInto(playing: readonly Playing[]): ReadonlyMap<ChordEvent, number> {
  const early = new Map<ChordEvent, number>();
  for (const { slot } of playing) {
    if (!slot.pushed || slot.chord === undefined) continue;
    early.set(slot.chord, (early.get(slot.chord) ?? 0) | tonesOf(slot));
  }
  return early;
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
