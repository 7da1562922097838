import type {
  BarLine,
  BarText,
  BassText,
  ChordText,
  EndingText,
  FormItem,
  FromText,
  GroupSlot,
  KeyLine,
  LeafSlot,
  Line,
  MoveText,
  RowName,
  StackText,
  Statement,
  ToneText,
  Tree,
} from "../syntax/tree.js";
import type { Span } from "../text/span.js";
import type { Fraction } from "../theory/fraction.js";
import type { InForce } from "./in-force.js";
import type {
  Bar,
  Chart,
  ChordEvent,
  Lands,
  Moved,
  Note,
  PlacedSection,
  SlotEvent,
  System,
  SystemRow,
  Used,
  Word,
} from "./model.js";
import type { Outline } from "./outline.js";

/** What a place is looked up in: a document is one. */
export interface Charted {
  readonly text: string;
  readonly tree: Tree;
  readonly outline: Outline;
  readonly chart: Chart;
}

/** Where something stands. Spans count from the text's start, unless an object of the tree or a section holds them. */
export interface Where {
  /** What is located, from the text's start; empty where nothing stands. */
  readonly span: Span;
  /** The index of its line, the line, and where it starts in the text. */
  readonly lineIndex: number;
  readonly line: Line;
  readonly lineStart: number;
  /** The section that the line is of; `undefined` in the header. Its own spans count from `placed.offset`. */
  readonly placed: PlacedSection | undefined;
}

/** A bar of a row, or its pickup. */
export interface BarPlace {
  readonly placed: PlacedSection;
  readonly system: System;
  readonly row: SystemRow;
  /** Of a pickup the bar that it leads into; `undefined` where no system has any bar. */
  readonly bar: Bar | undefined;
  /** `undefined` for a pickup. */
  readonly text: BarText | undefined;
  readonly pickup: boolean;
}

/** A slot of a bar with its time. */
export interface SlotPlace extends BarPlace {
  readonly slot: LeafSlot;
  /** From the section's first bar line, in whole notes; `undefined` where the bar's slots are too short to count. */
  readonly at: Fraction | undefined;
  readonly length: Fraction | undefined;
}

/** A slot of a pitched row. */
export interface NoteSlot extends SlotPlace {
  /** What it sounds; `undefined` where its bar can't be counted. */
  readonly event: SlotEvent | undefined;
}

export interface TonePlace extends NoteSlot {
  readonly stack: StackText;
  readonly tone: ToneText;
  /** `undefined` where it has nothing to count from. Of a tone held with `_` the one that is held. */
  readonly note: Note | undefined;
}

export interface KeyPlace {
  readonly keyLine: KeyLine;
  readonly inForce: InForce;
  readonly counts: boolean;
}

/** Everything that can stand at a place of a chart. */
export type Located =
  /** White space, or a place between the parts of a line; `in` the bar, where it stands in a row. */
  | (Where & { readonly kind: "nothing"; readonly in: BarPlace | undefined })
  | (Where & { readonly kind: "comment" })
  /** The first word of a line: `key`, `section`, `right`. */
  | (Where & { readonly kind: "word"; readonly statement: Statement; readonly text: string })
  /** What `title`, `by` or `note` says. */
  | (Where & { readonly kind: "text"; readonly word: "title" | "by" | "note"; readonly text: string })
  /** The key of a key line, with what holds after it. `counts` is false where an earlier line of the header wins. */
  | (Where & KeyPlace & { readonly kind: "key" })
  | (Where & KeyPlace & { readonly kind: "original" })
  | (Where & { readonly kind: "time"; readonly meter: { readonly beats: number; readonly unit: number } })
  | (Where & { readonly kind: "tempo"; readonly tempo: number; readonly inForce: InForce })
  | (Where & { readonly kind: "feel"; readonly feel: "straight" | "swing" | "shuffle" })
  | (Where & {
      readonly kind: "reach";
      readonly left: number | undefined;
      readonly right: number | undefined;
    })
  | (Where & { readonly kind: "lands"; readonly lands: Lands; readonly inForce: InForce })
  /** A section's name where it opens. */
  | (Where & { readonly kind: "section"; readonly placed: PlacedSection; readonly name: string })
  /** A section's name in `form` or `play`. */
  | (Where & Played & { readonly kind: "section-use" })
  /** `in Eb`, `up half`. */
  | (Where & Played & { readonly kind: "move"; readonly move: MoveText })
  /** `x2` after a name. */
  | (Where & Played & { readonly kind: "times" })
  /** A path of a `use` line. */
  | (Where & { readonly kind: "use"; readonly used: Used | undefined; readonly path: string })
  /** `from C3` after a row's name. */
  | (Where & { readonly kind: "from"; readonly row: RowName; readonly from: FromText | undefined })
  /** A bar line, `|:`, `:|`, or the `x3` after it. `before` is the bar that it closes, `after` the one that it opens. */
  | (Where & {
      readonly kind: "bar-line";
      readonly barLine: BarLine;
      readonly row: SystemRow;
      readonly before: Bar | undefined;
      readonly after: Bar | undefined;
    })
  /** `1.` or `2.` */
  | (Where & { readonly kind: "ending"; readonly ending: EndingText; readonly bar: Bar | undefined })
  /** `(`, `)`, and the signs before a group. */
  | (Where & BarPlace & { readonly kind: "group"; readonly group: GroupSlot | undefined })
  | (Where &
      SlotPlace & {
        readonly kind: "chord";
        readonly chord: ChordText | BassText;
        /** `undefined` where it can't be resolved: a bass alone with nothing before it. */
        readonly event: ChordEvent | undefined;
      })
  /** A sign that is a slot in the chord row: `/`, `-`, `%`, `r`, `NC`, `=`. */
  | (Where &
      SlotPlace & {
        readonly kind: "chord-sign";
        readonly sign: SlotSign;
        /** What `%` strikes anew; elsewhere the chord that sounds, or that numbers go on counting from. */
        readonly events: readonly ChordEvent[];
      })
  /** A tone of a stack, without its neighbours. */
  | (Where & TonePlace & { readonly kind: "tone" })
  /** The tone that slips into it. */
  | (Where & TonePlace & { readonly kind: "grace" })
  /** A stack as a whole: one of the signs between and before its tones. */
  | (Where & NoteSlot & { readonly kind: "stack"; readonly stack: StackText })
  /** A sign that is a slot in a row of notes: `-`, `=`, `%`, `r`. */
  | (Where &
      NoteSlot & {
        readonly kind: "note-sign";
        readonly sign: SlotSign;
        /** What `%` plays anew, in order; else the slot alone. */
        readonly events: readonly SlotEvent[];
      })
  /** A syllable; `word` is `undefined` where it has no note. */
  | (Where & BarPlace & { readonly kind: "syllable"; readonly word: Word | undefined })
  /** A word of a cue; the span is that of the whole cue. */
  | (Where & BarPlace & { readonly kind: "cue"; readonly cue: string })
  | (Where & { readonly kind: "unread"; readonly text: string; readonly in: BarPlace | undefined });

export type SlotSign = "-" | "/" | "=" | "%" | "r" | "NC";

/** A section as a word of `form` or `play` has it played. */
export interface Played {
  readonly item: FormItem;
  readonly in: "form" | "play";
  /** `undefined` for a name that nobody has. */
  readonly target: PlacedSection | undefined;
  /** How it is played; `undefined` with the target. */
  readonly moved: Moved | undefined;
}

export type LocatedKind = Located["kind"];
/** What is located of one kind. */
export type LocatedAs<K extends LocatedKind> = K extends LocatedKind
  ? Extract<Located, { readonly kind: K }>
  : never;
