import type { Hand } from "../keyboard/hand.js";
import type { FormItem, Line, PitchedRow, RowLine, RowName, SlotContent, ToneText } from "../syntax/tree.js";
import type { Span } from "../text/span.js";
import type { Chord } from "../theory/chord.js";
import type { Fraction } from "../theory/fraction.js";
import type { Key } from "../theory/key.js";
import type { Pitch } from "../theory/pitch.js";
import type { Outline } from "./outline.js";
import type { PlacedStack } from "./stack.js";

export type Feel = "straight" | "swing" | "shuffle";

export interface Meter {
  readonly beats: number;
  readonly unit: number;
}

/** A key with the place of its 1: the MIDI number from which the home octaves of the rows are measured. */
export interface HomeKey {
  readonly key: Key;
  readonly one: number;
}

/** What letters, exact pitches and later keys of a section are moved by before they are read; zero in a chart's own sections. */
export interface Displacement {
  readonly fifths: number;
  readonly halfSteps: number;
}

/** All that a section hears from outside. Equal text in an equal context is an equal section. */
export interface SectionContext {
  readonly home: HomeKey;
  /** The chart's first 1: no later key's 1 lies more than nine half steps from it. */
  readonly firstOne: number;
  readonly meter: Meter;
  /** `undefined` where no `tempo` line says. */
  readonly tempo: number | undefined;
  readonly feel: Feel;
  readonly displacement: Displacement;
}

/** A section's lines, position-free: equal text gives the same object. The `section` line, if any, is the first. */
export interface SectionSource {
  /** "" for the nameless one. */
  readonly name: string;
  /** From the section's start. */
  readonly nameSpan: Span | undefined;
  readonly lines: readonly Line[];
  /** Where each line starts, from the section's start. */
  readonly starts: readonly number[];
  readonly text: string;
  readonly holds: Holds;
}

/** Whether a section has a line of one of these kinds, or a row with a pickup: few do, and who asks for them need not look at all. */
export interface Holds {
  readonly play: boolean;
  readonly form: boolean;
  readonly lands: boolean;
  readonly pickup: boolean;
}

/** A section as it sounds in its context. All spans count from the section's start, all times from its first bar line. */
export interface Section {
  readonly source: SectionSource;
  readonly context: SectionContext;
  readonly name: string;
  readonly lands: Lands | undefined;
  readonly vamp: boolean;
  /** The key, tempo and feel in which its first bar starts: its own lines or the chart's. */
  readonly start: HomeKey;
  readonly tempo: number | undefined;
  readonly feel: Feel;
  readonly systems: readonly System[];
  readonly bars: readonly Bar[];
  /** Other sections played here, in order. */
  readonly plays: readonly Play[];
  /** In order of `at`; those struck by `%` too. */
  readonly chords: readonly ChordEvent[];
  readonly rows: Readonly<Record<PitchedRow, RowEvents>>;
  /** What resolving met on its way, for the checks to judge. */
  readonly marks: readonly Mark[];
  /** The sum of its bars, each once. */
  readonly length: Fraction;
  /** The longest pickup of its systems, zero without any, and its shortest bar; `undefined` where it has no bar. */
  readonly longestPickup: Fraction;
  readonly shortestBar: Fraction | undefined;
}

export interface Lands {
  readonly degree: number;
  readonly alter: number;
  readonly span: Span;
}

export interface Play {
  readonly item: FormItem;
  /** Spans of the item count from its line; this is where that line starts. */
  readonly lineStart: number;
  /** It is played before this bar (an index of `bars`; its length where it is played last). */
  readonly beforeBar: number;
}

/** Rows that sound together. */
export interface System {
  readonly index: number;
  readonly rows: readonly SystemRow[];
  /** Its bars are `bars[firstBar]` to `bars[endBar - 1]`. */
  readonly firstBar: number;
  readonly endBar: number;
  readonly home: HomeKey;
  readonly meter: Meter;
  readonly tempo: number | undefined;
  readonly feel: Feel;
  /** A line that looks like a row and can't be read stands among its rows: what it would play is unknown. */
  readonly unread: boolean;
  /** The longest pickup of its rows; zero without any. */
  readonly pickup: Fraction;
}

export interface SystemRow {
  readonly row: RowName;
  readonly line: RowLine;
  /** Where its line starts. */
  readonly start: number;
}

export interface Bar {
  readonly index: number;
  readonly system: number;
  readonly meter: Meter;
  readonly home: HomeKey;
  readonly at: Fraction;
  readonly length: Fraction;
  readonly repeat: Repeat;
  readonly words: readonly Word[];
  /** The words of its cue; `undefined` where it has none. */
  readonly cue: string | undefined;
}

export interface Repeat {
  /** `|:` stands before it. */
  readonly start: boolean;
  /** `:|` stands after it. */
  readonly end: boolean;
  /** How often the repeat that ends here is played in all; 1 where none ends. */
  readonly times: number;
  /** The ending that starts here. */
  readonly ending: 1 | 2 | undefined;
  /** A double bar line stands after it. */
  readonly double: boolean;
}

/** A syllable, and the lead note that it is sung on. */
export interface Word {
  /** From 1, the `words` rows from above to below. */
  readonly verse: number;
  /** With a `-` behind it where the word goes on. */
  readonly text: string;
  readonly at: Fraction;
  readonly length: Fraction;
  readonly span: Span;
}

/** A chord from where it is struck to where another, `r` or `NC` ends it. */
export interface ChordEvent {
  readonly index: number;
  /** As written (`1:7/3`; of a bass alone `/7`). */
  readonly text: string;
  readonly chord: Chord;
  /** A bass alone: the chord before it goes on. */
  readonly bassAlone: boolean;
  readonly key: Key;
  /** The bar in which it is struck. A pickup's is the first of its system. */
  readonly bar: number;
  readonly at: Fraction;
  /** Its longest pass where it is held into two endings. */
  readonly length: Fraction;
  readonly span: Span;
  /** Where the `%` stands that strikes it anew. */
  readonly repeatedBy: Span | undefined;
  readonly pickup: boolean;
}

/** What one row does through the section, in written order. */
export interface RowEvents {
  readonly slots: readonly SlotEvent[];
  readonly notes: readonly Note[];
  /** The MIDI numbers of its lowest and highest note; infinite (and the wrong way round) where it has none. */
  readonly lowest: number;
  readonly highest: number;
  /** How many tones its largest stack has; 0 where it has none. */
  readonly mostTones: number;
}

/** One slot of a pitched row: the keys that are struck in it and those that go on sounding. */
export interface SlotEvent {
  readonly row: PitchedRow;
  readonly hand: Hand | undefined;
  readonly kind: "stack" | "hold" | "rest" | "unread";
  readonly system: number;
  readonly bar: number;
  readonly pickup: boolean;
  readonly at: Fraction;
  readonly length: Fraction;
  /** The lowest key of its row's home octave there, a MIDI number. */
  readonly home: number;
  /** The sum of the octave signs of the groups around it. */
  readonly groupOctaves: number;
  readonly rolled: boolean;
  readonly pushed: boolean;
  /** The chord that its numbers count from. */
  readonly chord: ChordEvent | undefined;
  /** What its stack places, struck or held; `undefined` of any other kind of slot. */
  readonly placed: PlacedStack | undefined;
  /** Struck here, lowest first as written; grace notes stand before their tone. */
  readonly struck: readonly Note[];
  /** Held from before by `-` or `_`. */
  readonly held: readonly Note[];
  /** The length of what is struck here, with all it is held for; zero where nothing is. */
  readonly lasts: Fraction;
  /** The slot that it is charged to: of `=` and `%` the one that they repeat. */
  readonly span: Span;
  /** The slot itself, which may be a `=`; in a bar that `%` repeats, the slot of the bar before. */
  readonly written: Span;
  readonly repeatedBy: Span | undefined;
}

export interface Note {
  readonly row: PitchedRow;
  /** `undefined` where somebody else sings or plays it. */
  readonly hand: Hand | undefined;
  /** As written, with its signs. */
  readonly text: string;
  readonly tone: ToneText;
  readonly pitch: Pitch;
  /** The chord that its number counts from (after `!` the next one); `undefined` where none sounds. */
  readonly chord: ChordEvent | undefined;
  readonly key: Key;
  readonly system: number;
  readonly bar: number;
  readonly pickup: boolean;
  readonly at: Fraction;
  /** With all it is held for; of a grace note zero. */
  readonly length: Fraction;
  readonly rolled: boolean;
  readonly grace: boolean;
  readonly pushed: boolean;
  /** The later slots that hold it. */
  readonly heldBy: readonly HeldSlot[];
  readonly span: Span;
  readonly repeatedBy: Span | undefined;
}

export interface HeldSlot {
  readonly at: Fraction;
  readonly length: Fraction;
  /** `-`, or the tone with its `_`. */
  readonly text: string;
  readonly span: Span;
}

/** Something that resolving couldn't take as written. Spans count from the section's start. */
export type Mark =
  | NoChordMark
  | OctaveSignMark
  | NothingToHoldMark
  | RedundantSignMark
  | MisplacedMark
  | RepeatDiffersMark
  | TooFineMark
  | TooManyWordsMark;

/** A number with no chord to count from. */
export interface NoChordMark {
  readonly kind: "no-chord";
  readonly row: PitchedRow;
  readonly span: Span;
  readonly text: string;
  /** How many chords of the section have been struck before it: marks that share it stand in one chordless stretch. */
  readonly stretch: number;
  readonly pushed: boolean;
}
/** A `<` or `>` that changes nothing. */
export interface OctaveSignMark {
  readonly kind: "octave-sign";
  readonly row: PitchedRow;
  /** The signs, or of a group around it the tone. */
  readonly span: Span;
  readonly toneSpan: Span;
  readonly why: "exact" | "inside-stack" | "group";
}
export interface NothingToHoldMark {
  readonly kind: "nothing-to-hold";
  readonly row: RowName;
  readonly span: Span;
  /** `bass` is a bass alone with no chord before it. */
  readonly sign: "-" | "/" | "_" | "bass";
  /** The tone after a `_`. */
  readonly tone:
    | {
        readonly pitch: Pitch;
        /** Where a `<` or `>` would be written. */
        readonly signsAt: number;
        /** Whether it is the lowest of its stack, so that it may go down. */
        readonly lowest: boolean;
        /** Where that tone does sound, in octaves above it. */
        readonly nearby: readonly number[];
      }
    | undefined;
}
/** A sign that the mode has already: `b3` in minor. */
export interface RedundantSignMark {
  readonly kind: "minor-degree";
  readonly row: RowName;
  /** The number with its signs. */
  readonly span: Span;
  readonly degree: number;
  readonly alter: number;
  readonly key: Key;
  readonly fifths: number;
}
/** A sign that can't stand there. */
export interface MisplacedMark {
  readonly kind: "misplaced";
  readonly row: RowName;
  readonly span: Span;
  readonly sign: "=" | "%";
  readonly where: "first" | "after-rest" | "first-bar";
}
/** What would mean different tones each time a repeat comes round. */
export interface RepeatDiffersMark {
  readonly kind: "repeat-differs";
  readonly row: RowName;
  readonly span: Span;
  readonly sign: "-" | "_" | "/" | "!";
  /** What it means the first time and the others: a chord, or tones. */
  readonly first: string;
  readonly again: string;
}
/** A bar of so many slots that it counts as empty. */
export interface TooFineMark {
  readonly kind: "too-fine";
  readonly row: RowName;
  readonly span: Span;
}
export interface TooManyWordsMark {
  readonly kind: "too-many-words";
  readonly row: "words";
  readonly span: Span;
  readonly words: number;
  readonly notes: number;
}

/** A leaf of a bar with its time: groups are opened, `%` and `=` still stand. */
export interface Leaf {
  readonly content: SlotContent;
  /** From the line's start. */
  readonly span: Span;
  /** From the bar's start. */
  readonly at: Fraction;
  readonly length: Fraction;
  /** The sum of the octave signs of the groups around it. */
  readonly octaves: number;
}

export interface Header {
  readonly title: string | undefined;
  readonly by: string | undefined;
  readonly notes: readonly string[];
  readonly home: HomeKey;
  /** The tonic in which the chart was written, where `(original …)` says so. */
  readonly original: number | undefined;
  readonly meter: Meter;
  readonly tempo: number | undefined;
  readonly feel: Feel;
  readonly reach: Reach;
}

/** The widest white-key interval that each hand holds (8 is an octave); `undefined` where nobody says. */
export interface Reach {
  readonly left: number | undefined;
  readonly right: number | undefined;
}

/** A section with its place in its file. */
export interface PlacedSection {
  readonly section: Section;
  /** Where its text starts in its file, and its first line's index there. */
  readonly offset: number;
  readonly firstLine: number;
  /** The file that it was brought in from; `undefined` for the chart's own. */
  readonly path: string | undefined;
  /** The sections that it plays, in the order of `section.plays`; `undefined` for a name that nobody has. */
  readonly plays: readonly (PlacedSection | undefined)[];
}

/** One step of the form, as written or, without a `form` line, a section in its turn. */
export interface FormStep {
  readonly section: PlacedSection;
  readonly times: number;
  readonly moved: Moved;
}

/** How a section is played: in which key it starts, and how many half steps from its pitches as printed. */
export interface Moved {
  readonly key: Key;
  readonly halfSteps: number;
}

/** A word of a `form` line: the section that it names, `undefined` where nobody has that name. */
export interface FormWord {
  readonly item: FormItem;
  /** Where its line starts in the file. */
  readonly lineStart: number;
  readonly section: PlacedSection | undefined;
}

/** A `use` line and what became of it. */
export interface Used {
  readonly path: string;
  /** The path without its quotes, from the file's start. */
  readonly span: Span;
  readonly found: "chart" | "itself" | "missing" | "outside" | "unreadable";
  /** The names of the sections that it brings in. */
  readonly names: readonly string[];
  /** Names that it would bring in and that an earlier `use` line has brought already. */
  readonly taken: readonly string[];
}

export interface Chart {
  /** The text that it was resolved from. */
  readonly outline: Outline;
  readonly header: Header;
  /** The chart's own sections in written order, then those of other charts that it plays. */
  readonly sections: readonly PlacedSection[];
  /** The words of its `form` lines; empty where it has none. */
  readonly formWords: readonly FormWord[];
  /** What is played, in order. Names that nobody has are left out. */
  readonly form: readonly FormStep[];
  /** Nothing has a section played in another key than it is written in: none is played but as printed. */
  readonly asPrinted: boolean;
  readonly uses: readonly Used[];
}
