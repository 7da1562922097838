import { beatsInBar } from "../chart/bar-time.js";
import type { Song } from "./song.js";
import { tiny } from "./timing.js";

/** A beat of the meter, in seconds of the song; in 6/8, 9/8 and 12/8 it is the dotted quarter. */
export interface Beat {
  readonly at: number;
  /** It is the first one of its bar. */
  readonly isFirst: boolean;
}

interface Measure {
  readonly count: number;
  /** Seconds. */
  readonly beat: number;
}

/** How a performed bar is counted; `undefined` where there is no such bar. */
function measureOf({ view }: Song, bar: number): Measure | undefined {
  const { beats, unit, tempo } = view.sound.bars;
  const pace = tempo[bar];
  if (pace === undefined) return undefined;
  return { count: beatsInBar({ beats: beats[bar] as number, unit: unit[bar] as number }), beat: 60 / pace };
}

/** The beats of a bar that starts there. */
const beatsFrom = (start: number, { count, beat }: Measure): readonly Beat[] =>
  Array.from({ length: count }, (_, i) => ({ at: start + i * beat, isFirst: i === 0 }));

const within = (from: number, to: number) => (beat: Beat) => beat.at >= from - tiny && beat.at < to - tiny;

/** Where the bar begins that a place lies in. Before the first bar line the first bar's meter goes on backwards. */
function barBegin(song: Song, place: number, bar: number, { count, beat }: Measure): number {
  const start = song.timing.starts[bar] as number;
  const length = count * beat;
  return place >= start - tiny ? start : start - Math.ceil((start - place - tiny) / length) * length;
}

/** The beats from a place to another one, that one left out; each follows from its bar's start alone. */
export function beatsBetween(song: Song, from: number, to: number): readonly Beat[] {
  const { starts, barAt, end } = song.timing;
  const all: Beat[] = [];
  let bar = barAt(from + tiny);
  const first = measureOf(song, bar);
  if (first === undefined) return all;
  const until = Math.min(to, end);
  for (
    let begin = barBegin(song, from, bar, first);
    begin < (starts[bar] as number) - tiny;
    begin += first.count * first.beat
  )
    all.push(...beatsFrom(begin, first));
  for (; (starts[bar] as number) < until - tiny; bar++) {
    const measure = measureOf(song, bar);
    if (measure === undefined) break;
    all.push(...beatsFrom(starts[bar] as number, measure));
  }
  return all.filter(within(from, until));
}

/** What is counted before the music. */
export interface Count {
  /** How long before the music the count begins, in seconds at the written tempo. */
  readonly length: number;
  /** In seconds of the song as if it had gone on backwards: all lie before the place. */
  readonly beats: readonly Beat[];
}

/**
 * What a band counts before it begins at a place: a full bar in the meter and tempo there, and where the place is not
 * a bar's begin, as in a pickup, the beats before it in its bar.
 */
export function countInto(song: Song, place: number): Count {
  const bar = song.timing.barAt(place + tiny);
  const measure = measureOf(song, bar);
  if (measure === undefined) return { length: 0, beats: [] };
  const begin = barBegin(song, place, bar, measure);
  const counted = begin - measure.count * measure.beat;
  return {
    length: place - counted,
    beats: [...beatsFrom(counted, measure), ...beatsFrom(begin, measure)].filter(within(counted, place)),
  };
}
