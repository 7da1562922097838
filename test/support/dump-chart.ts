import { expect } from "vitest";
import type {
  Chart,
  ChordEvent,
  Mark,
  Note,
  PlacedSection,
  Section,
  SlotEvent,
} from "../../server/src/chart/model.js";
import { unfold } from "../../server/src/chart/unfold.js";
import { type Document, type Files, openDocument } from "../../server/src/document/document.js";
import type { PitchedRow } from "../../server/src/syntax/tree.js";
import { sliceOf } from "../../server/src/text/span.js";
import { chordSymbol } from "../../server/src/theory/chord.js";
import { printFraction } from "../../server/src/theory/fraction.js";
import { nameOf } from "../../server/src/theory/note-name.js";
import { pitchName } from "../../server/src/theory/pitch.js";
import { chartText } from "./edit-chart.js";

/** Other charts by their paths, for `use`. */
export type OtherCharts = Readonly<Record<string, string>>;

const filesOf = (others: OtherCharts): Files => ({
  find: (_from, path) => {
    const text = Object.hasOwn(others, path) ? others[path] : undefined;
    return text === undefined ? { kind: "missing" } : { kind: "text", path, text: chartText(text) };
  },
});

export const openChart = (text: string, others: OtherCharts = {}): Document =>
  openDocument("chart.plagal", chartText(text), filesOf(others));

const pitched: readonly PitchedRow[] = ["lead", "right", "left", "bass"];

const noteText = (note: Note): string => `${pitchName(note.pitch)}${note.grace ? "~" : ""}`;

/** A slot's tones, lowest first; those held from before have a `_`, a grace note a `~` behind it. */
function slotText({ struck, held, rolled, pushed }: SlotEvent): string {
  const tones: { readonly midi: number; readonly text: string }[] = [];
  let grace = "";
  for (const note of struck) {
    if (note.grace) grace = noteText(note);
    else {
      tones.push({ midi: note.pitch.midi, text: grace + noteText(note) });
      grace = "";
    }
  }
  for (const note of held) tones.push({ midi: note.pitch.midi, text: `_${pitchName(note.pitch)}` });
  tones.sort((a, b) => a.midi - b.midi);
  return `${pushed ? "!" : ""}${rolled ? "~" : ""}${tones.map(({ text }) => text).join("+") || "-"}`;
}

const timed = (text: string, { at, length }: Pick<Note, "at" | "length">): string =>
  `${text}@${printFraction(at)}:${printFraction(length)}`;

interface Placed {
  readonly bar: number;
  readonly pickup: boolean;
  readonly text: string;
}

/** By bars; what stands in a pickup is in parentheses before its bar. */
function byBars(section: Section, items: readonly Placed[]): string {
  return section.bars
    .map(({ index }) => {
      const there = items.filter(({ bar }) => bar === index);
      const pickup = there.filter((it) => it.pickup).map(({ text }) => text);
      const inBar = there.filter((it) => !it.pickup).map(({ text }) => text);
      return [...(pickup.length > 0 ? [`(${pickup.join(" ")})`] : []), ...inBar].join(" ");
    })
    .join(" | ")
    .trim();
}

const chordText = (event: ChordEvent): string => chordSymbol(event.chord);

function markText(mark: Mark, section: Section): string {
  const text = sliceOf(section.source.text, mark.span);
  switch (mark.kind) {
    case "octave-sign":
    case "misplaced":
      return `${mark.kind} ${mark.kind === "octave-sign" ? mark.why : mark.where} ${text}`;
    case "repeat-differs":
      return `${mark.kind} ${text} ${mark.first} / ${mark.again}`;
    case "nothing-to-hold": {
      const nearby = mark.tone?.nearby ?? [];
      return `${mark.kind} ${text}${nearby.length > 0 ? ` (${nearby.map((it) => (it > 0 ? `+${it}` : it)).join(" ")})` : ""}`;
    }
    default:
      return `${mark.kind} ${text}`;
  }
}

/** Every line that can be asked about a section, by its name. */
function linesOf(section: Section): Map<string, string> {
  const lines = new Map<string, string>();
  const { start } = section;
  lines.set("key", `${nameOf(start.key.tonic)} ${start.key.mode}, 1 at ${start.one}`);
  lines.set(
    "keys",
    section.bars.map(({ home }) => `${nameOf(home.key.tonic)} ${home.key.mode} ${home.one}`).join(" | "),
  );
  lines.set("bars", section.bars.map(({ at, length }) => timed("", { at, length })).join(" "));
  lines.set("sounds", `tempo ${section.tempo ?? "unsaid"}, ${section.feel}`);
  lines.set(
    "chords",
    byBars(
      section,
      section.chords.map((it) => ({ ...it, bar: it.bar, pickup: it.pickup, text: chordText(it) })),
    ),
  );
  lines.set("chords@", section.chords.map((it) => timed(chordText(it), it)).join(" "));
  for (const row of pitched) {
    const { slots, notes } = section.rows[row];
    const sounding = slots.filter(({ kind }) => kind === "stack" || kind === "unread");
    lines.set(
      row,
      byBars(
        section,
        sounding.map((it) => ({
          bar: it.bar,
          pickup: it.pickup,
          text: it.kind === "unread" ? "?" : slotText(it),
        })),
      ),
    );
    lines.set(
      `${row}@`,
      notes
        .filter(({ grace }) => !grace)
        .map((it) => timed(pitchName(it.pitch), it))
        .join(" "),
    );
    lines.set(`${row} hand`, [...new Set(slots.map(({ hand }) => hand ?? "nobody"))].join(" "));
  }
  const wordsOf = (verse: number): string =>
    section.bars
      .map(({ words }) =>
        words
          .filter((word) => word.verse === verse)
          .map((word) => timed(word.text, word))
          .join(" "),
      )
      .join(" | ");
  for (const verse of [1, 2, 3]) lines.set(`words ${verse}`, wordsOf(verse));
  lines.set("cue", section.bars.map(({ cue }) => cue ?? "").join(" | "));
  return lines;
}

/** The bars in the order in which they sound: `Verse 1 2, Tag in Db +1 1`. A `<` stands before a bar whose pickup sounds. */
export function orderOf(chart: Chart): string {
  const parts: string[] = [];
  let last: { readonly section: PlacedSection; readonly verse: number } | undefined;
  for (const { section, bar, moved, verse, entered } of unfold(chart).bars) {
    if (last?.section !== section || last.verse !== verse) {
      const by = moved.halfSteps;
      const where = by === 0 ? "" : ` in ${nameOf(moved.key.tonic)} ${by > 0 ? "+" : ""}${by}`;
      parts.push(`${parts.length > 0 ? ", " : ""}${section.section.name || "-"}${where}`);
    }
    const isPickup = entered && (section.section.systems[bar.system]?.pickup.n ?? 0) > 0;
    parts.push(` ${isPickup ? "<" : ""}${bar.index + 1}`);
    last = { section, verse };
  }
  return parts.join("");
}

const plain = (line: string): string => line.trim().replace(/[ ]+/g, " ");
const isMark = (line: string): boolean => line.startsWith("!");
const marksLast = (lines: readonly string[]): string[] => [
  ...lines.filter((line) => !isMark(line)),
  ...lines.filter(isMark),
];

/**
 * Holds what a chart sounds against the lines that `expected` asks for, and everything that resolving marked:
 *
 *     Verse
 *     right: E3+G3 | (A3) _C4
 *     right@: E3@0:1/2
 *     ! no-chord 3
 *     order: Verse 1 2
 *
 * Without a name the first section is meant. `@` asks for each note's start and length in whole notes.
 */
export function expectSounds(text: string, expected: string, others: OtherCharts = {}): void {
  const { chart } = openChart(text, others);
  const wanted = chartText(expected)
    .split("\n")
    .map(plain)
    .filter((line) => line !== "");
  const got: string[] = [];
  let placed = chart.sections[0];
  const marks = (): string[] =>
    placed === undefined
      ? []
      : placed.section.marks.map((mark) => `! ${markText(mark, (placed as PlacedSection).section)}`);
  const close = (): void => {
    got.push(...marks());
  };
  for (const line of wanted) {
    if (line.startsWith("! ")) continue;
    const asked = /^([a-z]+(?: [a-z0-9]+)?@?):/.exec(line)?.[1];
    if (asked === undefined) {
      if (got.length > 0) close();
      placed = chart.sections.find(({ section }) => section.name === line);
      got.push(placed === undefined ? `no section ${line}` : line);
    } else if (asked === "order") got.push(`order: ${orderOf(chart)}`);
    else if (placed !== undefined) got.push(`${asked}: ${linesOf(placed.section).get(asked) ?? "?"}`.trim());
  }
  close();
  expect(marksLast(got.map(plain)).join("\n")).toBe(marksLast(wanted).join("\n"));
}
