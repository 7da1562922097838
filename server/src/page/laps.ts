import type { Song, SongNote } from "./song.js";

/** A stretch of the song as it is played: from `at` on the sound's clock. Times of the song are at the written tempo. */
export interface Lap {
  readonly at: number;
  readonly from: number;
  readonly to: number;
  /** 1 is as fast as written. */
  readonly speed: number;
}

/** A note that is due: when it starts and ends on the sound's clock. */
export interface Due {
  readonly note: SongNote;
  readonly start: number;
  readonly end: number;
}

export interface Range {
  readonly from: number;
  readonly to: number;
}

export interface Laps {
  /** What starts before `horizon` and hasn't been given out yet. Each time follows from the lap's start alone, so nothing adds up. */
  readonly due: (horizon: number) => readonly Due[];
  /** Where in the song it is at a time of the clock; `undefined` once it is over. */
  readonly positionAt: (time: number) => number | undefined;
}

/** Plays from a place on; round and round where there is a loop. Whatever sounds into the start is struck there if `strikesHeld`. */
export function startLaps(
  song: Song,
  first: { readonly at: number; readonly from: number },
  speed: number,
  loop: Range | undefined,
  strikesHeld: boolean,
): Laps {
  const { end } = song.timing;
  const to = loop === undefined || first.from >= loop.to ? end : loop.to;
  const laps: Lap[] = [{ ...first, to, speed }];
  let next = firstFrom(song.notes, first.from);
  let isFresh = strikesHeld;
  const lapEnd = ({ at, from, to, speed }: Lap): number => at + (to - from) / speed;
  const dueIn = (note: SongNote, from: number, lap: Lap): Due => ({
    note,
    start: lap.at + (from - lap.from) / lap.speed,
    end: lap.at + (Math.min(note.end, lap.to) - lap.from) / lap.speed,
  });
  return {
    due(horizon) {
      const due: Due[] = [];
      for (;;) {
        const lap = laps[laps.length - 1] as Lap;
        if (isFresh) {
          if (lap.at > horizon) return due;
          isFresh = false;
          for (const note of heldInto(song, lap.from)) due.push(dueIn(note, lap.from, lap));
        }
        const until = Math.min(lap.to, lap.from + (horizon - lap.at) * lap.speed);
        for (
          let note = song.notes[next];
          note !== undefined && note.at < until - tiny;
          note = song.notes[++next]
        )
          due.push(dueIn(note, note.at, lap));
        if (loop === undefined || lapEnd(lap) > horizon || loop.to - loop.from < shortest) return due;
        laps.push({ at: lapEnd(lap), from: loop.from, to: loop.to, speed });
        if (laps.length > remembered) laps.shift();
        next = firstFrom(song.notes, loop.from);
        isFresh = true;
      }
    },
    positionAt(time) {
      const lap = laps.findLast(({ at }) => at <= time) ?? (laps[0] as Lap);
      const position = lap.from + Math.max(0, time - lap.at) * lap.speed;
      if (position < lap.to) return position;
      return loop === undefined ? undefined : lap.to - tiny;
    },
  };
}

/** A loop shorter than this, in seconds, would be a noise. */
const shortest = 0.05;
/** Less than half a sample of sound. */
const tiny = 1e-6;
const remembered = 4;

function firstFrom(notes: readonly SongNote[], from: number): number {
  let [low, high] = [0, notes.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((notes[middle] as SongNote).at < from - tiny) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** What was struck before and goes on for long enough to be worth a new stroke. */
function heldInto({ inBars, timing }: Song, from: number): readonly SongNote[] {
  const there = inBars[timing.barAt(from + tiny)] ?? [];
  return there.filter(({ at, end, grace }) => !grace && at < from - tiny && end > from + worthwhile);
}
const worthwhile = 0.1;
