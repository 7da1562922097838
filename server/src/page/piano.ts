import { frequency } from "../theory/pitch.js";

/** A note that has been told to sound. */
export interface Voice {
  readonly start: number;
  /** Ends it sooner, with the fall of a damper; one that hasn't started is not heard at all. */
  readonly stop: (when: number) => void;
  /** Sets another end while it sounds. */
  readonly endAt: (when: number) => void;
}

/** Something that sounds a key: `start` and `end` on the context's clock, loudness as MIDI counts it. */
export type Instrument = (
  midi: number,
  start: number,
  end: number,
  loudness: number,
  out: AudioNode,
) => Voice;

/** A recorded note and where in it the stroke begins, in seconds. */
interface Recorded {
  readonly midi: number;
  readonly buffer: AudioBuffer;
  readonly stroke: number;
}

/** Seconds in which a damper takes most of the sound away (chosen here, no source). */
const damping = 0.07;
/** From a touch to how much of a recorded or made sound it takes; a touch of 90 gives the whole (chosen here, no source). */
const strength = (loudness: number): number => (loudness / 90) ** 1.6;

/** How the sound files of single piano notes come: by MIDI number. */
export type Recordings = () => Promise<ReadonlyMap<number, ArrayBuffer>>;

/** Sound files that a page carries in base64, by MIDI number. */
export const fromBase64 =
  (files: Readonly<Record<string, string>>): Recordings =>
  async () =>
    new Map(Object.entries(files).map(([midi, text]) => [Number(midi), bytesOf(text)]));

/** No bytes for a text that isn't base64: that note can't be decoded then, and the others can. */
function bytesOf(text: string): ArrayBuffer {
  try {
    return Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0)).buffer;
  } catch {
    return new ArrayBuffer(0);
  }
}

/** The recorded notes that can be had and decoded, from the lowest up; `undefined` where there are none. */
export async function recordedNotes(
  load: Recordings,
  decode: (bytes: ArrayBuffer) => Promise<AudioBuffer>,
): Promise<readonly Recorded[] | undefined> {
  const notes = await Promise.all(
    [...(await filesOf(load))].map(async ([midi, bytes]): Promise<Recorded | undefined> => {
      try {
        const buffer = await decode(bytes);
        return { midi, buffer, stroke: strokeOf(buffer) };
      } catch {
        return undefined;
      }
    }),
  );
  const read = notes.filter((note) => note !== undefined);
  return read.length > 0 ? read.sort((a, b) => a.midi - b.midi) : undefined;
}

async function filesOf(load: Recordings): ReturnType<Recordings> {
  try {
    return await load();
  } catch {
    return new Map();
  }
}

/** Decoders leave more or less silence before a sound; a thousandth of a second before it is heard, it begins. */
function strokeOf(buffer: AudioBuffer): number {
  const data = buffer.getChannelData(0);
  const first = data.findIndex((value) => Math.abs(value) > 0.01);
  return Math.max(0, first / buffer.sampleRate - 0.001);
}

/** A piano of recorded notes: the nearest one, played faster or slower. */
export function recordedPiano(context: BaseAudioContext, notes: readonly Recorded[]): Instrument {
  return (midi, start, end, loudness, out) => {
    const nearest = notes.reduce((best, it) =>
      Math.abs(it.midi - midi) < Math.abs(best.midi - midi) ? it : best,
    );
    const source = new AudioBufferSourceNode(context, {
      buffer: nearest.buffer,
      playbackRate: 2 ** ((midi - nearest.midi) / 12),
    });
    const gain = new GainNode(context, { gain: strength(loudness) });
    source.connect(gain).connect(out);
    source.start(start, nearest.stroke);
    return voiceOf(source, gain, start, end);
  };
}

/** How loud each overtone of the made tone is: fewer and softer than a bright sound has (chosen here, no source). */
const overtones: readonly number[] = [0, 1, 0.42, 0.2, 0.12, 0.07, 0.04];

/** A plain tone that dies away as a string does, for a page whose recorded notes can't be read. */
export function madeTone(context: BaseAudioContext): Instrument {
  const wave = context.createPeriodicWave(
    Float32Array.from(overtones, () => 0),
    Float32Array.from(overtones),
  );
  return (midi, start, end, loudness, out) => {
    const source = new OscillatorNode(context, {
      frequency: frequency(midi),
      periodicWave: wave,
      type: "custom",
    });
    const gain = new GainNode(context, { gain: 0 });
    const loud = 0.3 * strength(loudness);
    gain.gain.setValueAtTime(0, start);
    gain.gain.linearRampToValueAtTime(loud, start + 0.004);
    // High strings die away sooner.
    gain.gain.setTargetAtTime(0, start + 0.004, 1.4 * 2 ** ((60 - midi) / 24));
    source.connect(gain).connect(out);
    source.start(start);
    return voiceOf(source, gain, start, end);
  };
}

function voiceOf(source: AudioScheduledSourceNode, gain: GainNode, start: number, end: number): Voice {
  let damped = Math.max(end, start + shortest);
  const damp = (when: number): void => {
    gain.gain.cancelScheduledValues(damped);
    damped = Math.max(when, start + shortest);
    gain.gain.setTargetAtTime(0, damped, damping / 3);
    source.stop(damped + 4 * damping);
  };
  damp(end);
  source.onended = () => gain.disconnect();
  return {
    start,
    stop(when) {
      if (when <= start) source.stop(0);
      else if (when < damped) damp(when);
    },
    endAt: damp,
  };
}
/** Seconds that a stroke sounds at least, so that its damper falls behind its rise. */
const shortest = 0.02;
