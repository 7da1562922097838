import type { PageView } from "../exports/page-data.js";
import type { PartName } from "../exports/performance.js";
import { type Pickup, pickupsOf } from "./pickups.js";
import { type Timing, timingOf } from "./timing.js";

/** A note with its times in seconds at the written tempo. */
export interface SongNote {
  readonly part: PartName;
  /** Where it stands in its part. */
  readonly index: number;
  readonly at: number;
  readonly end: number;
  readonly midi: number;
  readonly fifths: number;
  readonly loudness: number;
  readonly grace: boolean;
  /** Where its slot is struck: of a roll the time of its lowest tone. */
  readonly shownFrom: number;
}

export interface SongChord {
  readonly at: number;
  readonly end: number;
  readonly index: number;
}

/** What a page plays in one key. */
export interface Song {
  readonly view: PageView;
  readonly timing: Timing;
  /** In order of time. */
  readonly notes: readonly SongNote[];
  /** For each bar, the notes that sound in it. */
  readonly inBars: readonly (readonly SongNote[])[];
  readonly chords: readonly SongChord[];
  /** For the performed bars that have one, by their index: the pickup that leads into them. */
  readonly pickups: ReadonlyMap<number, Pickup>;
}

export function songOf(view: PageView): Song {
  const timing = timingOf(view.sound);
  const second = (n: number | undefined, d: number | undefined): number =>
    timing.secondsOf((n ?? 0) / (d ?? 1));
  const notes: SongNote[] = [];
  for (const part of view.sound.parts) {
    const shown = new Map<string, number>();
    part.n.forEach((n, index) => {
      const d = part.d[index] as number;
      const whole = n / d;
      const at = timing.secondsOf(whole);
      const end = timing.secondsOf(whole + (part.ln[index] as number) / (part.ld[index] as number));
      const slot = part.slot[index] as number;
      const name = slot < 0 ? `${n}/${d}` : `${slot} ${timing.barAt(at + 1e-9)}`;
      const shownFrom = shown.get(name) ?? at;
      shown.set(name, shownFrom);
      notes.push({
        part: part.name,
        index,
        at,
        end,
        midi: part.midi[index] as number,
        fifths: part.fifths[index] as number,
        loudness: part.loudness[index] as number,
        grace: part.grace[index] === 1,
        shownFrom,
      });
    });
  }
  notes.sort((a, b) => a.at - b.at);
  const inBars: SongNote[][] = timing.starts.slice(0, -1).map(() => []);
  for (const note of notes) {
    for (let bar = timing.barAt(note.shownFrom); bar < inBars.length; bar++) {
      if (bar > 0 && (timing.starts[bar] as number) >= note.end) break;
      inBars[bar]?.push(note);
    }
  }
  const { chords } = view.sound;
  return {
    view,
    timing,
    notes,
    inBars,
    chords: chords.n.map((n, index) => ({
      at: second(n, chords.d[index]),
      end: timing.secondsOf(
        n / (chords.d[index] as number) + (chords.ln[index] as number) / (chords.ld[index] as number),
      ),
      index,
    })),
    pickups: pickupsOf(view, timing, notes),
  };
}

/** Chords that sound at a time: the one that does, and the next. */
export function chordsAt(
  { chords }: Song,
  seconds: number,
): {
  readonly now: SongChord | undefined;
  readonly next: SongChord | undefined;
} {
  let [low, high] = [0, chords.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((chords[middle] as SongChord).at <= seconds + nearly) low = middle + 1;
    else high = middle;
  }
  const last = chords[low - 1];
  return { now: last !== undefined && last.end > seconds + nearly ? last : undefined, next: chords[low] };
}

/** Half a millisecond: a time that a clock gives may fall short of the note that starts there. */
export const nearly = 0.0005;
