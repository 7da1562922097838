import type { Document } from "../document/document.js";
import { clip } from "../problems/clip.js";
import { parse } from "../syntax/parse.js";
import type { FormItem, Line, Statement } from "../syntax/tree.js";
import { applyEdits, type Edit, shiftEdit } from "../text/edits.js";
import { indexAt } from "../text/lines.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { allWith, type Charts, chartAt } from "./charts.js";
import { nameSpanOf, type SectionName, type SectionUse, sectionNamedAt, usesOf } from "./section-uses.js";

/** Why nothing can be renamed, as a sentence for the player. */
export interface Refused {
  readonly refused: string;
}

/** What would be renamed: the name without its quotation marks. */
export interface RenamePlace {
  readonly span: Span;
  readonly placeholder: string;
}

export interface ChartEdits {
  readonly path: string;
  /** From the start of that chart's text; none overlap. */
  readonly edits: readonly Edit[];
}

/** Whether the place at `offset` can be renamed, and what stands there now. */
export function prepareRename(document: Document, offset: number, charts: Charts): RenamePlace | Refused {
  const found = renamedAt(document, offset, charts);
  return "refused" in found ? found : { span: found.span, placeholder: found.name };
}

/**
 * Renames the section named at `offset` where it opens and wherever a chart plays it, so that all charts sound as
 * before. Quotation marks come where the new name needs them, and go where only the old one did.
 */
export function rename(
  document: Document,
  offset: number,
  newName: string,
  charts: Charts,
): readonly ChartEdits[] | Refused {
  const found = renamedAt(document, offset, charts);
  if ("refused" in found) return found;
  const name = newName.trim();
  const wrong = wrongName(name);
  if (wrong !== undefined) return { refused: wrong };
  if (name === found.name) return [];
  const documents = allWith(document, charts);
  const uses = found.section === undefined ? [] : usesOf(found.section, documents);
  const clash = clashOf(found, name, uses, documents);
  if (clash !== undefined) return { refused: clash };
  const opening = renameOpening(found, name);
  if (opening === undefined) return { refused: unreadable(name) };
  const edits = new Map<string, Edit[]>([[found.written.path, [...opening]]]);
  for (const line of byLine(uses)) {
    const { path } = line.document;
    const renamed = renameLine(line, found.name, name);
    if (renamed === undefined) return { refused: unreadable(name) };
    edits.set(path, [...(edits.get(path) ?? []), ...renamed]);
  }
  return [...edits].map(([path, its]) => ({ path, edits: its.sort((a, b) => a.span.start - b.span.start) }));
}

interface Renamed extends RenamePlace {
  readonly name: string;
  /** The chart that it is written in. */
  readonly written: Document;
  /** Where its name stands there. */
  readonly opening: Span;
  /** `undefined` for a section that no word can mean, since an earlier one has its name. */
  readonly section: SectionName | undefined;
}

function renamedAt(document: Document, offset: number, charts: Charts): Renamed | Refused {
  const named = sectionNamedAt(document, offset);
  if (named === undefined) {
    return {
      refused:
        "Only a section has a name to change. Put the cursor on one: in its section line, in form or in play.",
    };
  }
  const { span, name, section, opens } = named;
  const place = { span, placeholder: name, name };
  if (opens !== undefined) return { ...place, written: document, opening: nameSpanOf(opens), section };
  if (section === undefined) {
    return {
      refused: `No section is called ${clip(name)}, so there is nothing to rename. Write the name of one that is there.`,
    };
  }
  const written = chartAt(section.path, document, charts);
  const found = written?.outline.sections[written.outline.contents.names.get(name) ?? -1];
  if (written === undefined || found?.source.nameSpan === undefined) {
    return {
      refused: `The chart that ${clip(name)} comes from can't be opened here. Open it, and rename the section there.`,
    };
  }
  return { ...place, written, opening: shift(found.source.nameSpan, found.offset), section };
}

function wrongName(name: string): string | undefined {
  if (name === "") return "A section needs a name. Write at least one letter.";
  if (/["\r\n]/.test(name)) {
    return "A section's name stands on one line and has no quotation mark in it. Write it without.";
  }
  return undefined;
}

const unreadable = (name: string): string =>
  `${clip(name)} can't be read as a section's name. Choose letters and numbers.`;

/** Why the name can't be had: what it would mean otherwise, or what would mean the section with it. */
function clashOf(
  { written }: Renamed,
  name: string,
  uses: readonly SectionUse[],
  documents: readonly Document[],
): string | undefined {
  const said = clip(name);
  if (written.outline.contents.names.has(name)) {
    return `This chart has a section ${said} already. Choose another name.`;
  }
  const playedIn = new Set(uses.map((use) => use.document));
  for (const it of documents) {
    const title = it.chart.header.title ?? it.path;
    if (it !== written && playedIn.has(it) && (it.outline.contents.names.has(name) || brings(it, name))) {
      return `${clip(title)} plays this section and has another one called ${said}. Choose another name.`;
    }
    // A name that means another chart's section here would mean this one.
    if ((it === written || it.shelf.has(written.path)) && playsFromElsewhere(it, name)) {
      return `${said} is the name of a section that ${clip(title)} plays from another chart. Choose another name.`;
    }
  }
  return undefined;
}

/** Whether one of the charts that this one uses brings a section of that name. */
const brings = ({ chart }: Document, name: string): boolean =>
  chart.uses.some(({ found, names }) => found === "chart" && names.includes(name));

const playsFromElsewhere = ({ chart }: Document, name: string): boolean =>
  chart.sections.some((it) => it.path !== undefined && it.section.name === name);

/** The name where the section opens; `undefined` where it can't be written so that it reads back. */
function renameOpening({ written, opening, name: old }: Renamed, name: string): readonly Edit[] | undefined {
  const { tree } = written;
  const index = indexAt(tree.starts, opening.start);
  const line = tree.lines[index] as Line;
  const lineStart = tree.starts[index] as number;
  const place: Written = { line, span: shift(opening, -lineStart), mayBeQuoted: true };
  const reads = ({ statement }: Line): boolean => statement.kind === "section" && statement.name === name;
  const needs = (it: string): boolean => !isOpening(firstStatement(`section ${it}`), it);
  for (const quoted of choices(place, needs(old), needs(name))) {
    const edit = nameEdit(place, name, quoted);
    if (reads(firstLine(applyEdits(line.text, [edit])))) return [shiftEdit(edit, lineStart)];
  }
  return undefined;
}

const firstLine = (text: string): Line => parse(text).lines[0] as Line;
const firstStatement = (text: string): Statement => firstLine(text).statement;
const isOpening = (it: Statement, name: string): boolean => it.kind === "section" && it.name === name;

/** A name in its line. */
interface Written {
  readonly line: Line;
  /** Without quotation marks, from the line's start. */
  readonly span: Span;
  /** Those around it are its own; else they would be its neighbours'. */
  readonly mayBeQuoted: boolean;
}

/** The name with its quotation marks, and the white space between; `undefined` where it has none. */
function quotedSpan({ line: { text }, span, mayBeQuoted }: Written): Span | undefined {
  if (!mayBeQuoted) return undefined;
  let { start, end } = span;
  while (isGap(text[start - 1])) start--;
  while (isGap(text[end])) end++;
  return text[start - 1] === '"' && text[end] === '"' ? { start: start - 1, end: end + 1 } : undefined;
}

const isGap = (character: string | undefined): boolean =>
  character !== undefined && character !== "\n" && character !== "\r" && /\s/u.test(character);

/** Whether the new name gets quotation marks: what is tried first, and what is tried where that doesn't read back. */
function choices(place: Written, oldNeeds: boolean, newNeeds: boolean): readonly boolean[] {
  const has = quotedSpan(place) !== undefined;
  return newNeeds || (has && !oldNeeds) ? [true] : [false, true];
}

/** The edit that writes the name there. */
function nameEdit(place: Written, name: string, quoted: boolean): Edit {
  const around = quotedSpan(place);
  if (around === undefined) return { span: place.span, text: quoted ? `"${name}"` : name };
  return quoted ? { span: place.span, text: name } : { span: around, text: name };
}

interface UseLine {
  readonly document: Document;
  readonly lineStart: number;
  readonly items: readonly FormItem[];
}

/** Uses of one line together. */
function byLine(uses: readonly SectionUse[]): readonly UseLine[] {
  const lines: { document: Document; lineStart: number; items: FormItem[] }[] = [];
  for (const { document, lineStart, item } of uses) {
    const last = lines.at(-1);
    if (last?.document === document && last.lineStart === lineStart) last.items.push(item);
    else lines.push({ document, lineStart, items: [item] });
  }
  return lines;
}

/** The names of a `form` or `play` line; `undefined` where they can't be written so that they read back. */
function renameLine({ document, lineStart, items }: UseLine, old: string, name: string): Edit[] | undefined {
  const { tree } = document;
  const line = tree.lines[indexAt(tree.starts, lineStart)] as Line;
  const wanted = namesIn(line.statement).map((it) => (it === old ? name : it));
  const [oldNeeds, newNeeds] = [old, name].map((it) => !readsBare(it)) as [boolean, boolean];
  const attempts = [
    (place: Written): boolean => choices(place, oldNeeds, newNeeds)[0] as boolean,
    (): boolean => true,
  ];
  for (const quotes of attempts) {
    const edits = items.map((item) => {
      const mayBeQuoted = item.span.start < item.nameSpan.start;
      const place: Written = { line, span: item.nameSpan, mayBeQuoted };
      return nameEdit(place, name, quotes(place));
    });
    const read = namesIn(firstStatement(applyEdits(line.text, edits)));
    if (read.length === wanted.length && read.every((it, i) => it === wanted[i])) {
      return edits.map((edit) => shiftEdit(edit, lineStart));
    }
  }
  return undefined;
}

/** Whether a name in `form` or `play` needs no quotation marks. */
function readsBare(name: string): boolean {
  const statement = firstStatement(`form ${name}`);
  const [item, ...more] = statement.kind === "form" ? statement.items : [];
  return (
    item !== undefined &&
    more.length === 0 &&
    sliceOf(`form ${name}`, item.span) === name &&
    item.name === name
  );
}

function namesIn(statement: Statement): readonly string[] {
  if (statement.kind === "form") return statement.items.map(({ name }) => name);
  return statement.kind === "play" && statement.item !== undefined ? [statement.item.name] : [];
}
