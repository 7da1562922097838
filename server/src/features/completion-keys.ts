import { inForceAt } from "../chart/in-force.js";
import type { Span } from "../text/span.js";
import {
  degreeInKey,
  isPractical,
  type Key,
  keyName,
  modeNames,
  practicalKeys,
  prettyKey,
} from "../theory/key.js";
import { nameOf, prettyStrict, readName } from "../theory/note-name.js";
import { type Offer, type TypingPlace, valueSpan } from "./completion-place.js";
import { saying } from "./hover-text.js";
import { keyTitle, signatureNumber } from "./key-words.js";
import { type KeyChoice, keyChoices, keysFrom } from "./keys.js";
import { wholeChart } from "./scope.js";

/** Keys after `key`, and the tonics of `(original …)`. */
export function keyOffers(place: TypingPlace, wordEnd: number): readonly Offer[] {
  const { body, at } = place;
  const original = /\([ \t]*original[ \t]+([^ \t()]*)$/.exec(body.slice(0, at));
  if (original !== null) return originalOffers(place, at - (original[1] ?? "").length);
  const value = valueSpan(place, wordEnd);
  const { statement } = place.line;
  if (value === undefined || statement.kind !== "key") return [];
  const bracket = body.indexOf("(", wordEnd);
  if (bracket >= 0 && at > bracket) return [];
  const end = bracket < 0 ? value.end : Math.max(at, body.slice(0, bracket).trimEnd().length);
  const span = { start: value.start, end };
  const offers = place.placed === undefined ? chartKeys(place, span) : sectionKeys(place, span);
  return [...offers, ...otherModes(place, span)];
}

const keyOffer = (key: Key, span: Span, detail: string): Offer => ({
  label: prettyKey(key),
  kind: "key",
  detail,
  documentation: saying(keyTitle(key)),
  span,
  text: keyName(key),
  filter: keyName(key),
});

/** The key of the chart: as it is typed it starts afresh, with its `(original …)` the whole chart moves there. */
function chartKeys({ document, line: { statement } }: TypingPlace, span: Span): readonly Offer[] {
  const { home, original } = document.chart.header;
  const choices = keyChoices(document, wholeChart);
  const keys = choices.map((choice, i) => keyOffer(keysFrom(home.key)[i] as Key, span, detailOf(choice)));
  if (statement.kind !== "key" || statement.tonic === undefined || statement.original !== undefined)
    return keys;
  const from = original ?? home.key.tonic;
  const moved = choices.slice(1).map((choice, i): Offer => {
    const key = keysFrom(home.key)[i + 1] as Key;
    const text = `${keyName(key)} (original ${nameOf(from)})`;
    return {
      ...keyOffer(key, span, `the whole chart ${choice.interval}`),
      label: `${prettyKey(key)} (original ${prettyStrict(from)})`,
      text,
      filter: text,
    };
  });
  return [...keys, ...moved];
}

function detailOf({ signature, interval, lowest, highest, present }: KeyChoice): string {
  const melody = lowest === undefined || highest === undefined ? "" : `, melody ${lowest} to ${highest}`;
  return `${signature}${present ? "" : `, ${interval}`}${melody}`;
}

function sectionKeys({ placed, lineIndex }: TypingPlace, span: Span): readonly Offer[] {
  if (placed === undefined) return [];
  const { key } = inForceAt(placed, lineIndex - placed.firstLine).home;
  return keysFrom(key).map((it) => keyOffer(it, span, signatureNumber(it)));
}

/** The modes on the tonic that is typed. */
function otherModes({ body, document }: TypingPlace, span: Span): readonly Offer[] {
  const written = /^[A-G][b♭#♯]*/u.exec(body.slice(span.start, span.end))?.[0];
  const tonic =
    (written === undefined ? undefined : readName(written)) ?? document.chart.header.home.key.tonic;
  return modeNames
    .map((mode): Key => ({ tonic, mode }))
    .filter(isPractical)
    .map((key) => keyOffer(key, span, signatureNumber(key)));
}

/** Tonics, where a chart was written. */
function originalOffers({ body, at, document }: TypingPlace, start: number): readonly Offer[] {
  const rest = /^[^ \t()]*/.exec(body.slice(at))?.[0].length ?? 0;
  return tonicOffers(document.chart.header.home.key, { start, end: at + rest });
}

/** The practical tonics of a key's mode, from it on. */
export const tonicOffers = (key: Key, span: Span): readonly Offer[] =>
  keysFrom(key)
    .concat(practicalKeys(key.mode).filter(({ tonic }) => degreeInKey(key, tonic).alter === 0))
    .map((it) => ({
      label: prettyStrict(it.tonic),
      kind: "key",
      detail: `${prettyKey(it)}, ${signatureNumber(it)}`,
      span,
      text: nameOf(it.tonic),
      filter: nameOf(it.tonic),
    }));
