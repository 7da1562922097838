import { sectionAt } from "../chart/locate.js";
import type { Document } from "../document/document.js";
import { bodyOf } from "../edits/line-parts.js";
import { layOutRows } from "../edits/row-layout.js";
import { isUnread } from "../problems/unread.js";
import { parse } from "../syntax/parse.js";
import { sectionMeant } from "../syntax/section-meant.js";
import type { Line } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { chordsRow } from "./bars-from-chords.js";
import { barsText, type ChordBar, chordBars } from "./chord-bars.js";
import { hasVerseNumber, wordsRow } from "./words-under-chords.js";

/**
 * The edits that make sections of pasted lines: chord letters on a line over words become `chords` and `words`, one
 * chord a bar, each word under its chord; headings such as `[Verse]` or `Verse:` become section lines; what can't be
 * read stays as a comment. It takes the unread lines that the selection touches, or those around the cursor.
 * `undefined` where no line of chords with other lines around it is among them.
 */
export function fromLetters(document: Document, span: Span): readonly Edit[] | undefined {
  const { tree } = document;
  const region = regionOf(document, span);
  if (region === undefined) return undefined;
  const lines = tree.lines.slice(region.first, region.last + 1);
  const readings = readLines(lines);
  const said = readings.filter(({ kind }) => kind !== "blank" && kind !== "kept");
  if (!said.some(({ kind }) => kind === "chords") || said.length < 2) return undefined;
  const lineEnd = /\r\n|\n|\r/.exec(tree.text)?.[0] ?? "\n";
  const texts = write(readings, namesIn(document), sectionAt(document, region.first) !== undefined, document);
  return lines.flatMap((line, i): Edit[] => {
    const body = bodyOf(line);
    const text = (texts[i] as readonly string[]).join(lineEnd);
    if (text === body) return [];
    const start = tree.starts[region.first + i] as number;
    return [{ span: { start, end: start + body.length }, text }];
  });
}

/** What a pasted line is. */
type Reading =
  | { readonly kind: "blank" | "kept"; readonly text: string }
  | { readonly kind: "heading"; readonly text: string; readonly name: string }
  | { readonly kind: "header"; readonly text: string; readonly line: string }
  | { readonly kind: "chords"; readonly text: string; readonly bars: readonly ChordBar[] }
  /** `verse` is false where no chords stand above it. */
  | { readonly kind: "words"; readonly text: string; readonly verse: boolean };

interface Region {
  readonly first: number;
  readonly last: number;
}

/** The lines to read, without blank ones around them. */
function regionOf({ tree }: Document, { start, end }: Span): Region | undefined {
  const { lines, starts } = tree;
  let first = indexAt(starts, start);
  let last = Math.max(first, indexAt(starts, Math.max(start, end - 1)));
  if (start === end) {
    if (!isForeign(lines, first)) return undefined;
    while (first > 0 && isPasted(lines, first - 1)) first--;
    while (last < lines.length - 1 && isPasted(lines, last + 1)) last++;
  }
  const isEmpty = (i: number): boolean => lines[i]?.statement.kind === "blank";
  while (first < last && isEmpty(first)) first++;
  while (last > first && isEmpty(last)) last--;
  return isEmpty(first) || last - first > mostLines ? undefined : { first, last };
}

/** More lines than any song has. */
const mostLines = 2000;

const isPasted = (lines: readonly Line[], i: number): boolean =>
  isForeign(lines, i) || lines[i]?.statement.kind === "blank" || lines[i]?.statement.kind === "comment";

/** Whether a line is not the language's. Words of a song may start with one of its words, so what stands under chords is. */
function isForeign(lines: readonly Line[], i: number): boolean {
  const line = lines[i];
  if (line === undefined) return false;
  if (line.statement.kind === "unread" || line.problems.some(isUnread)) return true;
  const above = lines[i - 1];
  return (
    line.statement.kind === "text" &&
    above?.statement.kind === "unread" &&
    chordBars(plain(above)) !== undefined
  );
}

/** A line's text with its tabs as spaces, as an editor shows them. */
function plain(line: Line): string {
  let text = "";
  for (const character of bodyOf(line))
    text += character === "\t" ? " ".repeat(8 - (text.length % 8)) : character === "\uFEFF" ? "" : character;
  return text.trimEnd();
}

function readLines(lines: readonly Line[]): readonly Reading[] {
  const readings: Reading[] = [];
  for (const [i, line] of lines.entries()) {
    const text = plain(line);
    const above = readings[i - 1];
    if (text === "") readings.push({ kind: "blank", text });
    else if (!isForeign(lines, i)) readings.push({ kind: "kept", text: bodyOf(line) });
    else readings.push(readLine(text, above));
  }
  return readings;
}

function readLine(text: string, above: Reading | undefined): Reading {
  const bars = chordBars(text);
  if (bars !== undefined) return { kind: "chords", text, bars };
  const isUnder =
    above?.kind === "chords" || (above?.kind === "words" && above.verse && hasVerseNumber(text));
  const heading = sectionMeant(text.trim());
  const isMarked = /^\[.*\]:?$|:$/.test(text.trim());
  if (heading?.isClear === true && (isMarked || !isUnder))
    return { kind: "heading", text, name: heading.name };
  const line = isUnder ? undefined : headerLine(text);
  if (line !== undefined) return { kind: "header", text, line };
  return { kind: "words", text, verse: isUnder };
}

/** `Key: G`, `Tempo = 72` as the header says it. */
function headerLine(text: string): string | undefined {
  const found = /^\s*(title|key|time|tempo)\s*[:=]\s*(\S.*)$/i.exec(text);
  if (found === null) return undefined;
  const line = `${found[1]?.toLowerCase().padEnd(7)} ${found[2]?.trim()}`;
  return parse(line).lines[0]?.problems.length === 0 ? line : undefined;
}

const namesIn = ({ outline }: Document): Set<string> => new Set(outline.contents.names.keys());

/** What each line becomes, some of them several lines. */
function write(
  readings: readonly Reading[],
  names: Set<string>,
  isInSection: boolean,
  { outline }: Document,
): readonly (readonly string[])[] {
  const texts: string[][] = [];
  const header = new Set(outline.header.map(({ statement }) => statement.kind as string));
  let inSection = isInSection;
  let wroteRow = false;
  readings.forEach((reading, i) => {
    switch (reading.kind) {
      case "blank":
      case "kept":
        texts.push([reading.text]);
        return;
      case "header": {
        const kind = parse(reading.line).lines[0]?.statement.kind ?? "";
        const isNew = !inSection && !header.has(kind);
        header.add(kind);
        texts.push([isNew ? reading.line : comment(reading.text)]);
        return;
      }
      case "heading": {
        if (!hasMusic(readings, i)) {
          texts.push([comment(reading.text)]);
          return;
        }
        texts.push([`section ${newName(reading.name, names)}`]);
        inSection = true;
        wroteRow = false;
        return;
      }
      case "chords": {
        const verses: Reading[] = [];
        for (let k = i + 1; readings[k]?.kind === "words" && (readings[k] as { verse: boolean }).verse; k++)
          verses.push(readings[k] as Reading);
        const rows = rowsOf(
          reading.bars,
          verses.map(({ text }) => text),
        );
        const before = inSection
          ? wroteRow && readings[i - 1]?.kind !== "blank"
            ? [""]
            : []
          : [`section ${newName("Verse", names)}`];
        inSection = true;
        wroteRow = true;
        texts.push([...before, rows[0] as string]);
        for (const row of rows.slice(1)) texts.push([row]);
        return;
      }
      case "words":
        // Those under chords were written with them.
        if (texts.length === i) texts.push([comment(reading.text)]);
    }
  });
  return texts;
}

const comment = (text: string): string => `; ${text.trim()}`;

/** Whether chords come before the next heading. */
function hasMusic(readings: readonly Reading[], heading: number): boolean {
  for (let i = heading + 1; i < readings.length; i++) {
    if (readings[i]?.kind === "heading") return false;
    if (readings[i]?.kind === "chords") return true;
  }
  return false;
}

/** A name that no section has yet: a second Chorus is Chorus 2. */
function newName(name: string, names: Set<string>): string {
  let free = name;
  for (let i = 2; names.has(free); i++) free = `${name} ${i}`;
  names.add(free);
  return free;
}

/** The rows of one system, laid out: its chords, and each line of words, as a comment where it can't be a row. */
function rowsOf(bars: readonly ChordBar[], words: readonly string[]): readonly string[] {
  const chords = bars.map(({ text }) => text);
  const rows = words.map((text) => {
    const row = wordsRow(text, bars);
    return isSound(row, bars.length) ? row : undefined;
  });
  const system = [`chords ${barsText(chords)}`, ...rows.filter((row) => row !== undefined)];
  const laid = layOutRows(system.map((row) => parse(row).lines[0] as Line)) ?? [
    chordsRow(chords),
    ...system.slice(1),
  ];
  let at = 1;
  return [
    laid[0] as string,
    ...rows.map((row, i) => (row === undefined ? comment(words[i] as string) : (laid[at++] as string))),
  ];
}

/** Whether a row of words reads back as so many plain bars. */
function isSound(row: string, bars: number): boolean {
  const { statement, problems } = parse(row).lines[0] as Line;
  if (statement.kind !== "row" || problems.length > 0 || statement.bars.length !== bars) return false;
  return statement.bars.every(
    ({ open, close, ending }) => ending === undefined && !open.starts && !open.ends && close?.ends === false,
  );
}
