import { rowIn } from "../chart/layout.js";
import type { PlacedSection } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import type { PitchedRow } from "../syntax/tree.js";
import { type Style, type StyleName, styles } from "../voicing/styles.js";

/** What a style is chosen for: which hands are to be found, and what else plays. */
export interface Setting {
  readonly hands: readonly Hand[];
  readonly hasMelody: boolean;
  /** Somebody plays the bass, or the left hand has it. */
  readonly hasBass: boolean;
}

/** The three styles that suit first (common practice, no source). */
function suitingFirst({ hands, hasMelody, hasBass }: Setting): readonly StyleName[] {
  if (hands.length < 2 && hands[0] === "left")
    return hasBass ? ["rootless", "close", "shell"] : ["shell", "open", "two-hand"];
  if (hasMelody) return ["drop 2", "block chords", "close"];
  if (hasBass) return ["rootless", "close", "drop 2"];
  return hands.length < 2 ? ["close", "drop 2", "two-hand"] : ["close", "open", "two-hand"];
}

/** All styles, those that suit first at the start; `suits` says how many they are. */
export function stylesFor(setting: Setting): { readonly all: readonly Style[]; readonly suits: number } {
  const first = suitingFirst(setting);
  const rank = ({ name }: Style): number => (first.includes(name) ? first.indexOf(name) : first.length);
  return { all: [...styles].sort((a, b) => rank(a) - rank(b)), suits: first.length };
}

/** What plays in sections beside the hands that are to be found. */
export function settingOf(sections: readonly PlacedSection[], hands: readonly Hand[]): Setting {
  const has = (row: PitchedRow): boolean =>
    sections.some(({ section }) => section.systems.some((system) => rowIn(system, row) !== undefined));
  return {
    hands,
    hasMelody: hands.includes("right") && has("lead"),
    hasBass: has("bass") || (!hands.includes("left") && has("left")),
  };
}
