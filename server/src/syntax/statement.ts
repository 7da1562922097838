import type { IToken } from "chevrotain";
import type { LineKind, PieceName } from "../../../grammar/tokens.js";
import { clip } from "../problems/clip.js";
import { type Fix, type Problem, problem } from "../problems/problem.js";
import { nearest } from "../text/nearest.js";
import type { Span } from "../text/span.js";
import { modeNames } from "../theory/key.js";
import { readSigns } from "../theory/note-name.js";
import { cut } from "./cut.js";
import { keyMeant } from "./key-meant.js";
import { readKeyText } from "./key-text.js";
import { type Parsed, type PlayNode, run } from "./line-parser.js";
import { moveSlips } from "./move-slips.js";
import { readPlayItem } from "./play-item.js";
import { unquoted } from "./quoted.js";
import { type RowContext, readRow } from "./row.js";
import { sectionMeant } from "./section-meant.js";
import type { FormItem, RowName, Statement } from "./tree.js";

/** A statement and what its line did wrong. */
export interface LineReading {
  readonly statement: Statement;
  readonly problems: readonly Problem[];
}

const words =
  "chords lead right left bass words cue section lands vamp play title by note key time tempo feel reach form use".split(
    " ",
  );

const write = (text: string, span: Span): Fix => ({
  title: `Write ${text}`,
  edits: [{ span, text }],
  silent: false,
});

const endOf = (token: IToken): number => token.startOffset + token.image.length;
const spanOf = (token: IToken): Span => ({ start: token.startOffset, end: endOf(token) });

/** What each line wants, for the message where it has something else. */
const wanted: Readonly<Record<Exclude<LineKind, "chords" | "notes" | "words" | "unread">, string>> = {
  text: "Write the words after it.",
  key: "A key is written like Eb major, F# minor, Ab, Cm or D dorian; a moved chart adds (original Ab).",
  time: "A meter is written like 4/4, 3/4 or 12/8: 1 to 99 beats of 1, 2, 4, 8, 16, 32 or 64.",
  tempo: "A tempo is a whole number of beats a minute, 1 to 999.",
  feel: "The feel is straight, swing or shuffle.",
  reach:
    "The reach is a white-key interval from 5 to 15 (8 is an octave): reach 9, or reach left 9 right 10.",
  form: "After form stand section names, each with x2, in Db, up half, up whole, down half or down whole as needed.",
  use: 'After use stands the path of another chart in quotes: use "tags.plagal".',
  section: "A section needs a name.",
  lands: "After lands stands the degree that it leads into: lands 1, lands b7.",
  vamp: "Nothing more belongs on a vamp line.",
  play: "After play stands one section name, with x2, in Db, up half and their kin as needed.",
};

/** A line after its first word, as the readers below take it. */
interface Rest {
  readonly kind: keyof typeof wanted;
  readonly word: IToken;
  readonly tokens: readonly IToken[];
  readonly context: RowContext;
  readonly report: (span: Span, advice?: string, fixes?: readonly Fix[]) => void;
}

/** Reads the pieces of a line: its first word and what follows. `lineEnd` is where the text ends, without line end. */
export function readStatement(
  text: string,
  tokens: readonly IToken[],
  lineEnd: number,
  context: RowContext,
): LineReading {
  const word = tokens[0];
  if (word === undefined) {
    return { statement: { kind: text.includes(";") ? "comment" : "blank" }, problems: [] };
  }
  const kind = context.types.kindOf.get(word.tokenType) as LineKind;
  const tail = tokens.slice(1);
  if (kind === "unread") return readUnknown(text, word, tokens.at(-1) ?? word);
  if (kind === "chords" || kind === "notes" || kind === "words") {
    return readRow(word.image as RowName, spanOf(word), tail, lineEnd, context);
  }
  const problems: Problem[] = [];
  const report: Rest["report"] = (span, advice = wanted[kind], fixes = []) => {
    const read = clip(text.slice(span.start, span.end));
    problems.push(problem("syntax", span, { read, advice }, { fixes }));
  };
  const rest: Rest = { kind, word, tokens: tail, context, report };
  return { statement: statements[kind](rest), problems };
}

function readUnknown(text: string, word: IToken, last: IToken): LineReading {
  const statement: Statement = { kind: "unread" };
  const span = spanOf(word);
  if (word.image.startsWith("|")) {
    const advice =
      "This line has bars but no name. Write whose row it is before them: chords, right, left, lead, bass, words or cue.";
    return { statement, problems: [problem("syntax", span, { read: word.image, advice })] };
  }
  const lower = word.image.length > 16 ? "" : word.image.toLowerCase().replace(/[:;.,]+$/, "");
  const isKnown = words.includes(lower);
  const near = isKnown ? [lower] : nearest(lower, words, lower.length <= 4 ? 1 : 2, 2);
  const line = { start: span.start, end: endOf(last) };
  const opened = isKnown ? undefined : sectionMeant(text.slice(line.start, line.end));
  if (opened !== undefined && (opened.isClear || near.length === 0)) {
    const meant = `section ${opened.name}`;
    const facts = { word: text.slice(line.start, line.end), nearest: [meant] };
    const problems = [problem("unknown-word", line, facts, { fixes: [write(meant, line)] })];
    return { statement: { kind: "unread", section: opened.name }, problems };
  }
  const fixes = near.map((it) => write(it, span));
  return {
    statement,
    problems: [problem("unknown-word", span, { word: word.image, nearest: near }, { fixes })],
  };
}

/** Everything after the first word; empty, right after the word, where nothing is there. */
function restSpan({ word, tokens }: Rest): Span {
  const first = tokens[0];
  const last = tokens.at(-1);
  if (first === undefined || last === undefined) return { start: endOf(word), end: endOf(word) };
  return { start: first.startOffset, end: endOf(last) };
}

/** The place that a problem with the whole of what follows is shown at: that, or the word where nothing follows. */
const problemSpan = (rest: Rest): Span => (rest.tokens.length > 0 ? restSpan(rest) : spanOf(rest.word));

/** The one piece of a line that takes one; anything else is reported. */
function single(
  rest: Rest,
  accepted: readonly PieceName[],
  known: readonly string[] = [],
): IToken | undefined {
  const { parser, types } = rest.context;
  const { node, left, failed } = run(parser, parser.value, rest.tokens);
  if (node === undefined || !accepted.some((name) => types.pieces[name] === node.tokenType)) {
    rest.report(problemSpan(rest), undefined, respell(rest.tokens[0], known));
    return undefined;
  }
  if (failed && left !== undefined) reportLeft(rest, left);
  return node;
}

const aroundTheWhole = "Quotation marks stand around the whole name or not at all.";

/** What stands after all that a line takes. */
function reportLeft(rest: Rest, left: IToken, fixes?: readonly Fix[]): void {
  const advice = rest.kind === "section" ? aroundTheWhole : undefined;
  rest.report({ start: left.startOffset, end: restSpan(rest).end }, advice, fixes);
}

/** The fixes that write a word as it is known. */
function respell(token: IToken | undefined, known: readonly string[]): Fix[] {
  if (token === undefined || token.image.length > 16) return [];
  return nearest(token.image.toLowerCase(), known, 2, 1).map((text) => write(text, spanOf(token)));
}

type Reader = (rest: Rest) => Statement;

const readText: Reader = (rest) => {
  const { word } = rest;
  const value = single(rest, ["text"]);
  return {
    kind: "text",
    word: word.image as "title" | "by" | "note",
    value: value?.image ?? "",
    span: restSpan(rest),
  };
};

const readKeyLine: Reader = (rest) => {
  const { node, left, failed } = run(rest.context.parser, rest.context.parser.value, rest.tokens);
  const key = node?.tokenType === rest.context.types.pieces.key ? readKeyText("key", node) : undefined;
  if (key === undefined) {
    const meant = keyMeant(rest.tokens.map(({ image }) => image));
    if (meant === undefined) rest.report(problemSpan(rest));
    else {
      const last = rest.tokens[meant.count - 1] as IToken;
      const span = { start: problemSpan(rest).start, end: endOf(last) };
      rest.report(
        span,
        meant.why,
        meant.texts.map((text) => write(text, span)),
      );
    }
    return { kind: "key", tonic: undefined, mode: "major", keySpan: restSpan(rest), original: undefined };
  }
  const spoken = left && keyMeant(rest.tokens.map(({ image }) => image));
  if (left !== undefined && spoken !== undefined && spoken.count > 1) {
    // “E flat” is read as E, with a word too many.
    const span = { start: restSpan(rest).start, end: endOf(rest.tokens[spoken.count - 1] as IToken) };
    rest.report(
      { start: left.startOffset, end: span.end },
      spoken.why,
      spoken.texts.map((text) => write(text, span)),
    );
  } else if (failed && left !== undefined) {
    reportLeft(rest, left, key.mode === undefined ? respell(left, modeNames) : []);
  }
  return { kind: "key", ...key, mode: key.mode ?? "major" };
};

const readTime: Reader = (rest) => {
  const token = single(rest, ["meter"]);
  const [beats, unit] =
    token === undefined
      ? []
      : cut("meter", token.image)
          .filter(({ name }) => name === "number")
          .map(({ text }) => Number(text));
  const span = token === undefined ? restSpan(rest) : spanOf(token);
  if (beats === undefined || unit === undefined) return { kind: "time", value: undefined, span };
  const isRight = beats >= 1 && beats <= 99 && [1, 2, 4, 8, 16, 32, 64].includes(unit);
  if (!isRight) rest.report(span);
  return { kind: "time", value: isRight ? { beats, unit } : undefined, span };
};

const readTempo: Reader = (rest) => {
  const token = single(rest, ["number"]);
  const span = token === undefined ? restSpan(rest) : spanOf(token);
  const value = token === undefined ? undefined : Number(token.image);
  if (value === undefined) return { kind: "tempo", value, span };
  const isRight = value >= 1 && value <= 999;
  if (!isRight) rest.report(span);
  return { kind: "tempo", value: isRight ? value : undefined, span };
};

const readFeel: Reader = (rest) => {
  const token = single(rest, ["feelWord"], ["straight", "swing", "shuffle"]);
  const span = token === undefined ? restSpan(rest) : spanOf(token);
  return { kind: "feel", value: token?.image as "straight" | "swing" | "shuffle" | undefined, span };
};

const readReach: Reader = (rest) => {
  const { node, failed } = run(rest.context.parser, rest.context.parser.reach, rest.tokens);
  const span = restSpan(rest);
  const unsaid: Statement = { kind: "reach", left: undefined, right: undefined, span };
  const values = new Map(node?.map(({ hand, number }) => [hand?.image, Number(number.image)]));
  const isRight =
    !failed &&
    node !== undefined &&
    values.size === node.length &&
    !(values.has(undefined) && values.size > 1) &&
    [...values.values()].every((value) => value >= 5 && value <= 15);
  if (!isRight) {
    rest.report(problemSpan(rest));
    return unsaid;
  }
  const both = values.get(undefined);
  return { kind: "reach", left: both ?? values.get("left"), right: both ?? values.get("right"), span };
};

function itemsOf(rest: Rest): FormItem[] {
  const { node, left, failed }: Parsed<PlayNode[]> = run(
    rest.context.parser,
    rest.context.parser.playing,
    rest.tokens,
  );
  const { items: played, slips } = moveSlips(node ?? [], rest.context.types);
  for (const { span, advice, place, texts } of slips) {
    rest.report(
      span,
      advice,
      texts.map((text) => write(text, place)),
    );
  }
  const items = played.map(({ item, stray }) => readPlayItem(item, rest.context.types, rest.report, stray));
  if (failed && left !== undefined) reportLeft(rest, left);
  else if (rest.tokens.length === 0) rest.report(problemSpan(rest));
  return items;
}

const readForm: Reader = (rest) => ({ kind: "form", items: itemsOf(rest) });

const readPlay: Reader = (rest) => {
  const items = itemsOf(rest);
  const second = items[1];
  if (second !== undefined) {
    rest.report(
      { start: second.span.start, end: restSpan(rest).end },
      "A play line puts one section here. Give the next one a play line of its own.",
    );
  }
  return { kind: "play", item: items[0] };
};

const unclosed = "These quotes are not closed. Put a quotation mark at the end.";

const readUse: Reader = (rest) => {
  const first = rest.tokens[0];
  if (first?.tokenType === rest.context.types.pieces.openQuote) {
    const isOpen = first.image.length === 1 || !first.image.endsWith('"');
    rest.report(problemSpan(rest), isOpen ? unclosed : undefined);
    return { kind: "use", path: undefined, span: restSpan(rest) };
  }
  const token = single(rest, ["quoted"]);
  if (token === undefined) return { kind: "use", path: undefined, span: restSpan(rest) };
  const path = token.image.slice(1, -1);
  const span = { start: token.startOffset + 1, end: endOf(token) - 1 };
  if (path === "") rest.report(spanOf(token));
  return { kind: "use", path: path === "" ? undefined : path, span };
};

const readSection: Reader = (rest) => {
  const token = single(rest, ["sectionName", "quoted"]);
  if (token === undefined) return { kind: "section", name: "", nameSpan: restSpan(rest) };
  const isQuoted = token.tokenType === rest.context.types.pieces.quoted;
  const { text, span } = unquoted(token);
  if (!isQuoted && token.image.startsWith('"')) {
    const isOpen = token.image.length === 1 || token.image.indexOf('"', 1) < 0;
    rest.report(spanOf(token), isOpen ? unclosed : aroundTheWhole);
  } else if (text === "") rest.report(spanOf(token));
  return { kind: "section", name: text, nameSpan: span };
};

const readLands: Reader = (rest) => {
  const token = single(rest, ["degree"]);
  const span = token === undefined ? restSpan(rest) : spanOf(token);
  if (token === undefined) return { kind: "lands", degree: undefined, span };
  const alter = readSigns(token.image.slice(0, -1));
  if (alter === undefined || Math.abs(alter) > 2) {
    rest.report(span);
    return { kind: "lands", degree: undefined, span };
  }
  return { kind: "lands", degree: { degree: Number(token.image.at(-1)), alter, span }, span };
};

const readVamp: Reader = (rest) => {
  if (rest.tokens.length > 0) rest.report(problemSpan(rest));
  return { kind: "vamp" };
};

const statements: Readonly<Record<keyof typeof wanted, Reader>> = {
  text: readText,
  key: readKeyLine,
  time: readTime,
  tempo: readTempo,
  feel: readFeel,
  reach: readReach,
  form: readForm,
  use: readUse,
  section: readSection,
  lands: readLands,
  vamp: readVamp,
  play: readPlay,
};
