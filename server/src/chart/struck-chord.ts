import { type Span, shift, sliceOf } from "../text/span.js";
import type { Chord } from "../theory/chord.js";
import type { Fraction } from "../theory/fraction.js";
import type { Key } from "../theory/key.js";
import type { ChordEvent } from "./model.js";

/** A chord that was struck. A chart has thousands of them, whose texts and places few ask for. */
export class StruckChord implements ChordEvent {
  /** `slot` counts from the line's start, `source` is the section's text. */
  constructor(
    readonly index: number,
    readonly chord: Chord,
    readonly bassAlone: boolean,
    readonly key: Key,
    readonly bar: number,
    readonly pickup: boolean,
    readonly at: Fraction,
    public length: Fraction,
    readonly slot: Span,
    readonly lineStart: number,
    readonly repeatedBy: Span | undefined,
    readonly source: string,
  ) {}

  get span(): Span {
    return shift(this.slot, this.lineStart);
  }
  get text(): string {
    return sliceOf(this.source, this.span);
  }
}
