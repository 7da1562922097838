import { resolveChart } from "../chart/chart.js";
import type { Found, Library, LibraryChart } from "../chart/library.js";
import type { Chart, Reach } from "../chart/model.js";
import { type Outline, outline } from "../chart/outline.js";
import { type Judgement, judge } from "../checks/judge.js";
import { type Code, catalogue } from "../problems/catalogue.js";
import type { Severity } from "../problems/entry.js";
import { byPlace, type Problem } from "../problems/problem.js";
import { parse, reparse } from "../syntax/parse.js";
import type { Tree } from "../syntax/tree.js";

/** What the user may set, beside the chart. */
export interface Settings {
  /** In place of the catalogue's severities. */
  readonly severities: Readonly<Partial<Record<Code, Severity>>>;
  /** Wins over the chart's own `reach` line. */
  readonly reach: Reach;
}

export const defaultSettings: Settings = { severities: {}, reach: { left: undefined, right: undefined } };

/** The texts of other charts. `find` gives the same `path` for the same file, however it is named. */
export interface Files {
  readonly find: (from: string, path: string) => FileFound;
}

export type FileFound =
  | { readonly kind: "text"; readonly path: string; readonly text: string }
  | { readonly kind: "missing" | "outside" | "unreadable" };

export const noFiles: Files = { find: () => ({ kind: "missing" }) };

/** Another chart with the text that it was read from, so that it is read again only when that has changed. */
export interface ShelvedChart {
  readonly text: string;
  readonly chart: LibraryChart;
}

/** One text version of a chart, with its answers; those beyond the text are computed once, on first need. */
export interface Document {
  readonly path: string;
  readonly text: string;
  readonly tree: Tree;
  readonly outline: Outline;
  readonly chart: Chart;
  /** The other charts that it brings in, as they were read for it, by their paths. */
  readonly shelf: ReadonlyMap<string, ShelvedChart>;
  /** In order of the text; spans count from its start. Those that are `off` are left out. */
  readonly problems: readonly Problem[];
}

/**
 * The document of a text. What it shares with `previous`, an earlier version of the same chart, is taken over:
 * the answers are the same with and without it.
 */
export function openDocument(
  path: string,
  text: string,
  files: Files = noFiles,
  settings: Settings = defaultSettings,
  previous?: Document,
): Document {
  // Taken from the version before at once, so that no version keeps the ones before it alive.
  const tree = previous === undefined ? parse(text) : reparse(previous.tree, text);
  const outlined = outline(tree, previous?.outline);
  const shelved = previous?.shelf;
  const once = <T>(make: () => T): (() => T) => {
    let made: { readonly value: T } | undefined;
    return () => {
      made ??= { value: make() };
      return made.value;
    };
  };
  const shelf = new Map<string, ShelvedChart>();
  const known: Latest =
    previous === undefined ? { chart: undefined, judgement: undefined } : latestOf(previous);
  const chart = once(() => {
    const own = { path, outline: outlined };
    known.chart = resolveChart(path, outlined, libraryOf(files, own, shelved, shelf), known.chart);
    return known.chart;
  });
  const problems = once(() => judgeAll(chart(), settings, known));
  const document: Document = {
    path,
    text,
    tree,
    shelf,
    outline: outlined,
    get chart() {
      return chart();
    },
    get problems() {
      return problems();
    },
  };
  latest.set(document, known);
  circumstances.set(document, { files, settings });
  return document;
}

const circumstances = new WeakMap<Document, { readonly files: Files; readonly settings: Settings }>();

/** How far each hand reaches in a chart: the user's setting wins over its `reach` line. */
export function reachInForce(document: Document): Reach {
  const { settings } = circumstances.get(document) ?? { settings: defaultSettings };
  return reachOf(document.chart, settings);
}

const reachOf = ({ header }: Chart, { reach }: Settings): Reach => ({
  left: reach.left ?? header.reach.left,
  right: reach.right ?? header.reach.right,
});

/** The same chart with another text, among the same files and with the same settings. */
export function withText(document: Document, text: string): Document {
  const { files, settings } = circumstances.get(document) ?? { files: noFiles, settings: defaultSettings };
  return openDocument(document.path, text, files, settings, document);
}

/** The answers that versions of a chart share: those that were asked for last. */
interface Latest {
  chart: Chart | undefined;
  judgement: Judgement | undefined;
}

const latest = new WeakMap<Document, Latest>();
const latestOf = (it: Document): Latest => latest.get(it) ?? { chart: undefined, judgement: undefined };

/** Reads the other charts as they are asked for, into `shelf`; the chart itself is found as it is. */
function libraryOf(
  files: Files,
  own: LibraryChart,
  before: ReadonlyMap<string, ShelvedChart> | undefined,
  shelf: Map<string, ShelvedChart>,
): Library {
  const answers = new Map<string, Found>();
  const read = (path: string, text: string): LibraryChart => {
    if (path === own.path) return own;
    const known = shelf.get(path) ?? before?.get(path);
    const chart =
      known?.text === text ? known.chart : { path, outline: outline(parse(text), known?.chart.outline) };
    shelf.set(path, { text, chart });
    return chart;
  };
  return {
    find: (from, path) => {
      const question = `${from}\n${path}`;
      const answered = answers.get(question);
      if (answered !== undefined) return answered;
      const file = files.find(from, path);
      const found: Found = file.kind === "text" ? { kind: "chart", chart: read(file.path, file.text) } : file;
      answers.set(question, found);
      return found;
    },
  };
}

const codes = Object.keys(catalogue) as readonly Code[];

function judgeAll(chart: Chart, settings: Settings, known: Latest): readonly Problem[] {
  const { severities } = settings;
  const inForce = reachOf(chart, settings);
  const severityOf = (code: Code): Severity => severities[code] ?? catalogue[code].severity;
  const off = new Set(codes.filter((code) => severityOf(code) === "off"));
  const judgement = judge(chart, inForce, off, known.judgement);
  known.judgement = judgement;
  // Sections stand in order, and the problems of each are in order already.
  const inSections: Problem[] = [];
  for (const problems of judgement.inSections) for (const it of problems) inSections.push(it);
  const problems = merge(inSections, [...judgement.across].sort(byPlace));
  if (off.size === 0 && Object.keys(severities).length === 0) return problems;
  return problems.filter(({ code }) => !off.has(code)).map((it) => withSeverity(it, severities[it.code]));
}

/** Two lists of problems, each in order, as one in order. */
function merge(many: readonly Problem[], few: readonly Problem[]): readonly Problem[] {
  if (few.length === 0) return many;
  const merged: Problem[] = [];
  let from = 0;
  for (const it of few) {
    let [low, high] = [from, many.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (byPlace(many[middle] as Problem, it) <= 0) low = middle + 1;
      else high = middle;
    }
    for (; from < low; from++) merged.push(many[from] as Problem);
    merged.push(it);
  }
  return merged.concat(many.slice(from));
}

const withSeverity = (it: Problem, severity: Severity | undefined): Problem =>
  severity === undefined || severity === it.severity ? it : { ...it, severity };
