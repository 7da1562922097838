import { locate, sectionAt } from "../chart/locate.js";
import type { Located } from "../chart/located.js";
import type { PlacedSection } from "../chart/model.js";
import { namesOf } from "../checks/section-words.js";
import { type Document, withText } from "../document/document.js";
import { parse } from "../syntax/parse.js";
import { bodyLength } from "../syntax/tokens-of.js";
import type { FormItem, Line } from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import type { HoverText } from "./hover-text.js";

/** What is offered; its place in the list is its rank. */
export interface Offer {
  readonly label: string;
  readonly kind: "quality" | "chord" | "tone" | "section" | "key" | "word" | "row" | "value" | "snippet";
  readonly detail?: string;
  /** In full, or made when it is asked for. */
  readonly documentation?: HoverText | (() => HoverText);
  /** What it takes the place of, in its line. */
  readonly span: Span;
  readonly text: string;
  /** `text` has places to fill, in the protocol's snippet notation. */
  readonly isSnippet?: boolean;
  /** What is compared with what has been typed, where that is not the label. */
  readonly filter?: string;
}

/** Where somebody types. Places count from the line's start. */
export interface TypingPlace {
  readonly document: Document;
  readonly lineIndex: number;
  readonly line: Line;
  readonly lineStart: number;
  /** The section that the line is of; `undefined` in the header. */
  readonly placed: PlacedSection | undefined;
  readonly at: number;
  /** The line without its comment and its line end. */
  readonly body: string;
}

/** `undefined` inside a comment, and right before one, where a word would swallow it. */
export function typingPlace(document: Document, offset: number): TypingPlace | undefined {
  const within = Number.isNaN(offset) ? 0 : Math.max(0, Math.min(Math.trunc(offset), document.text.length));
  const { lineIndex, line, lineStart } = lineAt(document, within);
  const comment = line.tokens.find(({ kind }) => kind === "comment");
  const end = comment?.span.start ?? bodyLength(line.text);
  const at = within - lineStart;
  if (at > end || (comment !== undefined && at === end)) return undefined;
  const placed = sectionAt(document, lineIndex);
  return { document, lineIndex, line, lineStart, placed, at, body: line.text.slice(0, end) };
}

/** The line of a place. Behind the last line end an editor shows one more line, of which the tree knows nothing. */
function lineAt({ tree }: Document, offset: number): Pick<TypingPlace, "lineIndex" | "line" | "lineStart"> {
  const lineIndex = indexAt(tree.starts, offset);
  const line = tree.lines[lineIndex] as Line;
  const lineStart = tree.starts[lineIndex] as number;
  const isBehind = offset === lineStart + line.text.length && bodyLength(line.text) < line.text.length;
  return isBehind
    ? { lineIndex: lineIndex + 1, line: parse("").lines[0] as Line, lineStart: offset }
    : { lineIndex, line, lineStart };
}

/** The line with other text in a place. */
const replaced = ({ line: { text } }: TypingPlace, { start, end }: Span, by: string): string =>
  text.slice(0, start) + by + text.slice(end);

/** What would stand at the start of `span` if `text` stood there, in a chart like this one. */
export function locatedWith(place: TypingPlace, span: Span, text: string): Located {
  const { document, lineStart, line } = place;
  const before = document.text.slice(0, lineStart);
  const after = document.text.slice(lineStart + line.text.length);
  const tried = withText(document, before + replaced(place, span, text) + after);
  return locate(tried, lineStart + span.start);
}

/** Whether the line can be read with this text as well as without it. */
export function isReadable(place: TypingPlace, span: Span, text: string): boolean {
  const before = place.line.problems.map(({ code }) => code);
  const [line] = parse(replaced(place, span, text)).lines;
  return (line as Line).problems.every(({ code }) => {
    const known = before.indexOf(code);
    if (known >= 0) before.splice(known, 1);
    return known >= 0 || !breaks(code);
  });
}

const breaks = (code: string): boolean => code === "syntax" || code.startsWith("unknown-");

/** The rest of a line behind its first word, where the cursor is in it: from its first character to its last. */
export function valueSpan({ body, at }: TypingPlace, wordEnd: number): Span | undefined {
  const white = /^[ \t]*/.exec(body.slice(wordEnd))?.[0].length ?? 0;
  if (white === 0 || at <= wordEnd) return undefined;
  const start = Math.min(wordEnd + white, at);
  return { start, end: Math.max(at, body.trimEnd().length) };
}

/** Whether the line, with this text, plays no more unknown sections than without it, and moves none without a key or step. */
export function playsKnown(place: TypingPlace, span: Span, text: string): boolean {
  const names = new Set(namesOf(place.document.chart));
  const count = (it: string): number =>
    itemsOf(it).filter(({ name, stray }) => stray !== undefined || !names.has(name)).length;
  return count(replaced(place, span, text)) <= count(place.line.text);
}

/** What a line of `form` or `play` plays. */
export function itemsOf(text: string): readonly FormItem[] {
  const { statement } = parse(text).lines[0] as Line;
  if (statement.kind === "form") return statement.items;
  return statement.kind === "play" && statement.item !== undefined ? [statement.item] : [];
}
