import fc from "fast-check";
import { expect } from "vitest";
import { type Document, openDocument } from "../../server/src/document/document.js";
import { actions } from "../../server/src/features/actions.js";
import type { Charts } from "../../server/src/features/charts.js";
import { definition } from "../../server/src/features/definition.js";
import { folding } from "../../server/src/features/folding.js";
import { formatRange } from "../../server/src/features/format-range.js";
import { highlights } from "../../server/src/features/highlights.js";
import { holdBack } from "../../server/src/features/hold-back.js";
import { hover } from "../../server/src/features/hover.js";
import { inlayHints } from "../../server/src/features/inlay-hints.js";
import { links } from "../../server/src/features/links.js";
import { plainText } from "../../server/src/features/markup.js";
import { references } from "../../server/src/features/references.js";
import { prepareRename, rename } from "../../server/src/features/rename.js";
import { revoice } from "../../server/src/features/revoice.js";
import { selectionRanges } from "../../server/src/features/selection-ranges.js";
import { semanticTokens } from "../../server/src/features/semantic-tokens.js";
import { symbols } from "../../server/src/features/symbols.js";
import { stepVoicing, voice } from "../../server/src/features/voice.js";
import { voicingChoices } from "../../server/src/features/voicing-choices.js";
import { workspaceSymbols } from "../../server/src/features/workspace-symbols.js";
import { applyEdits, areApart } from "../../server/src/text/edits.js";
import type { Span } from "../../server/src/text/span.js";
import { styles } from "../../server/src/voicing/styles.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";
import { soundOf } from "../support/sounding.js";

const path = "chart.plagal";
const opened = (text: string, at = path): Document => openDocument(at, text, usedFiles);

/** The chart with the one that generated charts may use. */
function chartsWith(document: Document): Charts {
  const tags = usedFiles.find(path, "tags.plagal");
  const used = tags.kind === "text" ? opened(tags.text, tags.path) : document;
  return {
    open: (at) => (at === used.path ? used : at === document.path ? document : undefined),
    all: () => [document, used],
    find: (_from, at) => (at === used.path ? at : undefined),
  };
}

const isInside = ({ start, end }: Span, text: string): boolean =>
  0 <= start && start <= end && end <= text.length;
const isInOrder = (spans: readonly Span[]): boolean =>
  spans.every(({ start }, i) => i === 0 || (spans[i - 1] as Span).end <= start);

const places = fc.array(fc.tuple(fc.nat(), fc.nat({ max: 200 })), { minLength: 4, maxLength: 8 });

/** Asks everything, at each of these places and outside the text, and judges what any answer must be. */
function askAll([text, at]: readonly [string, readonly (readonly [number, number])[]]): void {
  const document = opened(text);
  const charts = chartsWith(document);
  const textOf = (it: string): string => charts.open(it)?.text ?? "";
  const outline = symbols(document, 3);
  expect(
    outline.symbols.every(({ span, nameSpan, name }) => {
      return name !== "" && isInside(span, text) && span.start <= nameSpan.start && nameSpan.end <= span.end;
    }),
  ).toBe(true);
  expect(outline.symbols.length + outline.left).toBe(symbols(document, 1e9).symbols.length);
  const folds = folding(document);
  expect(folds.every((it) => it.firstLine < it.lastLine && it.lastLine < document.tree.lines.length)).toBe(
    true,
  );
  expect(new Set(folds.map(({ firstLine }) => firstLine)).size).toBe(folds.length);
  const tokens = semanticTokens(document).map(({ span }) => span);
  expect(isInOrder(tokens) && tokens.every((it) => isInside(it, text) && it.start < it.end)).toBe(true);
  expect(tokens.every(({ start, end }) => !/[\r\n]/.test(text.slice(start, end)))).toBe(true);
  expect(links(document, charts).every(({ span }) => isInside(span, text))).toBe(true);
  expect(workspaceSymbols(charts, "", 1000).every((it) => isInside(it.span, textOf(it.path)))).toBe(true);
  const [[pick] = [0]] = at;
  const { name } = styles[pick % styles.length] as (typeof styles)[number];
  const voiced = voice(document, { kind: "chart" }, { hands: ["right", "left"], style: name });
  if (!("refused" in voiced)) expect(areApart(voiced.edits)).toBe(true);
  const revoiced = revoice(document, { left: 8, right: 8 });
  if (!("refused" in revoiced)) expect(areApart(revoiced.edits)).toBe(true);
  for (const [seed, length] of [...at, [-5, 3], [text.length + 1, 9], [text.length - 1, 0]] as const) {
    const offset = seed > text.length ? seed % (text.length + 2) : seed;
    const range: Span = { start: Math.max(0, offset), end: Math.max(0, offset) + length };
    const ways = selectionRanges(document, offset);
    ways.forEach((span, i) => {
      const inner = ways[i - 1];
      expect(isInside(span, text)).toBe(true);
      if (inner === undefined) return;
      expect(span.start <= inner.start && inner.end <= span.end).toBe(true);
      expect(span.end - span.start).toBeGreaterThan(inner.end - inner.start);
    });
    expect(ways.at(-1)).toEqual({ start: 0, end: text.length });
    for (const target of definition(document, offset, charts)?.targets ?? []) {
      expect(isInside(target.span, textOf(target.path))).toBe(true);
    }
    expect(references(document, offset, charts, true).every((it) => isInside(it.span, textOf(it.path)))).toBe(
      true,
    );
    const lit = highlights(document, offset).map(({ span }) => span);
    expect(isInOrder(lit) && lit.every((it) => isInside(it, text))).toBe(true);
    const hints = inlayHints(document, range, { notes: true, letters: true, fingering: true });
    expect(hints.every((it) => range.start <= it.at && it.at <= range.end && it.text !== "")).toBe(true);
    const formatted = formatRange(document, range);
    expect(areApart(formatted)).toBe(true);
    expect(applyEdits(text, formatted).replace(/[ \t]/g, "")).toBe(text.replace(/[ \t]/g, ""));
    const words = hover(document, offset);
    expect(words === undefined || (isInside(words.span, text) && plainText(words.text) !== "")).toBe(true);
    const offered = actions(document, range);
    expect(offered.every(({ title }) => title !== "")).toBe(true);
    const choices = voicingChoices(document, { kind: "selection", span: range });
    expect(choices.length === 0 || choices.length === 3).toBe(true);
    const stepped = stepVoicing(document, offset);
    if (!("refused" in stepped)) expect(areApart(stepped.edits)).toBe(true);
    const { shown, held } = holdBack(document, range);
    expect(shown.length + held.length).toBe(document.problems.length);
    prepareRename(document, offset, charts);
    const renamed = rename(document, offset, "Quite new", charts);
    if ("refused" in renamed) continue;
    for (const change of renamed) expect(areApart(change.edits)).toBe(true);
  }
}

property(
  "any question at any place of a chart has an answer that fits its text",
  fc.tuple(anyChart(), places),
  60,
  askAll,
);
property(
  "any question at any place of any text has an answer that fits it",
  fc.tuple(hostileText, places),
  60,
  askAll,
);

/** The charts after a rename of what is named there, or a refusal. */
function renamedTo(document: Document, offset: number, name: string): Document | string {
  const charts = chartsWith(document);
  const result = rename(document, offset, name, charts);
  if ("refused" in result) return result.refused;
  // A section of the used chart stays as it is: that chart is the same in all of these.
  const own = result.find((it) => it.path === document.path);
  return own === undefined || result.length > 1 ? "elsewhere" : opened(applyEdits(document.text, own.edits));
}

/** All that sounds, without the name of the section that is renamed. */
const heard = ({ chart }: Document, name: string): string =>
  soundOf(chart)
    .split("\n")
    .map((line) => (line === name ? "…" : line))
    .join("\n");

property(
  "a section that is renamed and named back gives the same bytes and the same music",
  anyChart(),
  150,
  (text) => {
    const document = opened(text);
    const count = document.outline.sections.length;
    for (let i = 0; i < count; i++) {
      const { source } = document.outline.sections[i] as (typeof document.outline.sections)[number];
      if (source.nameSpan === undefined || source.name === "") continue;
      const needsMarks = source.name.includes(" ") || /^x[0-9]+$/.test(source.name);
      // What needs quotation marks as the old name does, so that none come or go for good.
      const name = needsMarks ? "Quite new" : "Brand-new";
      const openingOf = ({ outline }: Document): number => {
        const it = outline.sections[i] as (typeof outline.sections)[number];
        return it.offset + (it.source.nameSpan?.start ?? 0);
      };
      const at = openingOf(document);
      const there = renamedTo(document, at, name);
      if (typeof there === "string") throw new Error(there);
      expect(there.outline.sections.map((it) => it.source.name)[i]).toBe(name);
      expect(heard(there, name)).toBe(heard(document, source.name));
      const other = renamedTo(document, at, needsMarks ? "Short" : "A name of words");
      if (typeof other === "string") throw new Error(other);
      expect(heard(other, needsMarks ? "Short" : "A name of words")).toBe(heard(document, source.name));
      const back = renamedTo(there, openingOf(there), source.name);
      expect(typeof back === "string" ? back : back.text).toBe(text);
    }
  },
);

property(
  "a section of another chart that is renamed sounds as before wherever it is played",
  anyChart(),
  150,
  (text) => {
    const document = opened(text);
    const charts = chartsWith(document);
    const used = charts.open("tags.plagal") as Document;
    const result = rename(used, used.text.indexOf("Turnaround"), "Quite new", charts);
    if ("refused" in result) throw new Error(result.refused);
    const now = (it: Document): string =>
      applyEdits(it.text, result.find(({ path: at }) => at === it.path)?.edits ?? []);
    const renamed = openDocument(path, now(document), {
      find: (_from, at) =>
        at === used.path ? { kind: "text", path: at, text: now(used) } : { kind: "missing" },
    });
    expect(heard(renamed, "Quite new")).toBe(heard(document, "Turnaround"));
  },
);
