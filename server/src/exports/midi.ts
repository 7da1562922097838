import { beatLength } from "../chart/bar-time.js";
import type { Meter } from "../chart/model.js";
import { encodeUtf8 } from "../text/utf8.js";
import { visible } from "../text/visible.js";
import { type Fraction, plus } from "../theory/fraction.js";
import { type Key, practical, signature, triadOn } from "../theory/key.js";
import { type MidiEvent, type MidiTrack, meta, writeMidiFile } from "./midi-file.js";
import type { PartName, PedalStroke, PerformedBar, PlayedNote, SungWord } from "./performance.js";

export interface MidiOptions {
  /** The sound of all parts, from 0 (General MIDI level 1); a grand piano where unsaid. */
  readonly program?: number;
}

/** What a MIDI file holds of a performance. */
export interface MidiMusic {
  readonly title: string | undefined;
  readonly bars: readonly (Pick<PerformedBar, "at" | "meter" | "tempo" | "key" | "enters"> & {
    readonly section: { readonly section: { readonly name: string } };
  })[];
  readonly words: readonly Pick<SungWord, "at" | "text">[];
  readonly parts: readonly MidiPart[];
  readonly pedal: readonly PedalStroke[];
  readonly length: Fraction;
}

export interface MidiPart {
  readonly name: PartName;
  readonly notes: readonly MidiNote[];
}

export type MidiNote = Pick<PlayedNote, "at" | "length" | "loudness"> & {
  readonly pitch: { readonly midi: number };
};

/** Ticks a quarter note: all plain note values and triplets down to the 128th are whole. */
export const ticksPerQuarter = 480;
const ticksPerWhole = 4 * ticksPerQuarter;

/** The organs of General MIDI level 1, programs 16 to 20: they have no pedal to hold tones with. */
const isOrgan = (program: number): boolean => program >= 16 && program <= 20;

/** Each part has its channel, also where others are missing. */
const channels: Readonly<Record<PartName, number>> = { lead: 0, right: 1, left: 2, bass: 3, comping: 4 };
const names: Readonly<Record<PartName, string>> = {
  lead: "Lead",
  right: "Right hand",
  left: "Left hand",
  bass: "Bass",
  comping: "Comping",
};
/** The pedal is for what the hands play. */
const pedalled: ReadonlySet<PartName> = new Set(["right", "left", "comping"]);
const sustain = 64;

/** The tick of a time. It is rounded from the time itself, so that errors never add up. */
export const tickOf = ({ n, d }: Fraction): number => Math.round((n * ticksPerWhole) / d);

/** A performance as a Standard MIDI File of format 1: a track for name, tempo, meter, key, sections and words, then one for each part. */
export function midiFile(performance: MidiMusic, { program = 0 }: MidiOptions = {}): Uint8Array {
  const end = tickOf(performance.length);
  const pedal = isOrgan(program) ? [] : performance.pedal;
  return writeMidiFile(1, ticksPerQuarter, [
    conductor(performance, end),
    ...performance.parts.map((part) => partTrack(part, program, pedalled.has(part.name) ? pedal : [], end)),
  ]);
}

const text = (tick: number, kind: number, words: string): MidiEvent => ({
  tick,
  meta: kind,
  data: encodeUtf8(visible(words)),
});

function conductor({ title, bars, words }: MidiMusic, end: number): MidiTrack {
  const events: MidiEvent[] = [];
  const changes = new Map<number, string>();
  /** What holds until it changes is said once; before the first bar line too. */
  const say = (tick: number, kind: number, data: readonly number[]): void => {
    if (changes.get(kind) === data.join(" ")) return;
    events.push({ tick: changes.has(kind) ? tick : 0, meta: kind, data });
    changes.set(kind, data.join(" "));
  };
  for (const { at, meter, tempo, key, enters, section } of bars) {
    const tick = tickOf(at);
    say(tick, meta.timeSignature, timeSignature(meter));
    say(tick, meta.keySignature, keySignature(key));
    say(tick, meta.tempo, tempoBytes(tempo, meter));
    const { name } = section.section;
    if (enters && name !== "") events.push(text(tick, meta.marker, name));
  }
  for (const word of words) events.push(text(tickOf(word.at), meta.lyric, word.text));
  events.sort((a, b) => a.tick - b.tick);
  if (title !== undefined) events.unshift(text(0, meta.trackName, title));
  return { events, end };
}

/** Numerator, power of two of the denominator, MIDI clocks (24 a quarter) a beat, 32nds a quarter. */
export function timeSignature(meter: Meter): readonly number[] {
  const { n, d } = beatLength(meter);
  return [meter.beats, Math.log2(meter.unit), Math.max(1, Math.round((96 * n) / d)), 8];
}

/** Sharps (flats as a negative byte), then 1 where the tonic's triad is minor. A key of more than seven takes its practical name. */
export function keySignature(key: Key): readonly number[] {
  const signs = signature(Math.abs(signature(key)) > 7 ? practical(key) : key);
  return [signs & 0xff, triadOn(key, 1).third === "minor" ? 1 : 0];
}

/** Microseconds a quarter note, as far as three bytes go (slower than anybody plays: 3.6 quarters a minute). */
export function tempoBytes(tempo: number, meter: Meter): readonly number[] {
  const { n, d } = beatLength(meter);
  const microseconds = Math.min(0xffffff, Math.round((15_000_000 * d) / (tempo * n)));
  return [microseconds >> 16, (microseconds >> 8) & 0xff, microseconds & 0xff];
}

/** What happens at one tick, in this order: what ends, then the pedal, then what starts. */
const [ends, lifts, presses, starts] = [0, 1, 2, 3] as const;

function partTrack(
  { name, notes }: MidiPart,
  program: number,
  pedal: readonly PedalStroke[],
  end: number,
): MidiTrack {
  const channel = channels[name];
  const ordered: { readonly order: number; readonly event: MidiEvent }[] = [];
  const add = (tick: number, order: number, status: number, data: readonly number[]): void => {
    ordered.push({ order, event: { tick, status: status | channel, data } });
  };
  for (const { key, tick, until, loudness } of keysOf(notes)) {
    add(tick, starts, 0x90, [key, loudness]);
    add(until, ends, 0x90, [key, 0]);
  }
  for (const { at, length } of pedal) {
    add(tickOf(at), presses, 0xb0, [sustain, 127]);
    add(tickOf(plus(at, length)), lifts, 0xb0, [sustain, 0]);
  }
  ordered.sort((a, b) => a.event.tick - b.event.tick || a.order - b.order);
  return {
    events: [
      text(0, meta.trackName, names[name]),
      { tick: 0, status: 0xc0 | channel, data: [program] },
      ...ordered.map(({ event }) => event),
    ],
    end,
  };
}

/** A key that is down from one tick to another. */
export interface KeyStroke {
  readonly key: number;
  readonly tick: number;
  until: number;
  loudness: number;
}

/**
 * The notes of a part as strokes of keys, in order. A key that is struck again while it is down comes up first, and
 * of two notes that strike one key at once the longer sounds. What lies beyond the 128 keys of MIDI is left out.
 */
export function keysOf(notes: readonly MidiNote[]): readonly KeyStroke[] {
  const strokes: KeyStroke[] = [];
  const down = new Map<number, KeyStroke>();
  for (const { at, length, pitch, loudness } of notes) {
    const key = pitch.midi;
    if (key < 0 || key > 127) continue;
    const tick = tickOf(at);
    // What is shorter than a tick is still a stroke.
    const until = Math.max(tick + 1, tickOf(plus(at, length)));
    const before = down.get(key);
    if (before?.tick === tick) {
      before.until = Math.max(before.until, until);
      before.loudness = Math.max(before.loudness, loudness);
      continue;
    }
    if (before !== undefined && before.until > tick) before.until = tick;
    const stroke: KeyStroke = { key, tick, until, loudness };
    strokes.push(stroke);
    down.set(key, stroke);
  }
  return strokes;
}
