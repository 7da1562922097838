import { type Count, countInto } from "./beats.js";
import { type DueBeat, firstFrom, type Laps, type Manner, startLaps } from "./laps.js";
import type { Voice } from "./piano.js";
import { type Entry, entryAt } from "./pickups.js";
import { placeIn } from "./place-in.js";
import type { Song, SongNote } from "./song.js";
import { tiny } from "./timing.js";

/** What a schedule sounds on. Times are seconds of the sound's own clock. */
export interface Sounds {
  readonly strike: (note: SongNote, start: number, end: number) => Voice;
  /** A beat that is counted before the music. */
  readonly count: (beat: DueBeat) => Voice;
  /** A beat of the music. */
  readonly beat: (beat: DueBeat) => Voice;
}

/** What is played, and how. */
export interface Played extends Manner {
  readonly song: Song;
}

/**
 * Gives out what is due, ahead of its time. Places are seconds of the song as it is written, times are those of the
 * sound's clock; it has no clock of its own, whoever drives it says how late it is.
 */
export interface Schedule {
  /** Plays from a place on instead of what played before; first counts into it if `counts`. */
  readonly start: (played: Played, place: number, now: number, counts: boolean) => void;
  /** Gives out what starts before `horizon`. `false` once all is over. */
  readonly advance: (now: number, horizon: number) => boolean;
  /**
   * Goes on where it is with something else and without a gap: what sounds in both is left alone, what doesn't ends,
   * and what should be sounding is struck. `gone`: the bar that sounds isn't there any more, and nothing has changed;
   * `over`: all will be over before that could be heard.
   */
  readonly change: (played: Played, now: number, horizon: number) => "goes on" | "gone" | "over";
  /** Ends all that sounds and calls off what was given out. */
  readonly stop: (now: number) => void;
  readonly isPlaying: () => boolean;
  readonly isCounting: (now: number) => boolean;
  /** Where it is in the song that is played; while it counts, where the music begins. `undefined` where it doesn't play. */
  readonly placeAt: (time: number) => number | undefined;
}

/** One way of playing, from a time on until the next one takes over. */
interface Run extends Played {
  readonly at: number;
  readonly entry: Entry;
  readonly laps: Laps;
  /** What is counted before it. */
  readonly count: Count | undefined;
  /** Whose time it was until then; forgotten once that is long ago. */
  before: Run | undefined;
}

interface Sounding {
  readonly voice: Voice;
  readonly start: number;
  note: SongNote;
  end: number;
}

/** From the button to the first sound, in seconds. */
const lead = 0.08;
/** From a change to where it is heard, in seconds: time enough to tell the sound's own clock. */
const soonest = 0.05;
/** A change waits so long at most for a stroke to fall on, but not for one that comes at once (chosen here, no source). */
const [atOnce, patience] = [0.02, 0.15];
/** Seconds that are remembered: more than any loudspeaker lags behind. */
const past = 1;
/** A click that comes later than this, in seconds, would say something wrong. */
const tooLate = 0.02;

export function createSchedule({ strike, count, beat }: Sounds): Schedule {
  let run: Run | undefined;
  let voices: Sounding[] = [];
  let clicks: Voice[] = [];

  /** Gives out what is due, but for what is held and sounds already. */
  const give = ({ laps }: Run, now: number, horizon: number, sounding?: ReadonlySet<SongNote>): void => {
    const { notes, beats } = laps.due(horizon);
    for (const { note, start, end, isHeld } of notes) {
      // Where somebody was kept from driving it, what is over by now stays out.
      if (end <= now || (isHeld && sounding?.has(note))) continue;
      voices.push({ voice: strike(note, start, end), note, start, end });
    }
    for (const due of beats) if (due.at > now - tooLate) clicks.push(beat(due));
  };

  const stop = (now: number): void => {
    for (const { voice } of voices) voice.stop(now);
    for (const voice of clicks) voice.stop(now);
    [voices, clicks, run] = [[], [], undefined];
  };

  const begin = (played: Played, at: number, entry: Entry, more: Pick<Run, "count" | "before">): Run => ({
    ...played,
    ...more,
    at,
    entry,
    laps: startLaps(played.song, { at, ...entry }, played),
  });

  const start: Schedule["start"] = (played, place, now, counts) => {
    stop(now);
    const entry = entryAt(played.song, place);
    const counted = counts ? countInto(played.song, entry.from) : undefined;
    const at = now + lead + (counted?.length ?? 0) / played.speed;
    run = begin(played, at, entry, { count: counted, before: undefined });
    clicks = (counted?.beats ?? []).map((it) =>
      count({ at: at + (it.at - entry.from) / played.speed, isFirst: it.isFirst }),
    );
  };

  const isCounting = (now: number): boolean => run?.count !== undefined && now < run.at;

  /** Nothing sounds yet. The count goes on if it would be the same, else it begins again. */
  const changeCount = (old: Run, played: Played, now: number): "goes on" | "gone" => {
    const place = placeIn(played.song, old.song, begins(old));
    if (place === undefined) return "gone";
    const entry = entryAt(played.song, place);
    const counted = countInto(played.song, entry.from);
    if (!isSameCount(counted, played, old)) start(played, place, now, true);
    else {
      for (const { voice } of voices) voice.stop(now);
      voices = [];
      run = begin(played, old.at, entry, { count: counted, before: undefined });
    }
    return "goes on";
  };

  /** When a change is heard: on the next stroke if that is near. */
  const seam = (now: number): number => {
    const next = voices
      .map(({ start }) => start)
      .filter((time) => time > now + atOnce && time <= now + patience);
    return next.length > 0 ? Math.min(...next) : now + soonest;
  };

  /** Takes over what sounds at a time; what a song doesn't have ends there. */
  const takeOver = (it: Run, from: Song, now: number): ReadonlySet<SongNote> => {
    const sounding = new Set<SongNote>();
    const keep = (sounds: Sounding): boolean => {
      if (sounds.start > it.at - tiny) {
        sounds.voice.stop(now);
        return false;
      }
      if (sounds.end <= it.at + tiny) return true;
      const note = noteIn(it.song, from, sounds.note, sounding);
      const end = note === undefined ? it.at : it.laps.endOf(note);
      if (note === undefined || end <= it.at + tiny) {
        sounds.voice.stop(it.at);
        return false;
      }
      if (Math.abs(end - sounds.end) > tiny) sounds.voice.endAt(end);
      [sounds.note, sounds.end] = [note, end];
      sounding.add(note);
      return true;
    };
    voices = voices.filter(keep);
    clicks = clicks.filter((voice) => {
      if (voice.start < it.at - tiny) return true;
      voice.stop(now);
      return false;
    });
    return sounding;
  };

  return {
    start,
    stop,
    isCounting,
    isPlaying: () => run !== undefined,
    advance(now, horizon) {
      if (run === undefined) return false;
      give(run, now, horizon);
      voices = voices.filter(({ end }) => end > now - past);
      clicks = clicks.filter((voice) => voice.start > now);
      if (run.at < now - past) run.before = undefined;
      if (run.laps.placeAt(now) === undefined) run = undefined;
      return run !== undefined;
    },
    change(played, now, horizon) {
      if (run === undefined) return "over";
      const old = run;
      if (isCounting(now)) {
        const outcome = changeCount(old, played, now);
        if (outcome === "goes on") give(run, now, horizon);
        return outcome;
      }
      const at = Math.max(old.at, seam(now));
      give(old, now, at);
      const place = old.laps.placeAt(at);
      if (place === undefined) return "over";
      const entry = entryIn(played.song, old, place);
      if (entry === undefined) return "gone";
      if (old.at < now - past) old.before = undefined;
      // One that is changed before it sounds is nobody's past.
      const before = old.at > at - tiny ? old.before : old;
      run = begin(played, at, entry, { count: undefined, before });
      give(run, now, Math.max(horizon, at), takeOver(run, old.song, now));
      return "goes on";
    },
    placeAt(time) {
      let it = run;
      while (it?.before !== undefined && time < it.at) it = it.before;
      const place = it?.laps.placeAt(time);
      if (run === undefined || it === undefined || place === undefined) return undefined;
      // While a pickup sounds, the bar that it leads into is the place.
      const shown = it.entry.into === undefined ? place : Math.max(place, begins(it));
      return placeIn(run.song, it.song, shown);
    },
  };
}

/** Where the music begins behind its pickup. */
const begins = ({ song, entry: { from, into } }: Run): number =>
  into === undefined ? from : (song.timing.starts[into] as number);

const isSameCount = ({ length, beats }: Count, { speed }: Played, { count, speed: before }: Run): boolean =>
  count !== undefined &&
  beats.length === count.beats.length &&
  Math.abs(length / speed - count.length / before) < tiny;

/** How another version of the song goes on from a place; `undefined` where the place is gone. */
function entryIn(song: Song, old: Run, place: number): Entry | undefined {
  const opened = begins(old);
  if (old.entry.into === undefined || place >= opened - tiny) {
    const from = placeIn(song, old.song, place);
    return from === undefined ? undefined : { from, into: undefined };
  }
  const there = placeIn(song, old.song, opened);
  if (there === undefined) return undefined;
  return { from: Math.max(0, there - (opened - place)), into: song.timing.barAt(there + tiny) };
}

/** The same note in another version of the song, however long it lasts there, and one that isn't taken. */
function noteIn(song: Song, old: Song, note: SongNote, taken: ReadonlySet<SongNote>): SongNote | undefined {
  if (song === old) return note;
  const at = placeIn(song, old, note.at);
  if (at === undefined) return undefined;
  for (let i = firstFrom(song.notes, at - close); i < song.notes.length; i++) {
    const it = song.notes[i] as SongNote;
    if (it.at > at + close) return undefined;
    if (it.part === note.part && it.midi === note.midi && !taken.has(it)) return it;
  }
  return undefined;
}
/** Seconds within which two versions of a note start: less than the shortest slot. */
const close = 1e-4;
