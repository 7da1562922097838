import type { PictureTheme } from "../exports/keyboard-picture.js";
import { element, type Markup } from "../exports/markup.js";
import { button, choice } from "../exports/page-furniture.js";
import { byId } from "./elements.js";
import type { Look } from "./messages.js";

export const usualLook: Look = { chords: "both", hands: "names", paper: "editor", size: 100, stand: false };

/** How much larger or smaller one press makes the text, and how far, in parts of a hundred (chosen here, no source). */
const [sizeStep, smallest, largest] = [10, 60, 300];

/** How much larger all is on the stand, which is an arm's length away and not half of one (chosen here, no source). */
const standSize = 1.5;

const chordChoices = [
  ["both", "letters and numbers"],
  ["letters", "letters"],
  ["numbers", "numbers"],
] as const;
const handChoices = [
  ["names", "as names and numbers"],
  ["keyboards", "as keyboards"],
  ["staff", "as a staff"],
  ["none", "not at all"],
] as const;
const paperChoices = [
  ["editor", "as the editor"],
  ["light", "light"],
  ["dark", "dark"],
] as const;

/** How the chart is shown: a part of the page's settings. */
export const lookControls = (look: Look): readonly Markup[] => [
  choice("chords", "Chords in", chordChoices, look.chords),
  choice("hands", "Hands", handChoices, look.hands),
  choice("paper", "Paper", paperChoices, look.paper),
  element(
    "div",
    { class: "pace", role: "group", "aria-label": "Size" },
    button("smaller", "Smaller"),
    element("output", { id: "size" }, sizeWords(look)),
    button("larger", "Larger"),
  ),
];

const sizeWords = ({ size }: Look): string => `${size} %`;

/** A look as somebody may have kept it: what is missing or unknown is as usual. */
export function readLook(kept: unknown): Look {
  const given = (typeof kept === "object" && kept !== null ? kept : {}) as Partial<
    Record<keyof Look, unknown>
  >;
  const known = <T extends string>(choices: readonly (readonly [T, string])[], value: unknown, usual: T): T =>
    choices.find(([it]) => it === value)?.[0] ?? usual;
  return {
    chords: known(chordChoices, given.chords, usualLook.chords),
    hands: known(handChoices, given.hands, usualLook.hands),
    paper: known(paperChoices, given.paper, usualLook.paper),
    size: typeof given.size === "number" ? withinSizes(given.size) : usualLook.size,
    stand: given.stand === true,
  };
}

const withinSizes = (size: number): number => Math.min(largest, Math.max(smallest, Math.round(size)));

/** The theme in force, told by the classes that the editor gives every page. */
export function themeOf({ paper }: Look): PictureTheme {
  const { classList } = document.body;
  if (classList.contains("vscode-high-contrast-light")) return paper === "dark" ? "high contrast" : "print";
  if (classList.contains("vscode-high-contrast")) return paper === "light" ? "print" : "high contrast";
  if (paper !== "editor") return paper;
  return classList.contains("vscode-dark") ? "dark" : "light";
}

/** Makes the page look so, and tells when somebody chooses otherwise. */
export function openLook(
  first: Look,
  changed: (look: Look) => void,
): { readonly look: () => Look; readonly set: (part: Partial<Look>) => void; readonly apply: () => void } {
  let look = first;
  function apply(): void {
    const { dataset, style } = document.documentElement;
    dataset.chords = look.chords;
    dataset.hands = look.hands;
    dataset.paper = themeOf(look).replace(" ", "-");
    dataset.stand = String(look.stand);
    const size = (look.size / 100) * (look.stand ? standSize : 1);
    style.fontSize = `${size * 100}%`;
    style.setProperty("--size", `${size}`);
    byId("size").textContent = sizeWords(look);
  }
  function set(part: Partial<Look>): void {
    look = readLook({ ...look, ...part });
    apply();
    changed(look);
  }
  document.addEventListener("change", ({ target }) => {
    const { id, value } = target as HTMLSelectElement;
    if (id === "chords" || id === "hands" || id === "paper") set({ [id]: value });
  });
  byId("smaller").addEventListener("click", () => set({ size: look.size - sizeStep }));
  byId("larger").addEventListener("click", () => set({ size: look.size + sizeStep }));
  // The editor changes the classes with its theme.
  new MutationObserver(() => {
    apply();
    changed(look);
  }).observe(document.body, { attributes: true, attributeFilter: ["class"] });
  apply();
  return { look: () => look, set, apply };
}
