import type { TokenName } from "../../../grammar/tokens.js";
import type { Problem } from "../problems/problem.js";
import type { Span } from "../text/span.js";
import type { ModeName } from "../theory/key.js";
import type { QualityReading } from "../theory/quality.js";

/** The rows that a system may have, as they are written. */
export type RowName = "chords" | "lead" | "right" | "left" | "bass" | "words" | "cue";
/** The rows whose slots hold tones. */
export type PitchedRow = "lead" | "right" | "left" | "bass";

/** A chart's text as lines. Equal line texts share one `Line`, so nothing in a line knows where it stands. */
export interface Tree {
  readonly text: string;
  readonly lines: readonly Line[];
  /** The offset at which each line starts. */
  readonly starts: readonly number[];
}

/** One line with its line end. All spans inside count from the line's start. */
export interface Line {
  readonly text: string;
  /** Every character of the line in order, white space, comment and line end included. */
  readonly tokens: readonly Token[];
  readonly statement: Statement;
  /** What the parser has to say; also that of the slots. */
  readonly problems: readonly Problem[];
}

export interface Token {
  readonly kind: TokenName;
  readonly span: Span;
}

export type Statement =
  | BlankLine
  | CommentLine
  | TextLine
  | KeyLine
  | TimeLine
  | TempoLine
  | FeelLine
  | ReachLine
  | FormLine
  | UseLine
  | SectionLine
  | LandsLine
  | VampLine
  | PlayLine
  | RowLine
  | UnreadLine;

/** Nothing but white space. */
export interface BlankLine {
  readonly kind: "blank";
}
export interface CommentLine {
  readonly kind: "comment";
}
/** `title`, `by` or `note`. */
export interface TextLine {
  readonly kind: "text";
  readonly word: "title" | "by" | "note";
  /** The rest of the line without its comment, trimmed. */
  readonly value: string;
  readonly span: Span;
}
/** A note name as written: `fifths` on the line of fifths (F -1, C 0, G 1, Bb -2). */
export interface NameText {
  readonly fifths: number;
  readonly span: Span;
}
export interface KeyLine {
  readonly kind: "key";
  /** `undefined` where the tonic can't be read; then the line counts for nothing. */
  readonly tonic: NameText | undefined;
  readonly mode: ModeName;
  /** From the tonic to the end of the mode's name (`Eb`, `F# minor`, `Cm`), without `(original …)`. */
  readonly keySpan: Span;
  readonly original: OriginalText | undefined;
}
/** `(original TONIC)`: `span` covers the parentheses. */
export interface OriginalText {
  readonly tonic: NameText;
  readonly span: Span;
}
export interface TimeLine {
  readonly kind: "time";
  /** `undefined` where it can't be read. `beats` is 1 to 99, `unit` a power of two up to 64. */
  readonly value: { readonly beats: number; readonly unit: number } | undefined;
  readonly span: Span;
}
export interface TempoLine {
  readonly kind: "tempo";
  /** Beats a minute, 1 to 999; `undefined` where it can't be read. */
  readonly value: number | undefined;
  readonly span: Span;
}
export interface FeelLine {
  readonly kind: "feel";
  readonly value: "straight" | "swing" | "shuffle" | undefined;
  readonly span: Span;
}
export interface ReachLine {
  readonly kind: "reach";
  /** White-key intervals, 5 to 15 (8 is an octave); `undefined` where the line doesn't say. */
  readonly left: number | undefined;
  readonly right: number | undefined;
  readonly span: Span;
}
export interface FormLine {
  readonly kind: "form";
  readonly items: readonly FormItem[];
}
/** A section name in `form` or `play` with the words that follow it. */
export interface FormItem {
  readonly name: string;
  /** The name, without its quotes. */
  readonly nameSpan: Span;
  /** 1 where unsaid; 1 to 99. */
  readonly times: number;
  readonly move: MoveText | undefined;
  /** One of `in`, `up`, `down` right after the name that says no key and no step: it may belong to the name. */
  readonly stray: { readonly word: string; readonly span: Span } | undefined;
  /** The name and its words. */
  readonly span: Span;
}
export type MoveText =
  | {
      /** `in KEY`. */
      readonly kind: "in";
      readonly tonic: NameText;
      /** Said only where the text says it (`in Am`, `in A minor`). */
      readonly mode: ModeName | undefined;
      /** The tonic with its mode, without `(original …)`. */
      readonly keySpan: Span;
      readonly original: OriginalText | undefined;
      readonly span: Span;
    }
  | {
      /** `up half` is 1, `up whole` 2, `down half` -1, `down whole` -2. */
      readonly kind: "by";
      readonly halfSteps: number;
      readonly span: Span;
    };
export interface UseLine {
  readonly kind: "use";
  /** What stands between the quotes; `undefined` where it can't be read. */
  readonly path: string | undefined;
  /** The path without its quotes. */
  readonly span: Span;
}
export interface SectionLine {
  readonly kind: "section";
  /** Trimmed, without quotes; "" where it is missing. */
  readonly name: string;
  readonly nameSpan: Span;
}
export interface LandsLine {
  readonly kind: "lands";
  readonly degree: DegreeText | undefined;
  readonly span: Span;
}
export interface VampLine {
  readonly kind: "vamp";
}
export interface PlayLine {
  readonly kind: "play";
  readonly item: FormItem | undefined;
}
/** A line whose first word is none of the language's. */
export interface UnreadLine {
  readonly kind: "unread";
  /** The name of the section that it may open without saying so. */
  readonly section?: string;
}

export interface RowLine {
  readonly kind: "row";
  readonly row: RowName;
  readonly nameSpan: Span;
  readonly from: FromText | undefined;
  /** The slots before the first bar line. */
  readonly pickup: readonly Slot[];
  readonly bars: readonly BarText[];
}
export interface FromText {
  readonly pitch: PitchText;
  readonly span: Span;
}
/** A letter with its accidentals and, where it is exact, its octave (C4 is middle C). */
export interface PitchText {
  readonly fifths: number;
  readonly octave: number | undefined;
  readonly span: Span;
}
export interface BarText {
  /** Between the bar lines, white space included. */
  readonly span: Span;
  readonly open: BarLine;
  /** `undefined` where the row's last bar isn't closed. */
  readonly close: BarLine | undefined;
  readonly ending: EndingText | undefined;
  readonly slots: readonly Slot[];
  /** What its slots are made from in a row of words; `undefined` in any other row, and where there are none. */
  readonly words: WordsText | undefined;
}
/** From the first word to the last. */
export interface WordsText {
  readonly text: string;
  /** From the line's start. */
  readonly start: number;
}
export interface BarLine {
  /** Without the `x3`. */
  readonly span: Span;
  readonly double: boolean;
  /** `|:` */
  readonly starts: boolean;
  /** `:|` */
  readonly ends: boolean;
  /** After `:|`: how often the repeat is played in all, 2 where unsaid; 1 elsewhere. */
  readonly times: number;
  readonly timesSpan: Span | undefined;
}
export interface EndingText {
  readonly number: 1 | 2;
  readonly span: Span;
}

/** One slot of a bar, or of a group. */
export type Slot = GroupSlot | LeafSlot;
export interface GroupSlot {
  readonly kind: "group";
  /** From the first sign to the closing parenthesis. */
  readonly span: Span;
  /** The sum of its `>` (+1 each) and `<` (-1 each). */
  readonly octaves: number;
  /** The `>` and `<` before the parenthesis; empty where there are none. */
  readonly signs: Span;
  readonly slots: readonly Slot[];
}
export interface LeafSlot {
  readonly kind: "leaf";
  readonly span: Span;
  /** Shared between all slots of the same text, words aside; its spans count from the slot's start. */
  readonly content: SlotContent;
}
export type SlotContent =
  | StackText
  | ChordText
  | BassText
  | { readonly kind: "hold" } // "-" anywhere, "/" in chords: one more slot
  | { readonly kind: "again" } // "="
  | { readonly kind: "sameBar" } // "%"
  | { readonly kind: "rest" } // "r"; in a hand "NC" too
  | { readonly kind: "noChord" } // "NC" in chords
  | { readonly kind: "word"; readonly text: string } // a syllable, or a word of a cue
  | { readonly kind: "unread" }; // what can't be read

export interface StackText {
  readonly kind: "stack";
  /** `!` */
  readonly pushed: Span | undefined;
  /** `~` before the stack. */
  readonly rolled: Span | undefined;
  /** At least one, lowest first as written. */
  readonly tones: readonly ToneText[];
}
export interface ToneText {
  /** With its signs. */
  readonly span: Span;
  /** `_` */
  readonly held: Span | undefined;
  /** The sum of its `>` and `<`. */
  readonly octaves: number;
  /** Where the `>` and `<` stand; `undefined` without any. */
  readonly octaveSigns: Span | undefined;
  /** `k` or `c`. */
  readonly counts: "key" | "chord" | undefined;
  readonly name: ToneName;
  readonly nameSpan: Span;
  /** The `a` of `a~b`. */
  readonly grace: ToneName | undefined;
  readonly graceSpan: Span | undefined;
}
export type ToneName =
  | { readonly kind: "number"; readonly number: number; readonly alter: number } // 0 to 11 and 13; b is -1, # is +1
  | { readonly kind: "pitch"; readonly fifths: number; readonly octave: number | undefined };

export interface ChordText {
  readonly kind: "chord";
  readonly root: RootText;
  /** Whether a colon stands between root and quality. */
  readonly colon: boolean;
  /** As written, "" where there is none; without the colon. */
  readonly quality: QualityReading;
  readonly qualitySpan: Span;
  readonly bass: RootText | undefined;
}
/** A bass alone: `/7`, `/B`. */
export interface BassText {
  readonly kind: "bass";
  readonly bass: RootText;
}
export type RootText =
  | (DegreeText & { readonly kind: "degree" })
  | { readonly kind: "letter"; readonly fifths: number; readonly span: Span };
export interface DegreeText {
  /** 1 to 7. */
  readonly degree: number;
  /** b is -1, # is +1. */
  readonly alter: number;
  readonly span: Span;
}
