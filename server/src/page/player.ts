import type { PartName } from "../exports/performance.js";
import { type Desk, openDesk } from "./desk.js";
import { firstTone, soundFirstTone } from "./first-tone.js";
import type { Range } from "./laps.js";
import { barEndIn, loopIn } from "./loops.js";
import { fromBase64, type Recordings, type Voice } from "./piano.js";
import { placeIn } from "./place-in.js";
import { createSchedule, type Played, type Schedule } from "./schedule.js";
import type { Song } from "./song.js";

/** The sound of a page: where it is, and what can be done to it. Positions are seconds of the song as it is written. */
export interface Player {
  /** From the press on, also while the sound is being opened and while it counts. */
  readonly isPlaying: () => boolean;
  readonly isCounting: () => boolean;
  /** Where the ear is; while it counts and in a pickup, the bar that comes. */
  readonly position: () => number;
  /**
   * Plays on from where it is; settled once it plays, or once it is clear that it can't. `until`: the end of the bar
   * after which it stops and goes back to where it began, as of one section; without it, it plays to the end and goes
   * back to the start. A loop goes before it.
   */
  readonly play: (until?: number) => Promise<void>;
  readonly pause: () => void;
  /** Goes there at once, without counting; who begins where a bar does begins with the pickup into it. */
  readonly seek: (position: number) => void;
  /** 1 is as fast as written. */
  readonly setSpeed: (speed: number) => void;
  /** Whole bars. What plays outside of them goes to their start. */
  readonly setLoop: (loop: Range | undefined) => void;
  readonly setSounding: (sounding: ReadonlySet<PartName>) => void;
  /**
   * Whether a bar is counted before it begins to play. Taken away while it counts, it begins at once; a loop is counted
   * into once and not each time round.
   */
  readonly setCountIn: (isOn: boolean) => void;
  /** Whether the beats click, from now on. */
  readonly setMetronome: (isOn: boolean) => void;
  /**
   * Another key or another version of the song. It goes on where it is, and what sounds in both sounds on; where the
   * bar isn't there any more it stops. Its loop goes along, or ends with its bars.
   */
  readonly setSong: (song: Song) => void;
  /**
   * Gives a singer the chord and the first tone of a stretch instead of what plays: the words for it (`G4, over C`),
   * `undefined` where there is no tone, or no sound.
   */
  readonly giveTone: (stretch: Range) => Promise<string | undefined>;
}

/** What the page is told. */
export interface Told {
  readonly ended: () => void;
  /** This browser has no sound. */
  readonly failed: () => void;
  /** It has to be asked for by a click or a key inside the page; without it, `failed`. */
  readonly locked?: () => void;
  /** It was asked for and doesn't come yet, as where no loudspeaker is found; it plays once it does. */
  readonly waits?: () => void;
  /** It stopped because the bar that played is gone from the chart; without it, `ended`. */
  readonly gone?: () => void;
}

/** How far ahead notes are given to the sound's own clock, in seconds; more where the page isn't seen, since its timers are slow then. */
const [ahead, aheadUnseen] = [0.25, 2.5];
/** Milliseconds between looks at what is due. */
const interval = 50;
/** From the press to a singer's tone, in seconds. */
const lead = 0.08;
/** Milliseconds that sound is waited for before somebody is asked to press something. */
const unlocking = 500;

/**
 * `recordings`: how the notes of the piano come, or the files themselves in base64 by MIDI number; where none can be
 * had or decoded, a made tone plays. `context`: what to play on; a new one is opened by the first press if there is
 * none. Whoever gives one that renders what isn't heard, starts its rendering.
 */
export function createPlayer(
  first: Song,
  recordings: Recordings | Readonly<Record<string, string>>,
  tell: Told,
  context?: BaseAudioContext,
): Player {
  const load = typeof recordings === "function" ? recordings : fromBase64(recordings);
  let played: Played = { song: first, speed: 1, loop: undefined, until: undefined };
  let resting = first.timing.starts[0] ?? 0;
  /** Where the last press of Play began. */
  let began = resting;
  let sounding: ReadonlySet<PartName> | undefined;
  let [countsIn, clicks] = [false, false];
  let opening: Promise<Desk> | undefined;
  let desk: Desk | undefined;
  let schedule: Schedule | undefined;
  let given: readonly Voice[] = [];
  let timer: ReturnType<typeof setInterval> | undefined;
  /** The press that is being answered; another one, or a pause, takes it back. */
  let press: { readonly plays: boolean } | undefined;

  const now = (): number => desk?.context.currentTime ?? 0;
  const horizon = (): number => now() + (document.visibilityState === "hidden" ? aheadUnseen : ahead);
  const latency = (): number => (desk?.context instanceof AudioContext && desk.context.outputLatency) || 0;
  const beginning = (): number => played.song.timing.starts[0] ?? 0;
  const position = (): number => schedule?.placeAt(now() - latency()) ?? resting;

  const halt = (): void => {
    clearInterval(timer);
    timer = undefined;
    document.removeEventListener("visibilitychange", give);
  };

  function give(): void {
    if (schedule?.isPlaying() !== true || schedule.advance(now(), horizon())) return;
    halt();
    resting = played.until === undefined ? beginning() : began;
    tell.ended();
  }

  const pause = (): void => {
    press = undefined;
    resting = position();
    halt();
    schedule?.stop(now());
    for (const voice of given) voice.stop(now());
    given = [];
  };

  /** The desk once it sounds; `undefined` where it doesn't, or where the press was taken back meanwhile. */
  const openFor = async (own: typeof press): Promise<Desk | undefined> => {
    press = own;
    const isWanted = (): boolean => press === own;
    try {
      const on = context ?? new AudioContext({ latencyHint: "interactive" });
      context = on;
      // Sound is let out by a press inside the page, so it is asked for before anything is waited for.
      const running = on instanceof AudioContext && on.state !== "running" ? on.resume() : undefined;
      opening ??= openDesk(on, load);
      desk = await opening;
      if (sounding !== undefined) desk.setSounding(sounding);
      desk.setMetronome(clicks);
      schedule ??= createSchedule(desk);
      if (running !== undefined && (await isLate(running))) {
        if (navigator.userActivation?.hasBeenActive === false) {
          if (isWanted()) (tell.locked ?? tell.failed)();
          return undefined;
        }
        if (isWanted()) tell.waits?.();
      }
      await running;
      return isWanted() ? desk : undefined;
    } catch {
      if (desk === undefined) opening = undefined;
      if (isWanted()) tell.failed();
      return undefined;
    } finally {
      if (isWanted()) press = undefined;
    }
  };

  /** Goes to a place, playing if it plays. */
  const jump = (place: number): void => {
    resting = place;
    if (schedule?.isPlaying() !== true) return;
    schedule.start(played, place, now(), countsIn && schedule.isCounting(now()));
    give();
  };

  const change = (next: Partial<Played>): void => {
    const before = played.song;
    played = { ...played, ...next };
    resting = placeIn(played.song, before, resting) ?? beginning();
    began = placeIn(played.song, before, began) ?? beginning();
    if (schedule?.isPlaying() !== true || schedule.change(played, now(), horizon()) !== "gone") return;
    pause();
    resting = beginning();
    (tell.gone ?? tell.ended)();
  };

  return {
    isPlaying: () => press?.plays === true || schedule?.isPlaying() === true,
    isCounting: () => schedule?.isCounting(now()) === true,
    position,
    async play(until) {
      if (press?.plays || schedule?.isPlaying()) return;
      pause();
      played = { ...played, until };
      began = resting;
      if ((await openFor({ plays: true })) === undefined) return;
      schedule?.start(played, resting, now(), countsIn);
      timer = setInterval(give, interval);
      document.addEventListener("visibilitychange", give);
      give();
    },
    pause,
    seek: jump,
    setSpeed: (speed) => change({ speed }),
    setLoop(loop) {
      if (loop?.from === played.loop?.from && loop?.to === played.loop?.to) return;
      const place = position();
      if (loop === undefined || (place >= loop.from && place < loop.to)) change({ loop });
      else {
        played = { ...played, loop };
        jump(loop.from);
      }
    },
    setSounding(value) {
      sounding = value;
      desk?.setSounding(value);
    },
    setCountIn(isOn) {
      countsIn = isOn;
      if (!isOn && schedule?.isCounting(now())) jump(position());
    },
    setMetronome(isOn) {
      clicks = isOn;
      desk?.setMetronome(isOn);
    },
    setSong: (song) =>
      change({
        song,
        loop: played.loop && loopIn(song, played.song, played.loop),
        until: played.until && barEndIn(song, played.song, played.until),
      }),
    async giveTone(stretch) {
      pause();
      const it = firstTone(played.song, stretch);
      const on = it && (await openFor({ plays: false }));
      if (it === undefined || on === undefined) return undefined;
      given = soundFirstTone(it, now() + lead).map(on.tone);
      return it.words;
    },
  };
}

/** Whether sound isn't there in the time in which it comes where nothing is in its way. */
function isLate(running: Promise<void>): Promise<boolean> {
  const late = new Promise<boolean>((resolve) => setTimeout(() => resolve(true), unlocking));
  return Promise.race([running.then(() => false), late]);
}
