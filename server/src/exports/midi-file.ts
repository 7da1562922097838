/** What happens on a track at a tick: a message to a channel, or a meta event. */
export type MidiEvent =
  | {
      readonly tick: number;
      /** 0x80 to 0xEF: the kind of message, and in its low four bits the channel from 0. */
      readonly status: number;
      /** One or two bytes of 7 bits. */
      readonly data: readonly number[];
    }
  | { readonly tick: number; readonly meta: number; readonly data: ArrayLike<number> };

export interface MidiTrack {
  /** In order of their ticks. */
  readonly events: readonly MidiEvent[];
  /** The tick at which the track ends. */
  readonly end: number;
}

/** Kinds of meta events (Standard MIDI File 1.0, RP-001). */
export const meta = {
  text: 0x01,
  trackName: 0x03,
  lyric: 0x05,
  marker: 0x06,
  endOfTrack: 0x2f,
  tempo: 0x51,
  timeSignature: 0x58,
  keySignature: 0x59,
} as const;

/** The largest number that a file of this kind can hold in variable length: four times seven bits. */
const most = 0x0fffffff;

/** A number, 0 to 0x0FFFFFFF, seven bits to a byte, the highest first; all but the last have their top bit set. */
export function variableLength(value: number): readonly number[] {
  const bytes = [value & 0x7f];
  for (let rest = value >>> 7; rest > 0; rest >>>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
}

/**
 * A Standard MIDI File 1.0. `division` is ticks a quarter note. A message of the same status as the one before it on
 * its track leaves the status out (running status).
 */
export function writeMidiFile(format: 0 | 1, division: number, tracks: readonly MidiTrack[]): Uint8Array {
  const chunks = tracks.map(trackBytes);
  const header = [...word(format), ...word(tracks.length), ...word(division)];
  const file = new Uint8Array(chunks.reduce((sum, { length }) => sum + 8 + length, 8 + header.length));
  let at = 0;
  const put = (bytes: ArrayLike<number>): void => {
    file.set(bytes, at);
    at += bytes.length;
  };
  const chunk = (name: string, bytes: ArrayLike<number>): void => {
    put(Array.from(name, (letter) => letter.charCodeAt(0)));
    put([...word(bytes.length >>> 16), ...word(bytes.length & 0xffff)]);
    put(bytes);
  };
  chunk("MThd", header);
  for (const bytes of chunks) chunk("MTrk", bytes);
  return file;
}

const word = (value: number): readonly [number, number] => [(value >> 8) & 0xff, value & 0xff];

function trackBytes({ events, end }: MidiTrack): readonly number[] {
  const bytes: number[] = [];
  let tick = 0;
  let running: number | undefined;
  const metaEvent = (kind: number, data: ArrayLike<number>): void => {
    bytes.push(0xff, kind, ...variableLength(data.length));
    for (let i = 0; i < data.length; i++) bytes.push(data[i] as number);
    running = undefined;
  };
  const waitFor = (next: number): void => {
    let delta = Math.max(0, next - tick);
    // Longer than a number can say: an empty text parts it.
    for (; delta > most; delta -= most) {
      bytes.push(...variableLength(most));
      metaEvent(meta.text, []);
    }
    bytes.push(...variableLength(delta));
    tick = Math.max(tick, next);
  };
  for (const event of events) {
    waitFor(event.tick);
    if ("meta" in event) {
      metaEvent(event.meta, event.data);
      continue;
    }
    if (event.status !== running) bytes.push(event.status);
    bytes.push(...event.data);
    running = event.status;
  }
  waitFor(end);
  metaEvent(meta.endOfTrack, []);
  return bytes;
}
