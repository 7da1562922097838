import type { Span } from "../text/span.js";
import { cut } from "./cut.js";
import type { BarLine, BarText, EndingText, LeafSlot, WordsText } from "./tree.js";

/** The slots of some words, one for each. */
export function wordSlots({ text, start }: WordsText): readonly LeafSlot[] {
  return cut("words", text)
    .filter(({ name }) => name === "word")
    .map(({ start: at, text: word }) => ({
      kind: "leaf",
      span: { start: start + at, end: start + at + word.length },
      content: { kind: "word", text: word },
    }));
}

const noSlots: readonly LeafSlot[] = [];

/** A bar of words makes slots of them when it is asked: most only have to be counted. */
export class WordsBar implements BarText {
  private made: readonly LeafSlot[] | undefined;

  constructor(
    readonly span: Span,
    readonly open: BarLine,
    readonly close: BarLine | undefined,
    readonly ending: EndingText | undefined,
    readonly words: WordsText | undefined,
  ) {}

  get slots(): readonly LeafSlot[] {
    this.made ??= this.words === undefined ? noSlots : wordSlots(this.words);
    return this.made;
  }
}
