import { type Document, reachInForce } from "../document/document.js";
import { nextVoicing } from "../edits/next-voicing.js";
import { voiceRows } from "../edits/voice.js";
import type { Hand } from "../keyboard/hand.js";
import { type StyleName, styleNamed } from "../voicing/styles.js";
import { type Change, changeOf } from "./change.js";
import { laidOut } from "./laid-out.js";
import type { Scope } from "./scope.js";

/** How chords are to be voiced. */
export interface VoicingWish {
  readonly hands: readonly Hand[];
  readonly style: StyleName;
  /** Whether each voicing has to be playable in all twelve keys. */
  readonly everyKey?: boolean;
  /** Also what is written already, and not only what is empty. A selection chooses its slots by itself. */
  readonly anew?: boolean;
}

/** The style of a name as somebody asks for it; `undefined` for anything else. */
export const styleOf = (name: unknown): StyleName | undefined =>
  typeof name === "string" ? styleNamed(name)?.name : undefined;

/** Finds voicings for the chords of a chart, of one section, or for the slots and empty bars of a selection. */
export function voice(document: Document, scope: Scope, wish: VoicingWish): Change {
  const { hands, style, everyKey = false, anew = false } = wish;
  const only = scope.kind === "section" ? scope.placed : undefined;
  const result = voiceRows(document, {
    hands,
    style,
    everyKey,
    which: scope.kind === "selection" ? scope.span : anew ? "all" : "empty",
    only,
    reach: reachInForce(document),
  });
  if ("refused" in result || only === undefined) return laidOut(document, changeOf(document, result));
  const end = only.offset + only.section.source.text.length;
  const notes = result.notes.filter(({ span }) => span.start >= only.offset && span.start < end);
  return laidOut(document, changeOf(document, { edits: result.edits, notes }));
}

/** Puts the next best voicing into the slot of a hand at a place. */
export const stepVoicing = (document: Document, offset: number): Change =>
  laidOut(document, changeOf(document, nextVoicing(document, offset, reachInForce(document))));
