import { timesWords } from "../chart/times-words.js";
import type { PitchedRow } from "../syntax/tree.js";
import { type ModeName, prettyKey } from "../theory/key.js";
import { prettyName } from "../theory/note-name.js";
import { prettyPitch } from "../theory/pitch.js";
import { prettyNumber } from "../theory/tone-number.js";
import { element, type Markup } from "./markup.js";
import type {
  BarView,
  CellView,
  ChordView,
  PageView,
  SectionView,
  ShownRow,
  SlotView,
  SystemView,
  ToneView,
} from "./page-data.js";

/** What is printed at a chart's head and stays in every key. */
export interface PageHead {
  readonly title: string;
  readonly by: string | null;
  readonly notes: readonly string[];
  readonly mode: string;
  /** `4/4`, `72 beats a minute`. */
  readonly facts: readonly string[];
}

/** The sheet in the key of its view: the same elements in every key, with other texts. */
export const sheet = (head: PageHead, view: PageView): Markup =>
  element(
    "article",
    { class: "sheet", "aria-labelledby": "title" },
    sheetHead(head, view),
    ...view.sections.map((section, i) => sectionPart(view, section, i)),
  );

/** What stands above the first section. */
export const sheetHead = (head: PageHead, view: PageView): Markup =>
  element(
    "header",
    {},
    element("h1", { id: "title" }, head.title),
    ...(head.by === null ? [] : [element("p", { class: "by" }, `by ${head.by}`)]),
    element("p", { class: "facts" }, [keyText(view.tonic, head.mode), ...head.facts].join(" · ")),
    ...(view.form.length > 1 ? [formLine(view)] : []),
    ...head.notes.map((note) => element("p", { class: "note" }, note)),
  );

/** `E♭ major` */
export const keyText = (tonic: number, mode: string): string => prettyKey({ tonic, mode: mode as ModeName });

/** The form in playing order, on one line. */
const formLine = ({ form, sections }: PageView): Markup =>
  element(
    "p",
    { class: "form" },
    element("span", { class: "vh" }, "Played: "),
    form
      .map(([section, times, tonic]) => {
        const name = sections[section]?.name || "the first part";
        return `${name}${timesWords(times)}${tonic === null ? "" : ` in ${prettyName(tonic)}`}`;
      })
      .join(" · "),
  );

/** Of what has no name. */
export const sectionName = (section: SectionView | undefined): string => section?.name || "The chart";

const sectionPart = (view: PageView, section: SectionView, index: number): Markup =>
  element(
    "section",
    { "aria-labelledby": `s${index}` },
    ...sectionHead(view, section, index),
    ...section.systems.map((system) => systemPart(view, section, index, system)),
  );

/** A section's name and what is said below it. */
export function sectionHead(view: PageView, section: SectionView, index: number): readonly Markup[] {
  const facts = [
    ...(section.tonic === view.tonic ? [] : [`in ${keyText(section.tonic, section.mode)}`]),
    ...section.facts,
  ];
  const name = section.name === "" && view.sections.length === 1 ? "vh" : undefined;
  return [
    element("h2", { id: `s${index}`, class: name }, sectionName(section)),
    element("p", { class: "facts" }, facts.join(", ")),
  ];
}

/** Pictures in place of the rows of the hands: for each bar the column and what stands there. */
export type HandPictures = readonly (readonly (readonly [column: number, picture: Markup])[])[];

/** Bars that sound and are shown together. */
export function systemPart(
  view: PageView,
  section: SectionView,
  index: number,
  system: SystemView,
  pictures?: HandPictures,
): Markup {
  const labels = system.rows.map((row, r) =>
    pictures !== undefined && isHand(row)
      ? element("span", { class: `r${r + 1} h1 pictured` })
      : element("span", { class: `r${r + 1} h${row.lines} ${row.row}` }, labelOf(row, system)),
  );
  return element(
    "div",
    { class: "system" },
    element("div", { class: "labels", "aria-hidden": "true" }, ...labels),
    element(
      "ol",
      { class: "bars" },
      ...system.bars.map((bar, b) => barPart(view, section, index, system, bar, pictures?.[b])),
    ),
  );
}

const isHand = ({ row }: ShownRow): boolean => row === "right" || row === "left";

const labelOf = ({ row, verse }: ShownRow, { rows }: SystemView): string => {
  if (row === "words") return rows.filter((it) => it.row === "words").length > 1 ? `${verse}.` : "";
  return row === "chords" || row === "numbers" || row === "cue" ? "" : row;
};

function barPart(
  view: PageView,
  section: SectionView,
  index: number,
  { rows }: SystemView,
  bar: BarView,
  pictures: HandPictures[number] | undefined,
): Markup {
  const kinds = [
    "bar",
    bar.pickup ? "pickup" : "",
    bar.opens ? "opens" : "",
    bar.repeats > 0 ? "closes" : "",
    bar.ending > 0 ? "ending" : "",
    bar.double ? "double" : "",
  ];
  const firstHand = rows.findIndex(isHand);
  const cells = rows.flatMap((row, r) => {
    if (pictures !== undefined && isHand(row)) return r === firstHand ? pictureCells(pictures, bar, r) : [];
    const all = bar.cells[r] ?? [];
    const place = `r${r + 1} h${row.lines} ${row.row}`;
    if (all.length === 0) return [element("span", { class: `c1 s1 ${place}` })];
    return all.map((cell) => cellPart(view, cell, place));
  });
  const signs = [
    bar.ending > 0 ? `${bar.ending}.` : "",
    ...bar.before,
    bar.key === null ? "" : `now ${keyText(bar.key[0], bar.key[1])}`,
    bar.repeats > 2 ? `${bar.repeats} times` : "",
  ].filter((sign) => sign !== "");
  return element(
    "li",
    {
      class: kinds.filter((kind) => kind !== "").join(" "),
      id: `b${index}-${bar.bar}${bar.pickup ? "p" : ""}`,
    },
    ...(bar.pickup
      ? []
      : [
          element(
            "button",
            {
              type: "button",
              class: "no",
              tabindex: "-1",
              "data-bar": `${index} ${bar.bar}`,
              "aria-label": `Bar ${bar.bar + 1} of ${sectionName(section)}`,
            },
            String(bar.bar + 1),
          ),
        ]),
    element("span", { class: "signs", "aria-hidden": "true" }, signs.join(" · ")),
    element("span", { class: "vh" }, barWords(view, rows, bar, signs)),
    element("div", { class: "grid", "aria-hidden": "true" }, ...cells),
  );
}

/** One picture where either hand strikes, up to the next one. */
const pictureCells = (pictures: HandPictures[number], { columns }: BarView, row: number): readonly Markup[] =>
  pictures.map(([c, picture], i) => {
    const column = Math.min(c + 1, mostColumns);
    const end = Math.min(pictures[i + 1]?.[0] ?? columns, mostColumns);
    return element(
      "span",
      { class: `c${column} s${Math.max(1, end - column + 1)} r${row + 1} h1 pictured` },
      picture,
    );
  });

/** As far as cells have a place of their own; what comes after shares the last one. */
export const mostColumns = 512;

function cellPart(view: PageView, cell: CellView, place: string): Markup {
  const column = Math.min(cell.c + 1, mostColumns);
  const span = Math.max(1, Math.min(cell.s, mostColumns - column + 1));
  const at = `c${column} s${span} ${place}`;
  if ("chord" in cell) return element("span", { class: at }, ...chordParts(cell.chord));
  if ("text" in cell) return element("span", { class: at }, cell.text);
  const slot = view.slots[cell.slot];
  if (slot === undefined || slot.kind === "hold") return element("span", { class: `${at} on` });
  const kinds = `${at} tones${slot.rolled ? " rolled" : ""}${slot.pushed ? " early" : ""}`;
  return element("span", { class: kinds }, ...[...slot.tones].reverse().map(tonePart));
}

/** The root stands out from its quality. */
const chordParts = ({ root, bass, quality }: ChordView): readonly Markup[] => [
  element("b", {}, prettyName(root)),
  element("span", {}, quality + (bass === null ? "" : `/${prettyName(bass)}`)),
];

/** `Cmaj7/E` */
export const chordText = ({ root, bass, quality }: Omit<ChordView, "number">): string =>
  prettyName(root) + quality + (bass === null ? "" : `/${prettyName(bass)}`);

const tonePart = (tone: ToneView): Markup =>
  element(
    "span",
    { class: tone.held ? "tone held" : "tone" },
    element("b", {}, prettyNumber(tone)),
    element("i", {}, (tone.grace === null ? "" : `${prettyName(tone.grace)}~`) + prettyName(tone.fifths)),
  );

const rowWords: Readonly<Record<PitchedRow, string>> = {
  lead: "Melody",
  right: "Right hand",
  left: "Left hand",
  bass: "Bass",
};

/** A bar as somebody would read it aloud. */
function barWords(view: PageView, rows: readonly ShownRow[], bar: BarView, signs: readonly string[]): string {
  const sentences = rows.flatMap(({ row, verse }, r): string[] => {
    const cells = bar.cells[r] ?? [];
    if (row === "numbers" || cells.length === 0) return [];
    if (row === "words")
      return [
        `${verse > 1 ? `Verse ${verse}` : "Words"}: ${cells.map(textOf).join(" ").replaceAll("- ", "")}`,
      ];
    if (row === "cue") return [`Cue: ${cells.map(textOf).join(" ")}`];
    if (row === "chords")
      return [cells.map((cell) => ("chord" in cell ? chordText(cell.chord) : textOf(cell))).join(", ")];
    const slots = cells.flatMap((cell) => ("slot" in cell ? [view.slots[cell.slot]] : []));
    const texts = slots.flatMap((slot) => (slot === undefined ? [] : [slotWords(slot)]));
    return [`${rowWords[row]}: ${texts.join(", ")}`];
  });
  const start = bar.pickup
    ? "Pickup"
    : [bar.opens ? "Repeat from here" : "", ...signs].filter(Boolean).join(", ");
  const end = bar.repeats > 0 ? ["then back"] : [];
  return `${[...(start === "" ? [] : [start]), ...sentences, ...end].join(". ")}.`;
}

const textOf = (cell: CellView): string => ("text" in cell ? cell.text : "");

function slotWords({ kind, tones, rolled, pushed }: SlotView): string {
  if (kind === "hold") return "held";
  const how = `${pushed ? "early " : ""}${rolled ? "rolled " : ""}`;
  return (
    how +
    tones
      .map((tone) => (tone.held ? "" : prettyPitch(tone)))
      .filter(Boolean)
      .join(" ")
  );
}
