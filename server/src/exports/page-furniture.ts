import { element, type Markup } from "./markup.js";
import type { PageContent } from "./page.js";
import type { PageView } from "./page-data.js";
import { sectionName } from "./page-sheet.js";
import type { PartName } from "./performance.js";

/** Something to press, with an `id` that the page's program knows it by. */
export const button = (id: string, words: string, more: Readonly<Record<string, string>> = {}): Markup =>
  element("button", { type: "button", class: "act", id, ...more }, words);

/** One of few, under a label: each with its value and its words; the first is chosen unless told. */
export const choice = (
  id: string,
  label: string,
  options: readonly (readonly [value: string, words: string])[],
  chosen = options[0]?.[0],
): Markup =>
  element(
    "label",
    {},
    `${label} `,
    element(
      "select",
      { id, autocomplete: "off" },
      ...options.map(([value, words]) =>
        element("option", { value, selected: value === chosen ? "" : undefined }, words),
      ),
    ),
  );

const partWords: Readonly<Record<PartName, string>> = {
  lead: "Melody",
  right: "Right hand",
  left: "Left hand",
  bass: "Bass",
  comping: "Chords",
};

/** What may go round and round: each section that is played, and the bars that somebody marked. */
export function loopChoice(
  { sound, sections }: PageView,
  chosen = "",
  ...more: readonly (readonly [value: string, words: string])[]
): Markup {
  const played = new Set(sound.bars.section);
  const names = sections.flatMap((section, i): (readonly [string, string])[] =>
    played.has(i) ? [[String(i), sectionName(section)]] : [],
  );
  return choice("loop", "Loop", [["", "nothing"], ...names, ["marked", "the marked bars"], ...more], chosen);
}

/** Who plays: each part is switched on and off, or plays alone. Empty where nobody plays. */
export function partChoice(
  { sound }: PageView,
  isOn: (part: PartName) => boolean = () => true,
  alone = "",
): readonly Markup[] {
  const parts = sound.parts.map(({ name }) => name);
  if (parts.length === 0) return [];
  const each = parts.map((name): readonly [string, string] => [name, partWords[name]]);
  return [
    element(
      "fieldset",
      { id: "parts" },
      element("legend", {}, "Who plays "),
      ...parts.map((name) => button(`part-${name}`, partWords[name], { "aria-pressed": String(isOn(name)) })),
      ...(parts.length < 2 ? [] : [choice("alone", "Alone", [["", "nobody"], ...each], alone)]),
    ),
  ];
}

/** Clicks before and under the music. */
export const clickChoice = (isOn: (id: "count-in" | "click") => boolean = () => false): readonly Markup[] => [
  button("count-in", "Count in", { "aria-pressed": String(isOn("count-in")) }),
  button("click", "Click", { "aria-pressed": String(isOn("click")) }),
];

/** What is set once: key, loop, who plays. */
export const desk = ({ view, keys, home }: PageContent): Markup =>
  element(
    "section",
    { class: "desk", "aria-label": "Settings" },
    element(
      "form",
      {},
      choice(
        "key",
        "Key",
        keys.map(({ name }, i) => [String(i), name]),
        String(home),
      ),
      loopChoice(view),
      ...partChoice(view),
      ...clickChoice(),
      button("save", "Save MIDI"),
      button("print", "Print"),
    ),
  );

/** The keyboard under the sheet, and what is done while it plays. `more` stands after the pace. */
export const shelf = (...more: readonly Markup[]): Markup =>
  element(
    "section",
    { class: "shelf", id: "player", "aria-label": "Player", tabindex: "-1" },
    element("figure", { id: "picture" }, element("figcaption", { id: "caption" }, "")),
    button("play", "Play", { class: "act play", "aria-keyshortcuts": "Space" }),
    button("start", "From the start"),
    button("tone", "First tone"),
    element(
      "div",
      { class: "pace", role: "group", "aria-label": "Pace" },
      button("slower", "Slower"),
      element("output", { id: "pace" }, ""),
      button("faster", "Faster"),
    ),
    ...more,
    element("span", { class: "where", id: "where" }, ""),
    element("p", { class: "vh", role: "status", id: "said" }, ""),
    element(
      "noscript",
      {},
      "Scripts are switched off: the chart can be read and printed, and it can't play.",
    ),
  );

export const footer = (credit: string): Markup =>
  element(
    "footer",
    {},
    element(
      "p",
      { class: "screen" },
      "Space plays and stops. Tab to a bar’s number, then the arrow keys go from bar to bar; Enter plays from there, Shift and Enter marks up to there.",
    ),
    element("p", { class: "screen" }, credit),
    element("p", {}, "Made with Plagal. Stop where it hurts; warm up, and rest between turns."),
  );
