import { shift } from "../text/span.js";
import { readHeader } from "./header.js";
import type { Library, LibraryChart } from "./library.js";
import type {
  Chart,
  Displacement,
  FormStep,
  FormWord,
  Header,
  PlacedSection,
  SectionContext,
  Used,
} from "./model.js";
import { movedBy, noDisplacement } from "./moves.js";
import { broughtNames, findSection, type NamedSection } from "./names.js";
import type { Outline, OutlinedSection } from "./outline.js";
import { resolveSection } from "./section.js";

/** The resolved chart of a file. Sections whose text and context are unchanged are the same objects as before. */
export function resolveChart(path: string, outline: Outline, library: Library): Chart {
  const header = readHeader(outline.header);
  const file: LibraryChart = { path, outline };
  const used = new Map<OutlinedSection, PlacedSection>();
  /** One for all sections of a file that are used. */
  const inFiles = new Map<string, SectionContext>();
  const contextIn = (home: LibraryChart): SectionContext => {
    const context = inFiles.get(home.path) ?? usedContext(header, readHeader(home.outline.header));
    inFiles.set(home.path, context);
    return context;
  };

  const own = outline.sections.map((outlined) => placeSection(outlined, contextOf(header), undefined));
  const ownNamed = new Map<string, PlacedSection>();
  for (const it of own) if (!ownNamed.has(it.section.name)) ownNamed.set(it.section.name, it);

  /** The section that a name means in one of the files. */
  const find = (home: LibraryChart, name: string): PlacedSection | undefined => {
    const mine = home.path === path ? ownNamed.get(name) : undefined;
    const found = mine === undefined ? findSection(home, name, library) : undefined;
    if (found === undefined) return mine;
    return found.file.path === path ? ownNamed.get(found.outlined.source.name) : placeUsed(found);
  };
  const placeUsed = ({ outlined, file: home }: NamedSection): PlacedSection => {
    const known = used.get(outlined);
    if (known !== undefined) return known;
    const it = placeSection(outlined, contextIn(home), home.path);
    used.set(outlined, it);
    findPlayed(it, home);
    return it;
  };
  const findPlayed = ({ section, plays }: PlacedSection, home: LibraryChart): void => {
    for (const { item } of section.plays)
      (plays as (PlacedSection | undefined)[]).push(find(home, item.name));
  };

  for (const it of own) findPlayed(it, file);
  const formWords: FormWord[] = readForm(outline).map(({ item, lineStart }) => ({
    item,
    lineStart,
    section: find(file, item.name),
  }));
  return {
    header,
    headerLines: outline.header,
    sections: used.size === 0 ? own : [...own, ...used.values()],
    formWords,
    form: formWords.length > 0 ? formSteps(formWords, header) : own.map(asWritten),
    uses: readUses(outline, file, library),
  };
}

const known = new WeakMap<
  OutlinedSection,
  { readonly context: SectionContext; readonly it: PlacedSection }
>();

/** A section in its place. One that plays no other is the same object as long as it stands where it stood. */
function placeSection(
  outlined: OutlinedSection,
  context: SectionContext,
  path: string | undefined,
): PlacedSection {
  const before = known.get(outlined);
  if (before?.context === context && before.it.path === path) return before.it;
  const section = resolveSection(outlined.source, context);
  const { offset, firstLine } = outlined;
  const it = { section, offset, firstLine, path, plays: [] };
  if (section.plays.length === 0) known.set(outlined, { context, it });
  return it;
}

const contexts = new WeakMap<Header, SectionContext>();

/** The context of a chart's own sections: one for each header. */
function contextOf(header: Header): SectionContext {
  const { home, meter, tempo, feel } = header;
  const context = contexts.get(header) ?? {
    home,
    firstOne: home.one,
    meter,
    tempo,
    feel,
    displacement: noDisplacement,
  };
  contexts.set(header, context);
  return context;
}

/** A section from another chart stands in this chart's key, home octaves and tempo, and its own chart's mode, meter and feel. */
function usedContext(here: Header, there: Header): SectionContext {
  const displacement: Displacement = {
    fifths: here.home.key.tonic - there.home.key.tonic,
    halfSteps: here.home.one - there.home.one,
  };
  return {
    home: { key: { tonic: here.home.key.tonic, mode: there.home.key.mode }, one: here.home.one },
    firstOne: here.home.one,
    meter: there.meter,
    tempo: here.tempo,
    feel: there.feel,
    displacement,
  };
}

function readForm({ header, headerStarts, sections }: Outline): Pick<FormWord, "item" | "lineStart">[] {
  const words: Pick<FormWord, "item" | "lineStart">[] = [];
  const read = (lines: Outline["header"], starts: readonly number[], offset: number): void => {
    lines.forEach(({ statement }, i) => {
      if (statement.kind !== "form") return;
      for (const item of statement.items) words.push({ item, lineStart: offset + (starts[i] as number) });
    });
  };
  read(header, headerStarts, 0);
  for (const { source, offset } of sections) if (source.hasForm) read(source.lines, source.starts, offset);
  return words;
}

function formSteps(words: readonly FormWord[], { home }: Header): FormStep[] {
  const steps: FormStep[] = [];
  for (const { item, section } of words) {
    if (section === undefined) continue;
    steps.push({ section, times: item.times, moved: movedBy(item.move, section.section, home) });
  }
  return steps;
}

const asWritten = (section: PlacedSection): FormStep => ({
  section,
  times: 1,
  moved: movedBy(undefined, section.section, section.section.start),
});

function readUses({ header, headerStarts }: Outline, file: LibraryChart, library: Library): Used[] {
  const brought = new Set<string>();
  const uses: Used[] = [];
  header.forEach(({ statement }, i) => {
    if (statement.kind !== "use" || statement.path === undefined) return;
    const found = library.find(file.path, statement.path);
    const isSelf = found.kind === "chart" && found.chart.path === file.path;
    const names = found.kind === "chart" && !isSelf ? broughtNames(found.chart) : new Set<string>();
    const own = new Set(file.outline.sections.map(({ source }) => source.name));
    uses.push({
      path: statement.path,
      span: shift(statement.span, headerStarts[i] as number),
      found: isSelf ? "itself" : found.kind,
      names: [...names],
      taken: [...names].filter((name) => brought.has(name) && !own.has(name)),
    });
    for (const name of names) brought.add(name);
  });
  return uses;
}
