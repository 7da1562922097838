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
  const placed = new Map<OutlinedSection, PlacedSection>();
  /** One for all sections of a file. */
  const inFiles = new Map([[path, contextOf(header)]]);
  const contextIn = (home: LibraryChart): SectionContext => {
    const context = inFiles.get(home.path) ?? usedContext(header, readHeader(home.outline.header));
    inFiles.set(home.path, context);
    return context;
  };

  const place = ({ outlined, file: home }: NamedSection): PlacedSection => {
    const known = placed.get(outlined);
    if (known !== undefined) return known;
    const isOwn = home.path === path;
    const it = placeSection(outlined, contextIn(home), isOwn ? undefined : home.path);
    placed.set(outlined, it);
    const plays = it.plays as (PlacedSection | undefined)[];
    for (const { item } of it.section.plays) {
      const found = findSection(isOwn ? file : home, item.name, library);
      plays.push(found === undefined ? undefined : place(found));
    }
    return it;
  };

  const own = outline.sections.map((outlined) => place({ outlined, file }));
  const formWords: FormWord[] = readForm(outline).map(({ item, lineStart }) => {
    const found = findSection(file, item.name, library);
    return { item, lineStart, section: found === undefined ? undefined : place(found) };
  });
  return {
    header,
    headerLines: outline.header,
    sections: placed.size === own.length ? own : [...own, ...[...placed.values()].filter(isUsed)],
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

const isUsed = ({ path }: PlacedSection): boolean => path !== undefined;

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

const formSteps = (words: readonly FormWord[], header: Header): FormStep[] =>
  words.flatMap(({ item, section }) =>
    section === undefined
      ? []
      : [{ section, times: item.times, moved: movedBy(item.move, section.section, header.home) }],
  );

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
