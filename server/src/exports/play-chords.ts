import { rowIn } from "../chart/layout.js";
import type { Bar, ChordEvent, Section } from "../chart/model.js";
import type { Chord } from "../theory/chord.js";
import { compare, type Fraction, minus, plus } from "../theory/fraction.js";
import type { Key } from "../theory/key.js";
import type { Beats } from "./bent-time.js";
import { type ChordAct, chordActs } from "./chord-acts.js";
import type { PlayedChord } from "./performance.js";
import type { TimedBar } from "./timeline.js";

/** A chord as it sounds through one bar, or through the part of it that it lasts. */
export interface ChordStretch {
  readonly at: Fraction;
  end: Fraction;
  readonly bar: TimedBar;
}

export interface SoundingChord extends PlayedChord {
  length: Fraction;
  readonly event: ChordEvent;
  /** In order; those without a hand's row beside them are to be comped. */
  readonly stretches: ChordStretch[];
}

interface TimedAct extends Omit<ChordAct, "at"> {
  /** From the bar's start; negative in a pickup. */
  readonly at: Fraction;
}

interface ChordsOfSection {
  readonly bars: readonly (readonly TimedAct[])[];
  readonly pickups: ReadonlyMap<number, PickupActs>;
}

interface PickupActs {
  readonly at: Fraction;
  readonly acts: readonly TimedAct[];
}

/** The chord row as it is played: each chord to where what really follows it ends it. */
export function playChords(bars: readonly TimedBar[], beats: Beats): readonly SoundingChord[] {
  const known = new Map<Section, ChordsOfSection>();
  const played: SoundingChord[] = [];
  let sounding: SoundingChord | undefined;

  const strike = (event: ChordEvent, at: Fraction, bar: TimedBar): SoundingChord => {
    const { section } = bar.played;
    const it: SoundingChord = {
      at,
      length: { n: 0, d: 1 },
      chord: movedChord(event.chord, bar.fifths),
      key: movedKey(event.key, bar.fifths),
      source: { section, span: event.span },
      event,
      stretches: [],
    };
    played.push(it);
    return it;
  };

  /** What sounds goes on to `end`. */
  const goOn = (at: Fraction, end: Fraction, bar: TimedBar): void => {
    if (sounding === undefined || compare(end, at) <= 0) return;
    sounding.stretches.push({ at, end, bar });
    sounding.length = minus(end, sounding.at);
  };

  const play = (acts: readonly TimedAct[], from: Fraction, to: Fraction, bar: TimedBar): void => {
    let at = from;
    for (const act of acts) {
      const next = plus(bar.at, act.at);
      goOn(at, next, bar);
      sounding = act.event && strike(act.event, next, bar);
      at = next;
    }
    goOn(at, to, bar);
  };

  /** A pickup sounds in place of what the row played before, from its start on. */
  const cover = (from: Fraction): void => {
    sounding = undefined;
    for (let last = played.at(-1); last !== undefined; last = played.at(-1)) {
      if (compare(last.at, from) >= 0) {
        played.pop();
        continue;
      }
      const end = plus(last.at, last.length);
      if (compare(end, from) >= 0) sounding = last;
      if (compare(end, from) <= 0) return;
      last.length = minus(from, last.at);
      while (compare(last.stretches.at(-1)?.at ?? last.at, from) >= 0) last.stretches.pop();
      const stretch = last.stretches.at(-1);
      if (stretch !== undefined && compare(stretch.end, from) > 0) stretch.end = from;
      return;
    }
  };

  for (const bar of bars) {
    const { section } = bar.played.section;
    const { index } = bar.played.bar;
    const acts = known.get(section) ?? actsOf(section, beats);
    known.set(section, acts);
    const end = plus(bar.at, bar.played.bar.length);
    if (bar.enters) {
      const on = index === 0 ? undefined : soundingAt(section, bar.played.bar);
      sounding = on && strike(on, bar.at, bar);
    }
    const pickup = bar.played.entered ? acts.pickups.get(index) : undefined;
    if (pickup !== undefined) {
      const from = plus(bar.at, pickup.at);
      cover(from);
      play(pickup.acts, from, bar.at, bar);
    }
    play(acts.bars[index] ?? [], bar.at, end, bar);
  }
  return played.filter(({ length }) => length.n > 0);
}

/** The chord that is printed as sounding into a bar. */
const soundingAt = ({ chords }: Section, { at }: Bar): ChordEvent | undefined =>
  chords.findLast((it) => !it.pickup && compare(it.at, at) < 0 && compare(plus(it.at, it.length), at) > 0);

function actsOf(section: Section, beats: Beats): ChordsOfSection {
  const { bars, pickups } = chordActs(section);
  const bent = (acts: readonly ChordAct[], bar: Bar): readonly TimedAct[] => {
    const bend = beats(
      section,
      bar,
      acts.map(({ at }) => at),
    );
    return acts.flatMap((act) => (act.kind === "hold" ? [] : [{ ...act, at: bend(act.at) }]));
  };
  return {
    bars: section.bars.map((bar) => bent(bars[bar.index] ?? [], bar)),
    pickups: new Map(
      [...pickups].flatMap(([index, acts]) => {
        const [bar, first] = [section.bars[index], acts[0]];
        return bar === undefined || first === undefined
          ? []
          : [[index, { at: first.at, acts: bent(acts, bar) }] as const];
      }),
    ),
  };
}

const movedChord = (chord: Chord, by: number): Chord =>
  by === 0
    ? chord
    : { ...chord, root: chord.root + by, bass: chord.bass === undefined ? undefined : chord.bass + by };

const movedKey = (key: Key, by: number): Key => (by === 0 ? key : { ...key, tonic: key.tonic + by });

/** Whether neither hand has a row where this bar stands. */
export const isComped = ({ played }: TimedBar): boolean => {
  const system = played.section.section.systems[played.bar.system];
  return system !== undefined && rowIn(system, "right") === undefined && rowIn(system, "left") === undefined;
};
