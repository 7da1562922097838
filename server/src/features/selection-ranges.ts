import { locate } from "../chart/locate.js";
import type { BarPlace, Located } from "../chart/located.js";
import type { Document } from "../document/document.js";
import type { Line, Slot } from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import { type Span, shift } from "../text/span.js";
import { systemOfLine } from "./system-at.js";

/**
 * What may be selected around a place, from the innermost out, each wider than the one before: a tone, its stack,
 * its groups, the bar, the row, the system, the section, the chart. The last is the whole text.
 */
export function selectionRanges(document: Document, offset: number): readonly Span[] {
  const at = Number.isNaN(offset) ? 0 : Math.max(0, Math.min(Math.trunc(offset), document.text.length));
  const here = locate(document, at);
  const found: Span[] = [];
  for (const span of [...narrowest(here, at), ...partsOf(here, at), ...wider(document, here)]) {
    const last = found.at(-1);
    const holdsLast =
      last === undefined ||
      (span.start <= last.start && last.end <= span.end && span.end - span.start > last.end - last.start);
    if (span.start <= at && at <= span.end && span.start < span.end && holdsLast) found.push(span);
  }
  return found.length === 0 ? [{ start: 0, end: document.text.length }] : found;
}

/** The token at the place, where it is a part of what stands there, such as a chord's quality; a name without its quotation marks. */
function narrowest({ line, lineStart, span }: Located, at: number): readonly Span[] {
  const token = line.tokens.find((it) => it.span.start + lineStart <= at && at < it.span.end + lineStart);
  if (token === undefined || token.kind === "white" || token.kind === "lineEnd") return [span];
  const inText = shift(token.span, lineStart);
  const isPart = span.start <= inText.start && inText.end <= span.end;
  const inner = token.kind === "quoted" ? [{ start: inText.start + 1, end: inText.end - 1 }] : [];
  return isPart ? [...inner, inText, span] : [span];
}

function partsOf(here: Located, at: number): readonly Span[] {
  const { lineStart } = here;
  const inLine = (span: Span): Span => shift(span, lineStart);
  switch (here.kind) {
    case "tone":
    case "grace": {
      const { slot, tone } = here;
      return [inLine(shift(tone.span, slot.span.start)), inLine(slot.span), ...barParts(here, here, at)];
    }
    case "stack":
    case "note-sign":
    case "chord":
    case "chord-sign":
      return [inLine(here.slot.span), ...barParts(here, here, at)];
    case "group":
    case "syllable":
    case "cue":
      return barParts(here, here, at);
    case "nothing":
    case "unread":
      return here.in === undefined ? [] : barParts(here, here.in, at);
    case "section-use":
    case "move":
    case "times":
      return [inLine(here.item.span)];
    case "key":
    case "original": {
      const { keySpan, original } = here.keyLine;
      return [inLine({ start: keySpan.start, end: original?.span.end ?? keySpan.end })];
    }
    default:
      return [];
  }
}

/** The groups around a place, then what its bar holds, then all between its bar lines. */
function barParts({ lineStart }: Located, { text, row }: BarPlace, at: number): readonly Span[] {
  const slots = text?.slots ?? row.line.pickup;
  const groups: Span[] = [];
  let inside: readonly Slot[] = slots;
  for (;;) {
    const group = inside.find(({ span }) => span.start + lineStart <= at && at <= span.end + lineStart);
    if (group?.kind !== "group") break;
    groups.unshift(group.span);
    inside = group.slots;
  }
  const [first, last] = [slots[0], slots.at(-1)];
  const held =
    first === undefined || last === undefined ? [] : [{ start: first.span.start, end: last.span.end }];
  return [...groups, ...held, ...(text === undefined ? [] : [text.span])].map((it) => shift(it, lineStart));
}

/** The line without white space and comment, with its comment, the system, the section or header, the chart. */
function wider(document: Document, { line, lineStart, placed }: Located): readonly Span[] {
  const { text, outline } = document;
  const spans = lineParts(line).map((it) => shift(it, lineStart));
  if (placed === undefined) {
    const header = outline.header.reduce((length, it) => length + it.text.length, 0);
    spans.push(trimmed(text, { start: 0, end: header }));
  } else {
    const { offset, section } = placed;
    const rows = systemOfLine(placed, lineStart - offset)?.rows ?? [];
    const [first, last] = [rows[0], rows.at(-1)];
    if (first !== undefined && last !== undefined) {
      const end = lineParts(section.source.lines[indexAt(section.source.starts, last.start)] ?? line).at(
        -1,
      )?.end;
      spans.push({ start: offset + first.start, end: offset + last.start + (end ?? 0) });
    }
    spans.push(trimmed(text, { start: offset, end: offset + section.source.text.length }));
  }
  spans.push({ start: 0, end: text.length });
  return spans;
}

/** What a line says, without and with its comment. */
function lineParts(line: Line): Span[] {
  const said = line.tokens.filter(({ kind }) => kind !== "white" && kind !== "lineEnd");
  const words = said.filter(({ kind }) => kind !== "comment");
  const around = (tokens: typeof said): Span[] => {
    const [first, last] = [tokens[0], tokens.at(-1)];
    return first === undefined || last === undefined ? [] : [{ start: first.span.start, end: last.span.end }];
  };
  return [...around(words), ...around(said)];
}

/** Without the white space at both ends. */
function trimmed(text: string, { start, end }: Span): Span {
  const part = text.slice(start, end);
  const from = start + part.length - part.trimStart().length;
  return { start: from, end: Math.max(from, start + part.trimEnd().length) };
}
