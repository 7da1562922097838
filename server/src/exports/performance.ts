import { barLength } from "../chart/bar-time.js";
import type { Chart, Meter, Note, PlacedSection, Reach } from "../chart/model.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import type { Span } from "../text/span.js";
import type { Chord } from "../theory/chord.js";
import { type Fraction, fraction, plus, zero } from "../theory/fraction.js";
import type { Key } from "../theory/key.js";
import type { Pitch } from "../theory/pitch.js";
import { beatsOf } from "./bent-time.js";
import { compedNotes } from "./comping.js";
import { soundNotes } from "./ornaments.js";
import { pedalled } from "./pedal.js";
import { playChords } from "./play-chords.js";
import { playRow } from "./play-row.js";
import { sungWords } from "./sung-words.js";
import { tempoOf, timeline } from "./timeline.js";

/** Whose notes they are: the four pitched rows, and what is made up where a system gives chords and no hand. */
export type PartName = "lead" | "right" | "left" | "bass" | "comping";

/** The text that something was made from. The span counts from the start of its section. */
export interface Source {
  readonly section: PlacedSection;
  readonly span: Span;
  /** The printed note; `undefined` of what is no note of a row. */
  readonly note?: Note;
}

/** A note as it sounds. Times are exact fractions of a whole note from the performance's start. */
export interface PlayedNote {
  readonly at: Fraction;
  readonly length: Fraction;
  readonly pitch: Pitch;
  /** `undefined` where somebody else sings or plays it. */
  readonly hand: Hand | undefined;
  readonly grace: boolean;
  /** 1 to 127, as MIDI counts the force of a touch. */
  readonly loudness: number;
  readonly source: Source;
}

export interface Part {
  readonly name: PartName;
  /** In order of time, then from the lowest key up. */
  readonly notes: readonly PlayedNote[];
}

/** A chord as it sounds, from where it is struck to where another, `r` or `NC` ends it. */
export interface PlayedChord {
  readonly at: Fraction;
  readonly length: Fraction;
  readonly chord: Chord;
  readonly key: Key;
  readonly source: Source;
}

/** A bar as it is played. */
export interface PerformedBar {
  readonly at: Fraction;
  readonly length: Fraction;
  readonly section: PlacedSection;
  /** An index of the section's bars. */
  readonly bar: number;
  /** Which time its section is played, from 1. */
  readonly verse: number;
  /** Another section starts here, or the same one again, or a section goes on after one that it plays. */
  readonly enters: boolean;
  readonly meter: Meter;
  /** The key in which it sounds. */
  readonly key: Key;
  /** Beats a minute; the beat is that of its meter (`beatLength`). */
  readonly tempo: number;
}

/** A syllable as it is sung, or words under a bar. */
export interface SungWord {
  readonly at: Fraction;
  readonly length: Fraction;
  /** With a `-` behind it where the word goes on. */
  readonly text: string;
  readonly source: Source;
}

/** From where a pedal goes down to where it comes up. */
export interface PedalStroke {
  readonly at: Fraction;
  readonly length: Fraction;
}

/** The chart as timed notes: form, repeats, endings, pickups, feel, rolls and grace notes written out. */
export interface Performance {
  readonly title: string | undefined;
  /** Before the first bar line: whole bars, as many as a pickup there needs; zero without one. */
  readonly leadIn: Fraction;
  readonly bars: readonly PerformedBar[];
  /** To the end of the last bar. */
  readonly length: Fraction;
  /** Those that have a note, in the order of `PartName`. */
  readonly parts: readonly Part[];
  readonly chords: readonly PlayedChord[];
  readonly words: readonly SungWord[];
  /** Empty where no pedal was asked for. */
  readonly pedal: readonly PedalStroke[];
  /** The form is longer than anybody plays; it stops at the end of `bars`. */
  readonly cut: boolean;
}

export interface PerformanceOptions {
  /** How much longer the first half of a swung beat lasts than the second. */
  readonly swing?: Fraction;
  /** How often a vamp is played where the form doesn't say. */
  readonly vampTimes?: number;
  /** Wins over the chart's own `reach`; a roll's time depends on it. */
  readonly reach?: Reach;
  /** The left hand a little softer, the lead and the right hand's top voice a little louder. */
  readonly balance?: boolean;
  /** The pedal goes down anew with each chord. */
  readonly pedal?: boolean;
}

/** A mild swing; measured ones lie between 1:1 and 3.5:1 and depend on the tempo (chosen here, no source). */
export const mildSwing: Fraction = fraction(3, 2);
const usualVampTimes = 2;

const rows = ["lead", "right", "left", "bass"] as const;

/** The chart as it is played. Nothing fails: what can't be read is silent. */
export function perform(chart: Chart, options: PerformanceOptions = {}): Performance {
  const { swing = mildSwing, vampTimes = usualVampTimes, balance = false, pedal = false } = options;
  const { bars, leadIn, cut } = timeline(chart, vampTimes);
  const beats = beatsOf(swing);
  const { reach } = chart.header;
  const reaches = {
    left: options.reach?.left ?? reach.left ?? usualReach,
    right: options.reach?.right ?? reach.right ?? usualReach,
  };
  const heard = rows.map((row) => ({ name: row, notes: playRow(row, bars, beats) }));
  const parts: Part[] = soundNotes(heard, reaches, balance);
  const chords = playChords(bars, beats);
  const comping = compedNotes(chart, chords, balance);
  if (comping.length > 0) parts.push({ name: "comping", notes: comping });
  const last = bars.at(-1);
  return {
    title: chart.header.title,
    leadIn,
    bars: bars.map(({ at, played: { section, bar, verse }, enters, key }) => ({
      at,
      length: barLength(bar.meter),
      section,
      bar: bar.index,
      verse,
      enters,
      meter: bar.meter,
      key,
      tempo: tempoOf(section.section, bar),
    })),
    length: last === undefined ? zero : plus(last.at, last.played.bar.length),
    parts: parts.filter(({ notes }) => notes.length > 0),
    chords: chords.map(({ at, length, chord, key, source }) => ({ at, length, chord, key, source })),
    words: sungWords(bars, beats),
    pedal: pedal ? pedalled(chords) : [],
    cut,
  };
}
