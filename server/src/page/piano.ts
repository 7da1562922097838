import { frequency } from "../theory/pitch.js";

/** A note that has been told to sound. */
export interface Voice {
  readonly start: number;
  /** Ends it sooner, with the fall of a damper. */
  readonly stop: (when: number) => void;
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

/** The recorded notes of a page, or `undefined` where none can be read. */
export async function recordedNotes(
  files: Readonly<Record<string, string>>,
  decode: (bytes: ArrayBuffer) => Promise<AudioBuffer>,
): Promise<readonly Recorded[] | undefined> {
  const notes = await Promise.all(
    Object.entries(files).map(async ([midi, text]): Promise<Recorded | undefined> => {
      try {
        const bytes = Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));
        const buffer = await decode(bytes.buffer);
        return { midi: Number(midi), buffer, stroke: strokeOf(buffer) };
      } catch {
        return undefined;
      }
    }),
  );
  const read = notes.filter((note) => note !== undefined);
  return read.length > 0 ? read.sort((a, b) => a.midi - b.midi) : undefined;
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
  const stop = (when: number): void => {
    gain.gain.setTargetAtTime(0, when, damping / 3);
    source.stop(when + 4 * damping);
  };
  stop(Math.max(end, start + 0.02));
  source.onended = () => gain.disconnect();
  return {
    start,
    stop(when) {
      if (when <= start) source.stop(0);
      else stop(when);
    },
  };
}
