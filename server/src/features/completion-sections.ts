import { namesOf, sectionWords } from "../checks/section-words.js";
import type { Span } from "../text/span.js";
import { tonicOffers } from "./completion-keys.js";
import { itemsOf, type Offer, playsKnown, type TypingPlace, valueSpan } from "./completion-place.js";
import { saying } from "./hover-text.js";
import { canBeSaid, sectionWord } from "./section-word.js";
import { wordMeanings } from "./word-meanings.js";

/** Names of sections after `form` and `play`, and the words that move and repeat them. */
export function playedOffers(place: TypingPlace, wordEnd: number, kind: "form" | "play"): readonly Offer[] {
  const offers = wordsAndNames(place, wordEnd, kind);
  const [first] = offers.filter((it) => it.kind === "section");
  const takesNames = first !== undefined && playsKnown(place, first.span, first.text);
  return offers.filter((it) => (it.kind === "section" ? takesNames : playsKnown(place, it.span, it.text)));
}

function wordsAndNames(place: TypingPlace, wordEnd: number, kind: "form" | "play"): readonly Offer[] {
  if (valueSpan(place, wordEnd) === undefined) return [];
  const { span, isQuoted } = wordAround(place, wordEnd);
  const before = itemsOf(place.line.text.slice(0, span.start));
  const last = before.at(-1);
  const stray = isQuoted ? undefined : last?.stray?.word;
  const { header } = place.document.chart;
  if (stray === "in") return tonicOffers(header.home.key, span);
  if (stray !== undefined)
    return ["half", "whole"].map((step) => wordOffer(step, `${stray} a ${step} step`, span));
  const names = kind === "play" && last !== undefined ? [] : nameOffers(place, span);
  if (isQuoted || last === undefined) return names;
  const moves =
    last.move === undefined ? movingWords.map(([word, detail]) => wordOffer(word, detail, span)) : [];
  const times =
    last.times === 1 ? ["x2", "x3", "x4"].map((it) => wordOffer(it, "how often in all", span)) : [];
  const keys =
    last.move === undefined
      ? tonicOffers(header.home.key, span)
          .slice(1)
          .map(
            (it): Offer => ({
              ...it,
              kind: "value",
              label: `in ${it.label}`,
              text: `in ${it.text}`,
              filter: `in ${it.text}`,
            }),
          )
      : [];
  return [...names, ...times, ...moves, ...keys];
}

const movingWords = [
  ["up half", "a half step higher"],
  ["up whole", "a whole step higher"],
  ["down half", "a half step lower"],
  ["down whole", "a whole step lower"],
] as const;

const wordOffer = (text: string, detail: string, span: Span): Offer => ({
  label: text,
  kind: "value",
  detail,
  span,
  text,
});

/** The word that the cursor is in, or the words between its quotation marks, these included. */
function wordAround(
  { body, at }: TypingPlace,
  from: number,
): { readonly span: Span; readonly isQuoted: boolean } {
  const before = body.slice(from, at);
  const after = body.slice(at);
  if ((before.match(/"/g)?.length ?? 0) % 2 === 1) {
    const close = after.indexOf('"');
    return {
      span: { start: from + before.lastIndexOf('"'), end: close < 0 ? at : at + close + 1 },
      isQuoted: true,
    };
  }
  const start = at - (/[^ \t]*$/.exec(before)?.[0].length ?? 0);
  const end = at + (/^(?:"[^"]*"|[^ \t"]*)/.exec(after)?.[0].length ?? 0);
  return { span: { start, end }, isQuoted: false };
}

function nameOffers({ document: { chart }, placed, line, body }: TypingPlace, span: Span): readonly Offer[] {
  const typed = body.slice(span.start, span.end).replace(/^"|"$/g, "").toLowerCase();
  const own = line.statement.kind === "play" ? placed?.section.name : undefined;
  const names = namesOf(chart).filter((name) => canBeSaid(name) && name !== own);
  // Those that start as it is typed come first, since a long list is cut.
  const starting = names.filter((name) => name.toLowerCase().startsWith(typed));
  const bars = new Map(chart.sections.map(({ section }) => [section.name, section.bars.length]));
  return [...new Set([...starting, ...names])].map((name): Offer => {
    const count = bars.get(name);
    return {
      label: name,
      kind: "section",
      detail: count === undefined ? "from another chart" : `${count} ${count === 1 ? "bar" : "bars"}`,
      span,
      text: sectionWord(name),
      filter: sectionWord(name),
    };
  });
}

/** Names that are played and that no section has yet. */
export function newNameOffers(place: TypingPlace, wordEnd: number): readonly Offer[] {
  const span = valueSpan(place, wordEnd);
  if (span === undefined) return [];
  const played = sectionWords(place.document.chart).filter(({ target }) => target === undefined);
  return [...new Set(played.map(({ item }) => item.name))]
    .filter((name) => canBeSaid(name) && !/(?:^|\s);/.test(name))
    .map((name) => ({
      label: name,
      kind: "section",
      detail: "played, and not written yet",
      documentation: saying(...(wordMeanings.section as readonly [string, ...string[]])),
      span,
      text: name,
    }));
}
