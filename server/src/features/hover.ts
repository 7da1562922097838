import { locate } from "../chart/locate.js";
import type { Located } from "../chart/located.js";
import type { Document } from "../document/document.js";
import type { Span } from "../text/span.js";
import { type ChordOptions, chordWords } from "./chord-words.js";
import { clipped } from "./clipped.js";
import { type HoverText, saying } from "./hover-text.js";
import { keyWords } from "./key-words.js";
import { landsWords, playedItemWords, sectionWords } from "./section-words.js";
import {
  cueWords,
  feelWords,
  fromWords,
  reachWords,
  tempoWords,
  timeWords,
  useWords,
} from "./setting-words.js";
import { barLineWords, chordSignWords, endingWords, groupWords } from "./sign-words.js";
import { syllableWords } from "./syllable-words.js";
import { noteSignWords, stackWords, toneWords } from "./tone-words.js";
import { wordWords } from "./word-meanings.js";

/** What the player is told about a place, and the text that it is about, from the text's start. */
export interface Hover {
  readonly span: Span;
  readonly text: HoverText;
}

export type HoverOptions = ChordOptions;

/** What stands at `offset` and what it means there; `undefined` where there is nothing to say. */
export function hover(
  document: Document,
  offset: number,
  options: HoverOptions = { scales: true },
): Hover | undefined {
  const place = locate(document, offset);
  const text = wordsFor(document, place, options);
  return text === undefined ? undefined : { span: place.span, text };
}

function wordsFor(document: Document, place: Located, options: HoverOptions): HoverText | undefined {
  const { chart } = document;
  switch (place.kind) {
    case "nothing":
    case "comment":
    case "unread":
      return undefined;
    case "word":
      return wordWords(place);
    case "text":
      return saying(`${place.word}: ${clipped(place.text)}`, "Printed above the chart.");
    case "key":
    case "original":
      return keyWords(chart, place);
    case "time":
      return timeWords(place);
    case "tempo":
      return tempoWords(place);
    case "feel":
      return feelWords(place);
    case "reach":
      return reachWords(place);
    case "lands":
      return landsWords(place);
    case "section":
      return sectionWords(chart, place);
    case "section-use":
    case "move":
    case "times":
      return playedItemWords(place);
    case "use":
      return useWords(place);
    case "from":
      return fromWords(place);
    case "bar-line":
      return barLineWords(place);
    case "ending":
      return endingWords(place);
    case "group":
      return groupWords(place);
    case "chord":
      return place.event === undefined
        ? saying("A bass alone", "It goes under the chord before it, and there is none here.")
        : chordWords(chart, place.placed, place.event, options);
    case "chord-sign":
      return chordSignWords(chart, place, options);
    case "tone":
    case "grace":
      return toneWords(document, place);
    case "stack":
      return stackWords(document, place);
    case "note-sign":
      return noteSignWords(document, place);
    case "syllable":
      return syllableWords(place);
    case "cue":
      return cueWords(place);
  }
}
