import { beatLength } from "../chart/bar-time.js";
import type { Note } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import { leastRollStep, rollTimes } from "../keyboard/roll.js";
import type { PitchedRow } from "../syntax/tree.js";
import { compare, divide, type Fraction, fraction, minus, over, plus, zero } from "../theory/fraction.js";
import { movePitch, type Pitch } from "../theory/pitch.js";
import { evenLoudness, loudnessOf } from "./loudness.js";
import type { Part, PlayedNote } from "./performance.js";
import type { Struck } from "./play-row.js";
import { type TimedBar, tempoOf } from "./timeline.js";

export interface StruckPart {
  readonly name: PitchedRow;
  readonly notes: readonly Struck[];
}

/** A grace note takes this share of a beat, about a twelfth of a second at a moderate tempo (chosen here, no source). */
const gracePart = 8;

/** The notes of all rows with rolls and grace notes in their times. */
export function soundNotes(
  rows: readonly StruckPart[],
  reach: Readonly<Record<Hand, number>>,
  balance: boolean,
): Part[] {
  const delays = rollDelays(rows, reach);
  return rows.map(({ name, notes }) => {
    const loudness = balance ? loudnessOf(name, notes) : () => evenLoudness;
    const sounding: PlayedNote[] = [];
    for (const it of notes) addSound(sounding, it, delays.get(it) ?? zero, loudness(it));
    return { name, notes: sounding.sort(byTime) };
  });
}

export const byTime = (a: PlayedNote, b: PlayedNote): number =>
  compare(a.at, b.at) || a.pitch.midi - b.pitch.midi;

function addSound(sounding: PlayedNote[], it: Struck, delay: Fraction, loudness: number): void {
  const { note, grace, bar, end } = it;
  const at = plus(it.at, delay);
  const length = minus(end, at);
  if (length.n <= 0) return;
  if (grace === undefined) {
    sounding.push(played(note, bar, at, length, loudness));
    return;
  }
  const { bars } = bar.played.section.section;
  const beat = beatLength(bars[note.bar]?.meter ?? bar.played.bar.meter);
  const short = least(over(beat, gracePart), over(length, 2));
  sounding.push(
    played(grace, bar, at, short, loudness),
    played(note, bar, plus(at, short), minus(length, short), loudness),
  );
}

// Written out: a long form has hundreds of thousands of them.
const played = (note: Note, bar: TimedBar, at: Fraction, length: Fraction, loudness: number): PlayedNote => ({
  at,
  length,
  pitch: movedBy(note.pitch, bar),
  hand: note.hand,
  grace: note.grace,
  loudness,
  source: { section: bar.played.section, span: note.span, note },
});

const movedBy = (pitch: Pitch, { fifths, played }: TimedBar): Pitch =>
  movePitch(pitch, fifths, played.moved.halfSteps);

/** How much later than its slot each tone of a roll sounds. */
function rollDelays(
  rows: readonly StruckPart[],
  reach: Readonly<Record<Hand, number>>,
): ReadonlyMap<Struck, Fraction> {
  const rolls = new Map<string, Struck[]>();
  for (const { notes } of rows) {
    for (const it of notes) {
      if (it.roll === undefined) continue;
      const roll = rolls.get(it.roll);
      if (roll === undefined) rolls.set(it.roll, [it]);
      else roll.push(it);
    }
  }
  const delays = new Map<Struck, Fraction>();
  for (const roll of rolls.values()) delayRoll(roll, reach, delays);
  return delays;
}

/** From the lowest key up, in the times that the hands need, squeezed evenly where that is longer than a roll may take. */
function delayRoll(
  roll: Struck[],
  reach: Readonly<Record<Hand, number>>,
  delays: Map<Struck, Fraction>,
): void {
  const keyOf = ({ note, bar }: Struck): number => note.pitch.midi + bar.played.moved.halfSteps;
  roll.sort((a, b) => keyOf(a) - keyOf(b));
  const before = new Map<Hand | undefined, { readonly key: number; readonly time: number }>();
  let time = -leastRollStep;
  const milliseconds = roll.map((it) => {
    const { hand } = it.note;
    const key = keyOf(it);
    const last = before.get(hand);
    const travel = last && (rollTimes([last.key, key], reach[hand ?? "right"])[1] ?? 0);
    time = Math.round(Math.max(time + leastRollStep, (last?.time ?? 0) + (travel ?? 0)));
    before.set(hand, { key, time });
    return time;
  });
  const { bar } = roll[0] as Struck;
  const beat = beatLength(bar.played.bar.meter);
  const tempo = tempoOf(bar.played.section.section, bar.played.bar);
  /** A beat lasts 60,000 / tempo milliseconds. */
  const partOfWhole = (ms: number): Fraction => fraction(ms * tempo * beat.n, 60_000 * beat.d);
  const longest = roll.reduce((most, { at, end }) => least(most, minus(end, at)), beat);
  const most = over(longest, 2);
  const all = partOfWhole(time);
  const squeeze = compare(all, most) > 0 ? divide(most, all) : undefined;
  roll.forEach((it, i) => {
    const delay = partOfWhole(milliseconds[i] as number);
    delays.set(it, squeeze === undefined ? delay : fraction(delay.n * squeeze.n, delay.d * squeeze.d));
  });
}

const least = (a: Fraction, b: Fraction): Fraction => (compare(a, b) <= 0 ? a : b);
