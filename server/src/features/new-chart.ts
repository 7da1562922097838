import { type Key, keyName, readKey, triadOn } from "../theory/key.js";
import { place } from "./snippet.js";

const common: Key = { tonic: 0, mode: "major" };

/** The chords of the first system, each with the order of its tones in the right hand: they lie close together. */
const grips: readonly (readonly [degree: number, tones: readonly number[]])[] = [
  [1, [3, 5, 1]],
  [4, [1, 3, 5]],
  [5, [1, 3, 5]],
  [1, [3, 5, 1]],
];

/**
 * A new chart with a first system to fill, as a snippet: each place holds something sound, so that the chart is without
 * a problem however much of it is filled. `key` as it was typed; C major where it says none.
 */
export function newChart(key?: string): string {
  const inKey = (key === undefined ? undefined : readKey(key)) ?? common;
  let number = 5;
  const row = (name: string, cells: readonly string[]): string =>
    `${name.padEnd(8)}|${cells.map((cell) => ` ${place(++number, cell)}${" ".repeat(width - cell.length)} |`).join("")}`;
  const hands = grips.map(([degree, tones]) => gripText(inKey, degree, tones));
  const width = Math.max(...hands.map(({ length }) => length));
  return [
    `title   ${place(1, "New Chart")}`,
    `key     ${place(2, keyName(inKey))}`,
    `time    ${place(3, "4/4")}`,
    `tempo   ${place(4, "72")}`,
    "",
    `section ${place(5, "Verse")}`,
    row(
      "chords",
      grips.map(([degree]) => `${degree}`),
    ),
    row("right", hands),
    row(
      "left",
      grips.map(() => "1"),
    ),
    place(0),
    "",
  ].join("\n");
}

/** A grip on the key's own triad, with the signs that its third and fifth have there: `b3+5+1`. */
function gripText(key: Key, degree: number, tones: readonly number[]): string {
  const { third, fifth } = triadOn(key, degree);
  const signs = new Map([
    [3, third === "minor" ? "b" : ""],
    [5, fifth === "diminished" ? "b" : fifth === "augmented" ? "#" : ""],
  ]);
  return tones.map((tone) => `${signs.get(tone) ?? ""}${tone}`).join("+");
}
