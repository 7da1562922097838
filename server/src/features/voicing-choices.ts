import type { PlacedSection } from "../chart/model.js";
import type { Document } from "../document/document.js";
import type { Hand } from "../keyboard/hand.js";
import type { Style } from "../voicing/styles.js";
import { emptyBars } from "./empty-bars.js";
import type { Scope } from "./scope.js";
import { settingOf, stylesFor } from "./suiting-styles.js";

export type VoicedRows = "both" | "right" | "left";

/** Whose row can be voiced, and how. */
export interface VoicingChoice {
  readonly rows: VoicedRows;
  /** For a list: `Both hands`. */
  readonly name: string;
  /** What is filled, as words: `8 empty bars`. */
  readonly fills: string;
  /** Nothing is empty: it can only be written anew. */
  readonly anew: boolean;
  /** The styles, those that suit first at the start; `suits` says how many they are. */
  readonly styles: readonly Style[];
  readonly suits: number;
}

const choices: readonly (readonly [VoicedRows, string])[] = [
  ["both", "Both hands"],
  ["right", "Right hand"],
  ["left", "Left hand"],
];

export const handsOf = (rows: VoicedRows): readonly Hand[] => (rows === "both" ? ["left", "right"] : [rows]);

/** What can be voiced in a chart, a section or a selection; nothing where there are no chords. */
export function voicingChoices({ chart }: Document, scope: Scope): readonly VoicingChoice[] {
  const own = chart.sections.filter(
    (it) => it.path === undefined && it.section.chords.length > 0 && isIn(it, scope),
  );
  if (own.length === 0) return [];
  return choices.map(([rows, name]) => {
    const hands = handsOf(rows);
    const { all, suits } = stylesFor(settingOf(own, hands));
    const empty = hands.reduce(
      (sum, hand) => sum + own.reduce((bars, placed) => bars + emptyBars(placed, hand), 0),
      0,
    );
    const isSelected = scope.kind === "selection";
    return {
      rows,
      name,
      fills: isSelected ? "the selected slots and empty bars" : fillsWords(empty),
      anew: !isSelected && empty === 0,
      styles: all,
      suits,
    };
  });
}

const fillsWords = (empty: number): string => {
  if (empty === 0) return "no bar is empty: what is written there is written anew";
  return empty === 1 ? "fills the one empty bar" : `fills ${empty} empty bars`;
};

function isIn(placed: PlacedSection, scope: Scope): boolean {
  if (scope.kind === "chart") return true;
  if (scope.kind === "section") return placed === scope.placed;
  const { start, end } = scope.span;
  return start <= placed.offset + placed.section.source.text.length && placed.offset <= end;
}
