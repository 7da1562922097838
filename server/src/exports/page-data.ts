import type { Hand } from "../keyboard/hand.js";
import type { PitchedRow, RowName } from "../syntax/tree.js";
import type { PartName } from "./performance.js";

/**
 * What a page that plays itself knows of its chart, as plain JSON. All that a key changes is a number in it, never a
 * text, so that a chart in twelve keys is one view and lists of differences (`page-keys`).
 */
export interface PageView {
  readonly tonic: number;
  /** The 1 from which the home octaves are measured, a MIDI number. */
  readonly one: number;
  /** Widest white-key intervals that the hands hold. */
  readonly reach: Readonly<Record<Hand, number>>;
  readonly sections: readonly SectionView[];
  /** The form in playing order: the section, how often, and the tonic of the key where it is not as printed. */
  readonly form: readonly (readonly [section: number, times: number, tonic: number | null])[];
  readonly slots: readonly SlotView[];
  readonly sound: SoundView;
}

export interface SectionView {
  /** "" of the nameless one. */
  readonly name: string;
  readonly tonic: number;
  readonly mode: string;
  /** What is said below its name, apart from its key. */
  readonly facts: readonly string[];
  readonly systems: readonly SystemView[];
}

export interface SystemView {
  /** In the order in which they are shown, with a row for each verse. */
  readonly rows: readonly ShownRow[];
  readonly bars: readonly BarView[];
}

export interface ShownRow {
  readonly row: RowName | "numbers";
  /** Of words, from 1; 0 of any other row. */
  readonly verse: number;
  /** Lines that its highest stack needs. */
  readonly lines: number;
}

export interface BarView {
  /** An index of the section's bars. */
  readonly bar: number;
  /** It is the pickup into that bar. */
  readonly pickup: boolean;
  /** Words of another meter or another section played here. */
  readonly before: readonly string[];
  /** The key that holds from here on, where it is another one; its mode. */
  readonly key: readonly [tonic: number, mode: string] | null;
  /** How many moments it has at which something starts. */
  readonly columns: number;
  /** In the order of `ShownRow`s: what stands in each row. */
  readonly cells: readonly (readonly CellView[])[];
  readonly opens: boolean;
  /** How often the repeat that ends here is played; 0 where none ends. */
  readonly repeats: number;
  readonly ending: 0 | 1 | 2;
  readonly double: boolean;
}

/** From a column, 0 up, over some columns: a chord, a slot, words; or a sign alone (`-` goes on, `NC`). */
export type CellView =
  | { readonly c: number; readonly s: number; readonly chord: ChordView }
  | { readonly c: number; readonly s: number; readonly slot: number }
  | { readonly c: number; readonly s: number; readonly text: string };

/** A chord's root and bass (the root's place again where it has none), its quality's sign, and its number. */
export interface ChordView {
  readonly root: number;
  readonly bass: number | null;
  readonly quality: string;
  readonly number: string;
}

export interface SlotView {
  readonly row: PitchedRow;
  readonly section: number;
  readonly hand: Hand | null;
  readonly kind: "stack" | "hold" | "rest";
  readonly rolled: boolean;
  readonly pushed: boolean;
  /** From the lowest up, with those that are held from before. */
  readonly tones: readonly ToneView[];
}

export interface ToneView {
  readonly fifths: number;
  readonly midi: number;
  /** Its number, in the hands in the chord, in lead and bass in the key. */
  readonly number: number;
  readonly alter: number;
  readonly held: boolean;
  /** The name of the tone that slips into it. */
  readonly grace: number | null;
}

/** Lists of equal length, one for each field: what belongs together stands at one index. Times are n / d whole notes. */
export interface SoundView {
  readonly bars: {
    readonly n: readonly number[];
    readonly d: readonly number[];
    readonly ln: readonly number[];
    readonly ld: readonly number[];
    readonly section: readonly number[];
    readonly bar: readonly number[];
    readonly verse: readonly number[];
    readonly enters: readonly (0 | 1)[];
    readonly beats: readonly number[];
    readonly unit: readonly number[];
    readonly tempo: readonly number[];
    readonly tonic: readonly number[];
    readonly mode: readonly string[];
  };
  readonly parts: readonly PartView[];
  readonly chords: {
    readonly n: readonly number[];
    readonly d: readonly number[];
    readonly ln: readonly number[];
    readonly ld: readonly number[];
    readonly root: readonly number[];
    readonly bass: readonly (number | null)[];
    readonly quality: readonly string[];
  };
  readonly words: {
    readonly n: readonly number[];
    readonly d: readonly number[];
    readonly text: readonly string[];
  };
  readonly n: number;
  readonly d: number;
}

export interface PartView {
  readonly name: PartName;
  readonly n: readonly number[];
  readonly d: readonly number[];
  readonly ln: readonly number[];
  readonly ld: readonly number[];
  readonly fifths: readonly number[];
  readonly midi: readonly number[];
  /** With the hands balanced. */
  readonly loudness: readonly number[];
  readonly grace: readonly (0 | 1)[];
  /** An index of `slots`: where it is struck; -1 of what is made up. */
  readonly slot: readonly number[];
  /** Half steps from where it is printed. */
  readonly moved: readonly number[];
  /** Its number in the chord, and the sign before it; 0 where there is no chord. */
  readonly number: readonly number[];
  readonly alter: readonly number[];
}
