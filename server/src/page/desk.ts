import type { PartName } from "../exports/performance.js";
import { click } from "./click.js";
import type { DueTone } from "./first-tone.js";
import { madeTone, type Recordings, recordedNotes, recordedPiano, type Voice } from "./piano.js";
import type { Sounds } from "./schedule.js";

/** Where all sound goes through: a gain for each part and for the clicks, so that each falls silent at once. */
export interface Desk extends Sounds {
  readonly context: BaseAudioContext;
  /** A tone of no part, which no setting takes away. */
  readonly tone: (due: DueTone) => Voice;
  readonly setSounding: (sounding: ReadonlySet<PartName>) => void;
  readonly setMetronome: (isOn: boolean) => void;
}

/** Ten loud keys at once don't overdrive it (chosen here, no source). */
const volume = 0.32;
/** Seconds in which a gain goes most of its way: fast to the ear, and without a click. */
const glide = 0.01;

export async function openDesk(context: BaseAudioContext, recordings: Recordings): Promise<Desk> {
  const notes = await recordedNotes(recordings, (bytes) => context.decodeAudioData(bytes));
  const instrument = notes === undefined ? madeTone(context) : recordedPiano(context, notes);
  const main = new GainNode(context, { gain: volume });
  main.connect(context.destination);
  const bus = (gain: number): GainNode => {
    const it = new GainNode(context, { gain });
    it.connect(main);
    return it;
  };
  const set = ({ gain }: GainNode, isOn: boolean): void => {
    gain.setTargetAtTime(isOn ? 1 : 0, context.currentTime, glide);
  };
  const [always, metronome] = [bus(1), bus(0)];
  const parts = new Map<PartName, GainNode>();
  let open: ReadonlySet<PartName> | undefined;
  const outOf = (part: PartName): GainNode => {
    const there = parts.get(part) ?? bus(open?.has(part) === false ? 0 : 1);
    parts.set(part, there);
    return there;
  };
  return {
    context,
    strike: ({ midi, loudness, part }, start, end) => instrument(midi, start, end, loudness, outOf(part)),
    count: ({ at, isFirst }) => click(context, at, isFirst, always),
    beat: ({ at, isFirst }) => click(context, at, isFirst, metronome),
    tone: ({ midi, start, end, loudness }) => instrument(midi, start, end, loudness, always),
    setSounding(value) {
      open = value;
      for (const [part, gain] of parts) set(gain, value.has(part));
    },
    setMetronome: (isOn) => set(metronome, isOn),
  };
}
