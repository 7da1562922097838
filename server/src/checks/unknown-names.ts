import type { Chart } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import { moveMeant } from "../syntax/move-meant.js";
import type { FormItem } from "../syntax/tree.js";
import { nearest } from "../text/nearest.js";
import { type Span, shift } from "../text/span.js";
import { bareName, namesMeant, namesOf, type SectionWord, sectionWords } from "./section-words.js";

/** A mistake in the words of a `form` or `play` line: a name that nobody has, or a misspelled word beside one. */
export interface UnknownName {
  /** From the chart's start. */
  readonly span: Span;
  readonly name: string;
  /** What may have been meant, nearest first. */
  readonly meant: readonly string[];
  readonly fixes: readonly Fix[];
}

interface Names {
  readonly all: readonly string[];
  readonly bare: ReadonlyMap<string, string>;
}

const known = new WeakMap<Chart, readonly UnknownName[]>();

/** Every name of a `form` or `play` line that nobody has, each mistake once. */
export function unknownNames(chart: Chart): readonly UnknownName[] {
  const found = known.get(chart) ?? findUnknown(chart);
  known.set(chart, found);
  return found;
}

const isUnknown = ({ target, item }: SectionWord): boolean => target === undefined && item.name !== "";

function findUnknown(chart: Chart): readonly UnknownName[] {
  const words = sectionWords(chart);
  if (!words.some(isUnknown)) return [];
  const all = namesOf(chart);
  const unsaid = sectionsUnsaid(chart);
  const names: Names = { all, bare: new Map([...unsaid, ...all].map((name) => [bareName(name), name])) };
  const found: UnknownName[] = [];
  for (let at = 0; at < words.length; ) {
    const { lineStart } = words[at] as SectionWord;
    let end = at + 1;
    while (words[end]?.lineStart === lineStart) end++;
    readLine(words.slice(at, end), names, found);
    at = end;
  }
  const unread = new Set(unsaid.map(bareName));
  return found.filter(({ name }) => !unread.has(bareName(name)));
}

/** The names of lines that open a section without the word for it, and are told of as such. */
export const sectionsUnsaid = ({ outline }: Chart): readonly string[] =>
  outline.lines.flatMap(({ statement }) =>
    statement.kind === "unread" && statement.section !== undefined ? [statement.section] : [],
  );

function readLine(words: readonly SectionWord[], names: Names, found: UnknownName[]): void {
  for (let at = 0; at < words.length; ) {
    const reading =
      joinedName(words, at, names) ??
      (isUnknown(words[at] as SectionWord) ? unknown(words, at, names) : undefined);
    if (reading !== undefined) found.push(reading.problem);
    at += reading?.count ?? 1;
  }
}

interface Reading {
  readonly problem: UnknownName;
  /** How many words it takes. */
  readonly count: number;
}

const isQuoted = ({ nameSpan, span }: FormItem): boolean => span.start < nameSpan.start;
const hasWords = ({ nameSpan, span }: FormItem): boolean => span.end > nameSpan.end;
const endOf = ({ stray, nameSpan }: FormItem): number => stray?.span.end ?? nameSpan.end;
const spoken = ({ name, stray }: FormItem): string => (stray === undefined ? name : `${name} ${stray.word}`);

const mostWords = 4;

/** A name of several words that stands without quotes, or without its hyphens. */
function joinedName(words: readonly SectionWord[], at: number, { bare }: Names): Reading | undefined {
  for (let count = Math.min(mostWords, words.length - at); count > 0; count--) {
    const run = words.slice(at, at + count);
    const last = (run.at(-1) as SectionWord).item;
    if (!run.some(isUnknown) || run.some(({ item }) => isQuoted(item))) continue;
    if (run.slice(0, -1).some(({ item }) => hasWords(item))) continue;
    if (count === 1 && last.stray === undefined) continue;
    const said = run.map(({ item }) => spoken(item)).join(" ");
    const name = bare.get(bareName(said));
    if (name === undefined) continue;
    const { item, lineStart } = run[0] as SectionWord;
    const span = shift({ start: item.nameSpan.start, end: endOf(last) }, lineStart);
    return { problem: { span, name: said, meant: [name], fixes: [rename(span, false, name)] }, count };
  }
  return undefined;
}

function unknown(words: readonly SectionWord[], at: number, { all }: Names): Reading {
  const { item, lineStart } = words[at] as SectionWord;
  const before = words[at - 1]?.item;
  const slip =
    before === undefined || isQuoted(item)
      ? undefined
      : (countSlip(words, at) ?? stepSlip(before, words, at) ?? moveSlip(words, at, all));
  if (slip !== undefined) return slip;
  const span = shift({ start: item.nameSpan.start, end: endOf(item) }, lineStart);
  const joined = item.stray === undefined ? [] : namesMeant(all, spoken(item));
  const meant = joined.length > 0 ? joined : namesMeant(all, item.name);
  const place = joined.length > 0 ? span : shift(item.nameSpan, lineStart);
  const fixes = meant.map((name) => rename(place, isQuoted(item), name));
  return { problem: { span, name: spoken(item), meant, fixes }, count: 1 };
}

/** `2x`, `X2`, `twice`: how often the section before is played. */
function countSlip(words: readonly SectionWord[], at: number): Reading | undefined {
  const { item, lineStart } = words[at] as SectionWord;
  const digits = /^(?:[xX×]([0-9]{1,2})|([0-9]{1,2})[xX×]|\(x?([0-9]{1,2})x?\))$/
    .exec(item.name)
    ?.slice(1)
    .find((it) => it !== undefined);
  const count = item.name === "twice" ? "2" : digits;
  if (count === undefined || Number(count) === 0) return undefined;
  return told(item, lineStart, item.nameSpan, `x${Number(count)}`, 1);
}

/** `up half step`, `in E flat`: a word more than the move takes. */
function stepSlip({ move }: FormItem, words: readonly SectionWord[], at: number): Reading | undefined {
  const { item, lineStart } = words[at] as SectionWord;
  if (move?.kind === "by" && /^(?:steps?|tones?)$/.test(item.name)) {
    const text = `${move.halfSteps > 0 ? "up" : "down"} ${Math.abs(move.halfSteps) === 1 ? "half" : "whole"}`;
    return told(item, lineStart, { start: move.span.start, end: item.nameSpan.end }, text, 1);
  }
  const isSign = /^(?:flat|sharp)$/.test(item.name);
  if (move?.kind !== "in" || move.mode !== undefined || move.original !== undefined || !isSign)
    return undefined;
  // The tonic is a letter alone, or the sign would be one too many.
  if (move.tonic.span.end !== move.tonic.span.start + 1) return undefined;
  const letter = "FCGDAEB"[move.tonic.fifths + 1];
  const mode = words[at + 1]?.item.name;
  const hasMode =
    !hasWords(item) && isUnknown(words[at + 1] as SectionWord) && /^(?:major|minor)$/.test(mode ?? "");
  const end = hasMode ? (words[at + 1] as SectionWord).item.nameSpan.end : item.nameSpan.end;
  const text = `in ${letter}${item.name === "flat" ? "b" : "#"}${hasMode ? ` ${mode}` : ""}`;
  return told(item, lineStart, { start: move.span.start, end }, text, hasMode ? 2 : 1);
}

/** `upp half`, `to Db`: a misspelled moving word, with the step or key after it. */
function moveSlip(words: readonly SectionWord[], at: number, names: readonly string[]): Reading | undefined {
  const { item, lineStart } = words[at] as SectionWord;
  const lower = item.name.toLowerCase();
  const sign =
    lower === "to" || lower === "key"
      ? "in"
      : lower.length < 2
        ? undefined
        : nearest(lower, ["up", "down", "in"], 1, 1)[0];
  if (sign === undefined || hasWords(item) || namesMeant(names, item.name).length > 0) return undefined;
  const following: FormItem[] = [];
  for (const word of words.slice(at + 1, at + mostWords)) {
    if (!isUnknown(word) || isQuoted(word.item)) break;
    following.push(word.item);
    if (hasWords(word.item)) break;
  }
  const said = following.map(({ name }) => name);
  const right = rightAlready(sign, said);
  const meant = right === undefined ? moveMeant(sign, said) : { texts: [`${sign} ${right}`], count: 1 };
  const text = meant?.texts[0];
  const last = following[(meant?.count ?? 0) - 1];
  if (meant === undefined || text === undefined || last === undefined) return undefined;
  const place = { start: item.nameSpan.start, end: last.nameSpan.end };
  return told(item, lineStart, place, text, meant.count + 1);
}

const rightAlready = (sign: string, [word = ""]: readonly string[]): string | undefined =>
  (sign === "in" ? /^[A-G](?:[b♭]+|[#♯]+)?m?$/ : /^(?:half|whole)$/).test(word) ? word : undefined;

function told(
  { nameSpan, name }: FormItem,
  lineStart: number,
  place: Span,
  text: string,
  count: number,
): Reading {
  const fix: Fix = {
    title: `Write ${text}`,
    edits: [{ span: shift(place, lineStart), text }],
    silent: false,
  };
  return { problem: { span: shift(nameSpan, lineStart), name, meant: [text], fixes: [fix] }, count };
}

function rename(span: Span, quoted: boolean, name: string): Fix {
  const text = quoted || canStandBare(name) ? name : `"${name}"`;
  return { title: `Write ${text}`, edits: [{ span, text }], silent: false };
}

/** One word, and none that says how a section is played. */
const canStandBare = (name: string): boolean =>
  !/[ \t]/.test(name) && !/^(?:in|up|down|x[0-9]+|;.*)$/.test(name);
