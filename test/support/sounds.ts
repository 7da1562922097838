import type {
  Bar,
  Chart,
  ChordEvent,
  FormStep,
  Note,
  PlacedSection,
  SlotEvent,
} from "../../server/src/chart/model.js";
import { unfold } from "../../server/src/chart/unfold.js";
import type { PitchedRow } from "../../server/src/syntax/tree.js";
import { chordSymbol } from "../../server/src/theory/chord.js";
import type { Fraction } from "../../server/src/theory/fraction.js";
import { keyName, readKey } from "../../server/src/theory/key.js";
import { movePitch, pitchName } from "../../server/src/theory/pitch.js";

/**
 * The notation of the reference for what a chart sounds like:
 *
 *     Verse in Ab:
 *     chords       | Ab      | Db   |
 *     lead   D4 E4 | G4 - A4 | r C5 |
 *     right        | Ab3+C4  | ~Ab3+_C4 [1/2] |
 *     order  Verse 1 2, Tag 1
 *
 * A row says what each of its slots sounds, bar by bar; before the first bar line stands its pickup. A length in
 * brackets is judged only where it is written.
 */
export interface SoundsLine {
  /** Whose sound the line says: a section's name, and the key in which the form plays it. */
  readonly section: string | undefined;
  readonly key: string | undefined;
  readonly row: string;
  /** For each bar its items; the first is the pickup. Of `order` all words are in the first. */
  readonly bars: readonly (readonly string[])[];
}

const pitchedRows: ReadonlySet<string> = new Set(["lead", "right", "left", "bass"]);

/** The items of a bar: a length in brackets belongs to the item before it. */
const itemsOf = (text: string): string[] =>
  text
    .replace(/\s+\[/g, "[")
    .trim()
    .split(/\s+/)
    .filter((item) => item !== "");

/** Reads a block of that notation; throws where it isn't one. */
export function readSounds(block: string): SoundsLine[] {
  let section: string | undefined;
  let key: string | undefined;
  const lines: SoundsLine[] = [];
  for (const text of block.split("\n")) {
    if (text.trim() === "") continue;
    const heading = /^(.+?)(?: in ([A-G].*))?:$/.exec(text);
    if (heading !== null) {
      section = heading[1];
      key = heading[2];
      continue;
    }
    const found = /^(chords|lead|right|left|bass|words(?: [0-9])?|cue|order) (.*)$/.exec(text);
    if (found === null) throw new Error(`Not a line of sounds: ${text}`);
    const [, row = "", rest = ""] = found;
    const parts = row === "order" ? [rest] : rest.split("|");
    // What stands behind the last bar line is nothing.
    if (row !== "order" && parts.pop()?.trim() !== "") throw new Error(`A bar isn't closed: ${text}`);
    lines.push({ section, key, row, bars: parts.map(itemsOf) });
  }
  return lines;
}

/** What the chart sounds in that row, in the same form and with lengths where the line has them. */
export function soundsLike(chart: Chart, line: SoundsLine): readonly (readonly string[])[] {
  if (line.row === "order") return [itemsOf(orderOf(chart))];
  const { placed, moved } = whose(chart, line);
  const { section } = placed;
  const bars: string[][] = [[], ...section.bars.map(() => [])];
  const wantsLength = (bar: number, index: number): boolean =>
    line.bars[bar]?.[index]?.includes("[") === true;
  const add = (bar: number, item: string, length: Fraction | undefined): void => {
    const items = bars[bar] ?? [];
    items.push(
      item + (length !== undefined && wantsLength(bar, items.length) ? `[${lengthText(length)}]` : ""),
    );
  };
  const barOf = ({ bar, pickup }: { readonly bar: number; readonly pickup: boolean }): number =>
    pickup ? 0 : bar + 1;
  if (pitchedRows.has(line.row)) {
    const fifths = moved === undefined ? 0 : moved.key.tonic - section.start.key.tonic;
    const name = (note: Note): string => pitchName(movePitch(note.pitch, fifths, moved?.halfSteps ?? 0));
    for (const slot of section.rows[line.row as PitchedRow].slots) {
      add(barOf(slot), slotText(slot, name), slot.struck.find(({ grace }) => !grace)?.length);
    }
    // A row that its system lacks rests.
    bars.forEach((items, i) => {
      if (i > 0 && items.length === 0) items.push("r");
    });
  } else if (line.row === "chords") {
    for (const event of section.chords) {
      const by = moved === undefined ? 0 : moved.key.tonic - section.start.key.tonic;
      add(barOf(event), chordIn(event, by), event.length);
    }
    bars.forEach((items, i) => {
      if (i > 0 && items.length === 0) items.push("-");
    });
  } else {
    const verse = Number(/[0-9]/.exec(line.row)?.[0] ?? 1);
    section.bars.forEach((bar, i) => {
      const items = line.row === "cue" ? [bar.cue ?? ""] : wordsOf(bar, verse);
      for (const item of items) add(item.startsWith("<") ? 0 : i + 1, item.replace(/^</, ""), undefined);
    });
    return bars.map((items) => itemsOf(items.join(" ")));
  }
  return bars;
}

/** The syllables of a bar; those on its pickup have a `<` before them. */
const wordsOf = ({ words, at }: Bar, verse: number): string[] =>
  words
    .filter((word) => word.verse === verse)
    .map((word) => (word.at.n * at.d < at.n * word.at.d ? `<${word.text}` : word.text));

function whose(
  chart: Chart,
  { section: name, key }: SoundsLine,
): { placed: PlacedSection; moved: FormStep["moved"] | undefined } {
  const sections = chart.sections.filter((it) => name === undefined || it.section.name === name);
  const placed = sections[0];
  if (placed === undefined) throw new Error(`No section ${name}`);
  if (key === undefined) return { placed, moved: undefined };
  const wanted = keyName({ ...placed.section.start.key, tonic: readKey(key)?.tonic ?? Number.NaN });
  const played = unfold(chart).bars.find((it) => it.section === placed && keyName(it.moved.key) === wanted);
  if (played === undefined) throw new Error(`${name} is never played in ${key}`);
  return { placed, moved: played.moved };
}

const chordIn = ({ chord }: ChordEvent, by: number): string =>
  chordSymbol({
    ...chord,
    root: chord.root + by,
    bass: chord.bass === undefined ? undefined : chord.bass + by,
  });

const lengthText = ({ n, d }: Fraction): string => (d === 1 ? `${n}` : `${n}/${d}`);

function slotText({ kind, struck, held, rolled }: SlotEvent, name: (note: Note) => string): string {
  if (struck.length + held.length === 0) return kind === "unread" ? "?" : "r";
  if (kind === "hold") return "-";
  const graceOf = (note: Note): string => {
    const before = struck[struck.indexOf(note) - 1];
    return before?.grace === true ? `${name(before)}~` : "";
  };
  const tones = [
    ...struck.filter(({ grace }) => !grace).map((note) => ({ note, text: graceOf(note) + name(note) })),
    ...held.map((note) => ({ note, text: `_${name(note)}` })),
  ].sort((a, b) => a.note.pitch.midi - b.note.pitch.midi);
  return (rolled ? "~" : "") + tones.map(({ text }) => text).join("+");
}

/** The bars as they are played: each section's name, with its key where the form moves it, then its bars' numbers. */
function orderOf(chart: Chart): string {
  const parts: string[] = [];
  let last: { section: PlacedSection; verse: number } | undefined;
  for (const { section, bar, moved, verse } of unfold(chart).bars) {
    if (last?.section !== section || last.verse !== verse) {
      const { start, name } = section.section;
      const key = keyName(moved.key) === keyName(start.key) ? "" : ` in ${keyName(moved.key).split(" ")[0]}`;
      parts.push(`${parts.length > 0 ? ", " : ""}${name}${key}`);
    }
    parts.push(` ${bar.index + 1}`);
    last = { section, verse };
  }
  return parts.join("");
}

/** Both sides of a comparison, line by line, with spaces made alike. */
export const printSounds = (
  { row, section, key }: SoundsLine,
  bars: readonly (readonly string[])[],
): string => {
  const head = section === undefined ? "" : `${section}${key === undefined ? "" : ` in ${key}`}: `;
  if (row === "order") return `${head}${row} ${bars.flat().join(" ")}`;
  return `${head}${row} ${bars.map((items) => items.join(" ")).join(" | ")} |`;
};
