import type { IToken } from "chevrotain";
import type { Span } from "../text/span.js";
import { type ModeName, readMode } from "../theory/key.js";
import { readName } from "../theory/note-name.js";
import { type Cut, cut } from "./cut.js";
import type { NameText, OriginalText } from "./tree.js";

export interface KeyText {
  readonly tonic: NameText;
  /** `undefined` where the text leaves it unsaid. */
  readonly mode: ModeName | undefined;
  /** The tonic with its mode. */
  readonly keySpan: Span;
  readonly original: OriginalText | undefined;
}

const nameText = (token: Cut, start: number): NameText | undefined => {
  const fifths = token.text.length > 8 ? undefined : readName(token.text);
  const at = start + token.start;
  return fifths === undefined ? undefined : { fifths, span: { start: at, end: at + token.text.length } };
};

/** The parts of a key with its mode and `(original …)`, out of a piece that holds them. */
export function readKeyText(piece: "key" | "moveIn", token: IToken): KeyText | undefined {
  const start = token.startOffset;
  const cuts = cut(piece, token.image).filter(({ name }) => name !== "white" && name !== "moveWord");
  const first = cuts[0];
  const tonic = first && nameText(first, start);
  if (first === undefined || tonic === undefined) return undefined;
  const modeCut = cuts[1]?.name === "mode" ? cuts[1] : undefined;
  const last = modeCut ?? first;
  const keySpan = { start: tonic.span.start, end: start + last.start + last.text.length };
  const open = cuts.find(({ name }) => name === "parenthesis");
  const originalCut = open && cuts.at(-2);
  const originalTonic = originalCut && nameText(originalCut, start);
  if (open !== undefined && originalTonic === undefined) return undefined;
  const original: OriginalText | undefined = open &&
    originalTonic && {
      tonic: originalTonic,
      span: { start: start + open.start, end: start + token.image.length },
    };
  return { tonic, mode: modeCut && readMode(modeCut.text), keySpan, original };
}
