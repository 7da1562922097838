import type { PartName } from "../exports/performance.js";
import { type Laps, type Range, startLaps } from "./laps.js";
import { type Instrument, madeTone, recordedNotes, recordedPiano, type Voice } from "./piano.js";
import type { Song } from "./song.js";

/** The sound of a page: where it is, and what can be done to it. Positions are seconds of the song as it is written. */
export interface Player {
  readonly isPlaying: () => boolean;
  /** Where the ear is. */
  readonly position: () => number;
  readonly play: () => Promise<void>;
  readonly pause: () => void;
  readonly seek: (position: number) => void;
  /** 1 is as fast as written. */
  readonly setSpeed: (speed: number) => void;
  readonly setLoop: (loop: Range | undefined) => void;
  readonly setSounding: (sounding: ReadonlySet<PartName>) => void;
  /** The same song in another key goes on where it is. */
  readonly setSong: (song: Song) => void;
}

/** How far ahead notes are given to the sound's own clock, in seconds; more where the page isn't seen, since its timers are slow then. */
const [ahead, aheadUnseen] = [0.25, 2.5];
/** Milliseconds between looks at what is due. */
const interval = 50;
/** From the button to the first sound. */
const lead = 0.08;
/** Ten loud keys at once don't overdrive it (chosen here, no source). */
const volume = 0.32;

export function createPlayer(
  first: Song,
  files: Readonly<Record<string, string>>,
  tell: { readonly ended: () => void; readonly failed: () => void },
): Player {
  let song = first;
  let speed = 1;
  let loop: Range | undefined;
  let sounding: ReadonlySet<PartName> = new Set(song.view.sound.parts.map(({ name }) => name));
  let resting = song.timing.starts[0] ?? 0;
  let laps: Laps | undefined;
  let desk: Desk | undefined;
  let timer: ReturnType<typeof setInterval> | undefined;
  let voices: { readonly voice: Voice; readonly end: number }[] = [];

  const now = (): number => desk?.context.currentTime ?? 0;
  const position = (): number => {
    if (laps === undefined || desk === undefined) return resting;
    return laps.positionAt(now() - (desk.context.outputLatency || 0)) ?? song.timing.end;
  };

  const give = (): void => {
    if (laps === undefined || desk === undefined) return;
    const horizon = now() + (document.visibilityState === "hidden" ? aheadUnseen : ahead);
    for (const { note, start, end } of laps.due(horizon)) {
      const voice = desk.instrument(note.midi, start, end, note.loudness, desk.outOf(note.part));
      voices.push({ voice, end });
    }
    voices = voices.filter(({ end }) => end > now() - 1);
    if (laps.positionAt(now()) === undefined) {
      halt();
      resting = song.timing.starts[0] ?? 0;
      tell.ended();
    }
  };

  const hush = (): void => {
    const when = now();
    for (const { voice } of voices) voice.stop(when);
    voices = [];
  };

  const halt = (): void => {
    clearInterval(timer);
    timer = undefined;
    laps = undefined;
  };

  /** Plays on from a place with all that has been set. */
  const from = (place: number): void => {
    resting = place;
    if (desk === undefined || laps === undefined) return;
    hush();
    laps = startLaps(song, { at: now() + lead, from: place }, speed, loop, true);
    give();
  };

  const change = (set: () => void): void => {
    const place = position();
    set();
    from(place);
  };

  return {
    isPlaying: () => laps !== undefined,
    position,
    async play() {
      if (laps !== undefined) return;
      try {
        desk ??= await openDesk(files, sounding);
        // A context may start only once somebody has pressed something.
        if (desk.context.state !== "running") await desk.context.resume();
      } catch {
        tell.failed();
        return;
      }
      if (laps !== undefined) return;
      laps = startLaps(song, { at: now() + lead, from: resting }, speed, loop, true);
      timer = setInterval(give, interval);
      give();
    },
    pause() {
      if (laps === undefined) return;
      resting = position();
      halt();
      hush();
    },
    seek: from,
    setSpeed: (value) =>
      change(() => {
        speed = value;
      }),
    setLoop(value) {
      const place = position();
      loop = value;
      from(value !== undefined && (place < value.from || place >= value.to) ? value.from : place);
    },
    setSounding(value) {
      sounding = value;
      desk?.setSounding(value);
    },
    setSong: (value) =>
      change(() => {
        song = value;
      }),
  };
}

/** Where all sound goes through: a gain for each part, so that a part falls silent at once. */
interface Desk {
  readonly context: AudioContext;
  readonly instrument: Instrument;
  readonly outOf: (part: PartName) => AudioNode;
  readonly setSounding: (sounding: ReadonlySet<PartName>) => void;
}

async function openDesk(
  files: Readonly<Record<string, string>>,
  sounding: ReadonlySet<PartName>,
): Promise<Desk> {
  const context = new AudioContext({ latencyHint: "interactive" });
  const notes = await recordedNotes(files, (bytes) => context.decodeAudioData(bytes));
  const main = new GainNode(context, { gain: volume });
  main.connect(context.destination);
  const gains = new Map<PartName, GainNode>();
  let open = sounding;
  return {
    context,
    instrument: notes === undefined ? madeTone(context) : recordedPiano(context, notes),
    outOf(part) {
      let gain = gains.get(part);
      if (gain === undefined) {
        gain = new GainNode(context, { gain: open.has(part) ? 1 : 0 });
        gain.connect(main);
        gains.set(part, gain);
      }
      return gain;
    },
    setSounding(value) {
      open = value;
      for (const [part, { gain }] of gains)
        gain.setTargetAtTime(value.has(part) ? 1 : 0, context.currentTime, 0.01);
    },
  };
}
