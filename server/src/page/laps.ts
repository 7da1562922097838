import { beatsBetween } from "./beats.js";
import type { Entry } from "./pickups.js";
import type { Song, SongNote } from "./song.js";
import { tiny } from "./timing.js";

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
  /** It has sounded before, and is struck anew for what is left of it. */
  readonly isHeld: boolean;
}

/** A beat that is due on the sound's clock. */
export interface DueBeat {
  readonly at: number;
  readonly isFirst: boolean;
}

export interface Range {
  readonly from: number;
  readonly to: number;
}

export interface Laps {
  /** What starts before `horizon` and hasn't been given out yet. Each time follows from the lap's start alone, so nothing adds up. */
  readonly due: (horizon: number) => { readonly notes: readonly Due[]; readonly beats: readonly DueBeat[] };
  /** Where in the song it is at a time of the clock; `undefined` once it is over. */
  readonly placeAt: (time: number) => number | undefined;
  /** When a note ends that sounds already as this begins. */
  readonly endOf: (note: SongNote) => number;
}

/** How a song is played. */
export interface Manner {
  /** 1 is as fast as written. */
  readonly speed: number;
  /** Round and round here, once it is reached. */
  readonly loop: Range | undefined;
  /** Without a loop: where it ends if it begins before; `undefined` at the song's end. */
  readonly until: number | undefined;
}

/** How it begins: when, where, and whether a pickup leads into it. */
export interface First extends Entry {
  readonly at: number;
}

/**
 * Plays from a place on. Whatever sounds into the start is struck there. A pickup leads into the first lap alone:
 * further on a loop is what the form plays between its ends.
 */
export function startLaps(song: Song, first: First, { speed, loop, until = song.timing.end }: Manner): Laps {
  const { starts, end } = song.timing;
  const { at, from, into } = first;
  const goal = loop?.to ?? until;
  const to = from >= goal ? end : goal;
  const firstLap: Lap = { at, from, to, speed };
  const laps: Lap[] = [firstLap];
  /** Before it nothing sounds but the pickup's notes. */
  const opened = into === undefined ? from : (starts[into] as number);
  const pickup = into === undefined ? undefined : song.pickups.get(into)?.notes;
  let next = firstFrom(song.notes, from);
  /** Where what is held there is struck anew. */
  let strikes: { readonly place: number; readonly isOurs: (note: SongNote) => boolean }[] =
    pickup === undefined
      ? [{ place: opened, isOurs: all }]
      : [
          { place: from, isOurs: (note) => pickup.has(note) },
          { place: opened, isOurs: (note) => !pickup.has(note) },
        ];
  let counted = from;
  const timeIn = (lap: Lap, place: number): number => lap.at + (place - lap.from) / lap.speed;
  const dueIn = (note: SongNote, from: number, lap: Lap): Due => ({
    note,
    start: timeIn(lap, from),
    end: timeIn(lap, Math.min(note.end, lap.to)),
    isHeld: from > note.at,
  });
  return {
    due(horizon) {
      const notes: Due[] = [];
      const beats: DueBeat[] = [];
      for (;;) {
        const lap = laps[laps.length - 1] as Lap;
        const isFirst = lap === firstLap;
        for (
          let strike = strikes[0];
          strike !== undefined && timeIn(lap, strike.place) <= horizon;
          strike = strikes[0]
        ) {
          const { place, isOurs } = strike;
          for (const note of heldInto(song, place)) if (isOurs(note)) notes.push(dueIn(note, place, lap));
          strikes.shift();
        }
        const near = Math.min(lap.to, lap.from + (horizon - lap.at) * lap.speed);
        for (
          let note = song.notes[next];
          note !== undefined && note.at < near - tiny;
          note = song.notes[++next]
        )
          if (!isFirst || note.at >= opened - tiny || pickup?.has(note))
            notes.push(dueIn(note, note.at, lap));
        if (near > counted) {
          for (const beat of beatsBetween(song, counted, near))
            beats.push({ at: timeIn(lap, beat.at), isFirst: beat.isFirst });
          counted = near;
        }
        const lapEnd = timeIn(lap, lap.to);
        if (loop === undefined || lapEnd > horizon || loop.to - loop.from < shortest) return { notes, beats };
        laps.push({ at: lapEnd, from: loop.from, to: loop.to, speed });
        if (laps.length > remembered) laps.shift();
        next = firstFrom(song.notes, loop.from);
        strikes = [{ place: loop.from, isOurs: all }];
        counted = loop.from;
      }
    },
    placeAt(time) {
      const lap = laps.findLast(({ at }) => at <= time) ?? (laps[0] as Lap);
      const place = lap.from + Math.max(0, time - lap.at) * lap.speed;
      if (place < lap.to) return place;
      return loop === undefined ? undefined : lap.to - tiny;
    },
    endOf: (note) => dueIn(note, from, firstLap).end,
  };
}

const all = (): boolean => true;

/** A loop shorter than this, in seconds, would be a noise. */
const shortest = 0.05;
const remembered = 4;

/** The first note that starts at a place or after it. */
export function firstFrom(notes: readonly SongNote[], from: number): number {
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
