import type { Line } from "../syntax/tree.js";
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
import { isSameContext, resolveSection } from "./section.js";

/**
 * The resolved chart of a file. Sections whose text and context are unchanged are the same objects as before.
 * `previous` is an earlier version of the same chart: what both share is taken over, and the answer is the same
 * without it.
 */
export function resolveChart(path: string, outline: Outline, library: Library, previous?: Chart): Chart {
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

  const own = placeOwn(outline, contextOf(header), previous);
  const { names, holding } = outline.contents;

  /** The section that a name means in one of the files. */
  const find = (home: LibraryChart, name: string): PlacedSection | undefined => {
    const mine = home.path === path ? own[names.get(name) ?? -1] : undefined;
    const found = mine === undefined ? findSection(home, name, library) : undefined;
    if (found === undefined) return mine;
    return found.file.path === path ? own[names.get(found.outlined.source.name) ?? -1] : placeUsed(found);
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

  for (const i of holding.play) findPlayed(own[i] as PlacedSection, file);
  const before = previous !== undefined && hasForm(outline, previous) ? previous : undefined;
  const formWords = before ? withTargets(before, own) : readForm(outline, (name) => find(file, name));
  return {
    outline,
    header,
    sections: used.size === 0 ? own : [...own, ...used.values()],
    formWords,
    form: formWords.length > 0 ? formSteps(formWords, header, before) : own.map(asWritten),
    asPrinted:
      used.size === 0 &&
      holding.play.length === 0 &&
      (before?.asPrinted ?? formWords.every(({ item }) => item.move === undefined)),
    uses: readUses(outline, file, library),
  };
}

/** A section in its place, with what it plays yet to be found. */
const placeSection = (
  { source, offset, firstLine }: OutlinedSection,
  context: SectionContext,
  path: string | undefined,
): PlacedSection => ({ section: resolveSection(source, context), offset, firstLine, path, plays: [] });

/** The chart's own sections in their places. Those that stand as they stood in `previous` are the same objects. */
function placeOwn(outline: Outline, context: SectionContext, previous: Chart | undefined): PlacedSection[] {
  const { sections, contents } = outline;
  const isKnown = previous !== undefined && isSameContext(context, contextOf(previous.header));
  const before: Outline["sections"] = isKnown ? previous.outline.sections : [];
  const placed = isKnown ? previous.sections : [];
  const own: PlacedSection[] = [];
  let old = 0;
  for (let i = 0; i < sections.length; i++) {
    const outlined = sections[i] as OutlinedSection;
    // Sections stay in order: most stand in their old place, or as far from the end as they did.
    if (before[old] !== outlined) old = i + before.length - sections.length;
    const { source, offset, firstLine } = outlined;
    if (before[old] === outlined) own.push(placed[old] as PlacedSection);
    else if (before[old]?.source === source) {
      const { section } = placed[old] as PlacedSection;
      own.push({ section, offset, firstLine, path: undefined, plays: [] });
    } else own.push(placeSection(outlined, context, undefined));
    old++;
  }
  // What these play is yet to be found.
  for (const i of contents.holding.play) own[i] = { ...(own[i] as PlacedSection), plays: [] };
  return own;
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

/** The words of the `form` lines. */
function readForm(
  { header, headerStarts, sections, contents }: Outline,
  find: (name: string) => PlacedSection | undefined,
): readonly FormWord[] {
  const words: FormWord[] = [];
  const read = (lines: readonly Line[], starts: readonly number[], offset: number): void => {
    lines.forEach(({ statement }, i) => {
      if (statement.kind !== "form") return;
      const lineStart = offset + (starts[i] as number);
      for (const item of statement.items) words.push({ item, lineStart, section: find(item.name) });
    });
  };
  read(header, headerStarts, 0);
  for (const i of contents.holding.form) {
    const { source, offset } = sections[i] as OutlinedSection;
    read(source.lines, source.starts, offset);
  }
  return words;
}

/** Whether the `form` lines of an earlier version, which uses no other chart, stand where they stood and name the same. */
const hasForm = ({ header, contents, sections }: Outline, { outline: old, uses }: Chart): boolean =>
  header === old.header &&
  contents === old.contents &&
  uses.length === 0 &&
  contents.holding.form.every((i) => sections[i] === old.sections[i]);

/** The words of an earlier version, whose form this one has, with the sections of this one. */
function withTargets({ formWords, sections }: Chart, own: readonly PlacedSection[]): readonly FormWord[] {
  const now = new Map<PlacedSection | undefined, PlacedSection>();
  sections.forEach((it, i) => {
    const here = own[i] as PlacedSection;
    if (here !== it) now.set(it, here);
  });
  if (now.size === 0) return formWords;
  return formWords.map((word) => {
    const section = now.get(word.section);
    return section === undefined ? word : { ...word, section };
  });
}

/** The steps of a form. `previous` is an earlier version with the same form: the same words make the same steps. */
function formSteps(words: readonly FormWord[], { home }: Header, previous: Chart | undefined): FormStep[] {
  const steps: FormStep[] = [];
  words.forEach((word, i) => {
    const { item, section } = word;
    if (section === undefined) return;
    const before = previous?.formWords[i] === word ? previous.form[steps.length] : undefined;
    steps.push(before ?? { section, times: item.times, moved: movedBy(item.move, section.section, home) });
  });
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
    uses.push({
      path: statement.path,
      span: shift(statement.span, headerStarts[i] as number),
      found: isSelf ? "itself" : found.kind,
      names: [...names],
      taken: [...names].filter((name) => brought.has(name) && !file.outline.contents.names.has(name)),
    });
    for (const name of names) brought.add(name);
  });
  return uses;
}
