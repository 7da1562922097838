import type { Document } from "../document/document.js";
import { isTextRow } from "../syntax/text-row.js";
import { type Span, shift } from "../text/span.js";
import { chordOffers } from "./completion-chords.js";
import { keyOffers } from "./completion-keys.js";
import { pathOffers } from "./completion-paths.js";
import { isReadable, type Offer, type TypingPlace, typingPlace } from "./completion-place.js";
import { newNameOffers, playedOffers } from "./completion-sections.js";
import { toneOffers } from "./completion-tones.js";
import { valueOffers } from "./completion-values.js";
import { firstWordOf, firstWordOffers } from "./completion-words.js";

/** Something that can be written at a place. */
export interface Completion extends Offer {
  /** From the text's start. */
  readonly span: Span;
  /** Orders the items: no two share it. */
  readonly sort: string;
}

export interface Completions {
  readonly items: readonly Completion[];
  /** There is more to offer than fits: ask again when more has been typed. */
  readonly isIncomplete: boolean;
}

export interface CompletionOptions {
  /** Other charts that a `use` line may name, by their paths from this one. */
  readonly paths?: readonly string[];
}

/** More than anybody reads; what is typed next makes the list shorter. */
const mostItems = 60;

const nothing: Completions = { items: [], isIncomplete: false };

/**
 * What can be written at `offset`, the likeliest first. What is offered can be read there: taking it brings no problem
 * of reading into its line.
 */
export function completion(
  document: Document,
  offset: number,
  { paths = [] }: CompletionOptions = {},
): Completions {
  const place = typingPlace(document, offset);
  if (place === undefined) return nothing;
  const fitting = readable(place, distinct(offersAt(place, paths)));
  const items = fitting.slice(0, mostItems).map(
    (it, i): Completion => ({
      ...it,
      span: shift(it.span, place.lineStart),
      sort: String(i).padStart(3, "0"),
    }),
  );
  return { items, isIncomplete: fitting.length > mostItems };
}

function offersAt(place: TypingPlace, paths: readonly string[]): readonly Offer[] {
  const { statement } = place.line;
  const word = firstWordOf(place);
  if (place.at <= word.end || statement.kind === "blank") return firstWordOffers(place, word);
  switch (statement.kind) {
    case "key":
      return keyOffers(place, word.end);
    case "time":
    case "tempo":
    case "feel":
    case "reach":
    case "lands":
      return valueOffers(place, word.end, statement.kind);
    case "form":
    case "play":
      return playedOffers(place, word.end, statement.kind);
    case "use":
      return pathOffers(place, word.end, paths);
    case "section":
      return newNameOffers(place, word.end);
    case "row":
      if (statement.row === "chords") return chordOffers(place, statement);
      if (isTextRow(statement.row)) return [];
      return toneOffers(place, statement, statement.row);
    default:
      return [];
  }
}

/** The first of those that write the same. */
function distinct(offers: readonly Offer[]): readonly Offer[] {
  const texts = new Set<string>();
  return offers.filter(({ text, span }) => {
    const written = `${span.start} ${span.end} ${text}`;
    return !texts.has(written) && texts.add(written);
  });
}

/** Chords stand where one chord can stand, and tones, keys and names alike; words and signs are tried one by one. */
function readable(place: TypingPlace, offers: readonly Offer[]): readonly Offer[] {
  const known = new Map<string, boolean>();
  return offers.filter(({ kind, span, text, isSnippet }) => {
    // Snippets are offered where nothing else stands in their place.
    if (isSnippet === true) return true;
    const alike = kind === "value" || kind === "word" || kind === "row" ? undefined : `${kind} ${span.start}`;
    const answer = known.get(alike ?? "") ?? isReadable(place, span, text);
    if (alike !== undefined) known.set(alike, answer);
    return answer;
  });
}
