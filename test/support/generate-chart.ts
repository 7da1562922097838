import fc from "fast-check";
import type { Files } from "../../server/src/document/document.js";
import type { PitchedRow, RowName } from "../../server/src/syntax/tree.js";
import { type ModeName, modeNames, practicalKeys } from "../../server/src/theory/key.js";
import { nameOf } from "../../server/src/theory/note-name.js";
import { anyLine } from "./lines-arbitrary.js";

/** What a generated chart may hold beside the plain. */
export interface ChartOptions {
  /** Accidentals as signs and as letters in one chart; else letters alone, as a move writes them. */
  readonly mixedSigns?: boolean;
  /** Key lines inside sections, `in KEY`, `up half` and their kin. */
  readonly furtherKeys?: boolean;
  /** `(original …)` behind the first key. */
  readonly original?: boolean;
  /** Chords and hands in numbers, in letters or in a mix. */
  readonly notation?: "numbers" | "letters" | "mixed";
}

/** The chart that generated charts may `use`. */
const tags = `key Eb
time 4/4
feel swing
section Turnaround
lands 1
chords | 4maj7 /5 | 5:9sus Bb7/D |
right from C4 | 3+5+7 Bb4+D | 4+b7+9 3+b7 |
left   | 1+5 0 | 1 0 |
section Amen
play Turnaround in F
key Ab
chords | 4/1 | 1 |
right  | 5+1 | ~3+5 |
`;
export const usedFiles: Files = {
  find: (_from, path) => (path === "tags.plagal" ? { kind: "text", path, text: tags } : { kind: "missing" }),
};
const usedNames = ["Turnaround", "Amen"];

/**
 * Choices read off a tape of numbers. Where the tape ends the first, plainest choice is taken, so shrinking the
 * tape gives a plainer chart.
 */
interface Dice {
  readonly pick: <T>(items: readonly T[]) => T;
  /** True once in so many times. */
  readonly once: (in_: number) => boolean;
  /** From `least` to `most`, plainest `least`. */
  readonly count: (least: number, most: number) => number;
}

function diceOf(tape: readonly number[]): Dice {
  let at = 0;
  const next = (): number => tape[at++] ?? 0;
  return {
    pick: (items) => items[next() % items.length] as (typeof items)[number],
    once: (times) => next() % times === times - 1,
    count: (least, most) => least + (next() % (most - least + 1)),
  };
}

const words = (text: string): readonly string[] => text.split(" ");

const rowOrder: readonly RowName[] = ["chords", "lead", "right", "left", "bass", "words", "cue"];
const titles = ["Harbour Evening", "Slow Water ♭", "Té 😀 and salt", "A; B"];
const sectionNames = words("Verse Tag Last_Verse Bridge x9 Ä").map((name) => name.replace("_", " "));
/** Every spelling of the language, the plainest first. */
const qualities = words(
  "- 7 m maj7 m7 sus 7sus M7 Δ min7 -7 m7b5 ø dim dim7 °7 aug + sus2 sus4 9sus 13sus 6 69 m6 add2 add9 add4 no3 no5 5 alt " +
    "m(maj7) 7(#9,b13) 7#5#9 maj9#11 9 11 13 m9 m11 13#11 7b9 6/9 maj 7(b9) m(add9) b9",
).map((it) => (it === "-" ? "" : it));
const numberTones = words("1 3 5 b7 7 9 b3 4 6 11 13 #11 b13 b9 #9 2 8 10 b5 #5 bb7 #4 b6");
const syllables = words("light sea Har-bour slow _ riv- er é 😀 and-so-on - (oh)");
const cues = words("hold slower soft cut when the speaker stops ♭ % =");
const modeSpellings: Readonly<Partial<Record<ModeName, readonly string[]>>> = {
  major: [" major", "", " maj", " M", "M", " Major"],
  minor: [" minor", "m", " m", " min", " Minor"],
};
const longMoves = ["up half", "up whole", "down half", "down whole"];

interface Chart {
  readonly dice: Dice;
  readonly options: Required<ChartOptions>;
  readonly mode: ModeName;
  readonly meter: { readonly beats: number; readonly unit: number };
}

/** An accidental sign in the chart's style. */
function signs(text: string, { dice, options }: Pick<Chart, "dice" | "options">): string {
  if (!options.mixedSigns || !/[b#]/.test(text) || !dice.once(3)) return text;
  return text.replace(/#/g, "♯").replace(/b/g, "♭");
}

const letterIn = (chart: Chart): string =>
  signs(chart.dice.pick(words("C G F D A Bb E Eb B Ab F# Db C# Gb G# Cb Fb E# B# Bbb Fx")), chart);

function keyIn({ dice, options }: Pick<Chart, "dice" | "options">, mode: ModeName): string {
  const tonics = [...practicalKeys(mode).map(({ tonic }) => nameOf(tonic)), "F#", "Gb"].filter(
    (name) => mode === "major" || !["Gb"].includes(name),
  );
  const spelling = dice.pick(
    modeSpellings[mode] ?? [` ${mode}`, ` ${mode[0]?.toUpperCase()}${mode.slice(1)}`],
  );
  return signs(dice.pick(tonics), { dice, options }) + spelling;
}

function chordIn(chart: Chart): string {
  const { dice, options } = chart;
  const isLetter = options.notation === "letters" || (options.notation === "mixed" && dice.once(3));
  const quality = dice.pick(qualities);
  const degree = (): string => signs(dice.pick(words("1 4 5 2 6 3 7 b7 b3 #4 b2 b6 #1")), chart);
  const root = isLetter ? letterIn(chart) : degree();
  const bass = !dice.once(4) ? "" : `/${isLetter ? letterIn(chart) : degree()}`;
  if (isLetter) {
    const needsColon = /^[b#]/.test(quality);
    return root + (needsColon || (quality !== "" && dice.once(6)) ? ":" : "") + signs(quality, chart) + bass;
  }
  const wantsColon = /^[0-9b#]/.test(quality);
  const isRunTogether = /^(?:6|7|9|11|13|69|b9)$/.test(quality) && dice.once(6);
  return root + (wantsColon && !isRunTogether ? ":" : "") + signs(quality, chart) + bass;
}

/** What a pitched row may write now. */
interface RowState {
  readonly row: PitchedRow;
  /** A chord sounds, so numbers may count from it. */
  readonly hasChord: boolean;
  readonly mayPush: boolean;
  /** The row has sounded in this section. */
  hasSounded: boolean;
  /** The last stack's lowest tone, for a `_`. */
  lowest: string | undefined;
}

function nameIn(chart: Chart, { row, hasChord }: RowState, exact: boolean): string {
  const { dice, options } = chart;
  const isLetter = options.notation === "letters" || (options.notation === "mixed" && dice.once(4));
  if (isLetter) {
    const octave = row === "left" || row === "bass" ? dice.pick(["2", "1", "3"]) : dice.pick(["4", "3", "5"]);
    return letterIn(chart) + (exact && dice.once(3) ? octave : "");
  }
  const byKey = row === "lead" || row === "bass";
  const number = dice.pick(numberTones);
  if (hasChord && dice.once(8)) return "0";
  const counts = byKey ? (hasChord && dice.once(8) ? "c" : "") : !hasChord || dice.once(8) ? "k" : "";
  return counts + signs(number, chart);
}

function stackIn(chart: Chart, state: RowState, inSigned: boolean): string {
  const { dice } = chart;
  const size = state.row === "lead" || state.row === "bass" ? dice.count(1, 2) : dice.count(1, 4);
  const tones: string[] = [];
  for (let i = 0; i < size; i++) {
    const isLowest = i === 0;
    if (isLowest && state.lowest !== undefined && dice.once(5)) {
      tones.push(`_${state.lowest}`);
      continue;
    }
    const name = nameIn(chart, state, !(isLowest && inSigned));
    const isExact = /^[A-G].*[0-9]$/.test(name);
    const octaves = isExact || !dice.once(6) ? "" : isLowest ? dice.pick([">", "<", ">>", "<<"]) : ">";
    const grace =
      dice.once(10) && !/^[kc0]/.test(name) ? `${nameIn(chart, state, false).replace(/^[kc]/, "")}~` : "";
    if (isLowest) state.lowest = octaves + name;
    tones.push(grace + octaves + name);
  }
  const pushed = state.mayPush && dice.once(8) ? "!" : "";
  const rolled = dice.once(8) ? "~" : "";
  state.hasSounded = true;
  return pushed + rolled + tones.join("+");
}

function spaceIn({ dice }: Pick<Chart, "dice">): string {
  return dice.pick([" ", " ", "  ", "   ", "\t", " \t "]);
}

/** The slots of one bar, of a pickup or of a group. */
function slotsIn(chart: Chart, state: RowState, size: number, depth: number, signed: boolean): string {
  const { dice } = chart;
  const slots: string[] = [];
  /** What a `=` here would repeat. */
  let target: "nothing" | "stack" | "rest" = depth > 0 ? "rest" : "nothing";
  for (let i = 0; i < size; i++) {
    const kind = dice.pick(["stack", "stack", "stack", "hold", "again", "rest", "group", "stack"]);
    if (kind === "hold" && (i > 0 || state.hasSounded)) slots.push("-");
    else if (kind === "again" && target === "stack") slots.push("=");
    else if (kind === "rest") {
      slots.push(dice.pick(["r", "r", "NC"]));
      state.lowest = undefined;
      target = "rest";
    } else if (kind === "group" && depth < 3) {
      const octaves = dice.pick(["", "", ">", "<", ">>"]);
      const inside = slotsIn(chart, state, dice.count(2, 3), depth + 1, signed || octaves !== "");
      const pad = dice.pick(["", " "]);
      slots.push(`${octaves}(${pad}${inside}${pad})`);
      state.lowest = undefined;
      target = inside.endsWith("r") || inside.endsWith("NC") ? "rest" : "nothing";
    } else {
      slots.push(stackIn(chart, state, signed));
      target = "stack";
    }
  }
  return slots.join(spaceIn(chart));
}

function chordSlots(chart: Chart, size: number, isFirst: boolean, depth: number): string {
  const { dice } = chart;
  const slots: string[] = [];
  for (let i = 0; i < size; i++) {
    const kind = dice.pick(["chord", "chord", "chord", "hold", "bass", "rest", "group", "none"]);
    const isStart = isFirst && i === 0;
    if (kind === "hold" && !isStart) slots.push(dice.pick(["/", "-", "//"]));
    else if (kind === "bass" && !isStart) {
      slots.push(dice.pick([`/${dice.pick(words("7 5 3 b7 1"))}`, `/${letterIn(chart)}`]));
    } else if (kind === "rest" && !isStart && dice.once(3)) slots.push("r");
    else if (kind === "none" && !isStart && dice.once(4)) slots.push("NC");
    else if (kind === "group" && depth < 3 && dice.once(2)) {
      slots.push(`(${chordSlots(chart, 2, isStart, depth + 1)})`);
    } else slots.push(chordIn(chart));
  }
  return slots.join(spaceIn(chart));
}

type BarLines = readonly { readonly open: string; readonly close: string }[];

/** The bar lines of a system with its repeats: `open` is written after the line before its bar, as an ending is. */
function barLinesIn({ dice }: Chart, bars: number): BarLines {
  const lines = Array.from({ length: bars }, () => ({ open: "", close: "|" }));
  const set = (bar: number, change: { open?: string; close?: string }): void => {
    lines[bar] = { ...(lines[bar] as { open: string; close: string }), ...change };
  };
  const times = dice.pick(["", "", "x3", " x2"]);
  switch (dice.pick(["none", "none", "repeat", "endings", "double", "back"])) {
    case "repeat":
      set(0, { open: ":" });
      set(bars - 1, { close: `:|${times}` });
      break;
    case "endings":
      if (bars < 3) break;
      set(0, { open: ":" });
      set(1, { open: " 1." });
      set(bars - 2, { close: `:|${times}` });
      set(bars - 1, { open: " 2." });
      break;
    case "double":
      set(bars - 1, { close: "||" });
      break;
    case "back":
      set(bars - 1, { close: ":|" });
      break;
  }
  return lines;
}

interface SectionState {
  readonly hasLands: boolean;
  /** Pitched rows that have sounded, and all rows that have been written. */
  readonly sounded: Set<RowName>;
  readonly written: Set<RowName>;
  hasChord: boolean;
}

function rowIn(
  chart: Chart,
  section: SectionState,
  row: RowName,
  lines: BarLines,
  isTop: boolean,
  hasChords: boolean,
): string {
  const { dice, meter } = chart;
  const state: RowState | undefined =
    row === "chords" || row === "words" || row === "cue"
      ? undefined
      : {
          row,
          hasChord: hasChords,
          mayPush: section.hasLands && hasChords,
          hasSounded: section.sounded.has(row),
          lowest: undefined,
        };
  const content = (size: number, isFirst: boolean): string => {
    if (state !== undefined) return slotsIn(chart, state, size, 0, false);
    if (row === "chords") return chordSlots(chart, size, isFirst, 0);
    return Array.from({ length: size }, () => dice.pick(row === "words" ? syllables : cues)).join(" ");
  };
  const low = row === "left" || row === "bass";
  const from =
    state !== undefined && dice.once(8) ? ` from ${letterIn(chart)}${low ? dice.pick(["2", "1"]) : "4"}` : "";
  let isFirst = row === "chords" && !section.hasChord;
  const pickup = row !== "cue" && !isFirst && dice.once(6) ? ` ${content(dice.count(1, 2), false)}` : "";
  let text = `${row}${from}${pickup}${spaceIn(chart)}|`;
  // Repeats stand in the first row; the same signs in another are accepted.
  const repeats = isTop || dice.once(2);
  lines.forEach(({ open, close }, i) => {
    const even = meter.beats % 3 === 0 ? [1, 3, 3] : [1, 2, 4];
    const shape = dice.pick(["slots", "slots", "slots", "slots", "same", "empty"]);
    const canRepeat = i > 0 || section.written.has(row);
    let bar = "";
    if (shape === "same" && canRepeat && row !== "words") bar = "%";
    else if (shape === "empty" && !isFirst) bar = "";
    else bar = content(dice.once(20) ? 5 : dice.pick(even), isFirst);
    isFirst = false;
    text += `${repeats ? open : ""}${spaceIn(chart)}${bar}${bar === "" ? "" : spaceIn(chart)}`;
    const isLast = i === lines.length - 1;
    text += isLast && !repeats && dice.once(6) ? "" : repeats ? close : "|";
  });
  if (state?.hasSounded === true) section.sounded.add(row);
  section.written.add(row);
  if (row === "chords") section.hasChord = true;
  if (dice.once(8)) text += "  ; as it comes";
  return dice.once(10) ? `  ${text}` : text;
}

function systemIn(chart: Chart, section: SectionState): string[] {
  const { dice } = chart;
  const bars = dice.count(1, 4);
  const barLines = barLinesIn(chart, bars);
  const hasChords = !dice.once(6);
  const rows = rowOrder.filter((row) => (row === "chords" ? hasChords : dice.once(row === "right" ? 1 : 2)));
  const lines: string[] = [];
  rows.forEach((row, i) => {
    lines.push(rowIn(chart, section, row, barLines, i === 0, hasChords));
    if (row === "words" && dice.once(3)) lines.push(rowIn(chart, section, row, barLines, false, hasChords));
    if (dice.once(12)) lines.push("; between the rows");
  });
  return lines;
}

function itemIn(chart: Chart, name: string): string {
  const { dice, options, mode } = chart;
  const isPlain = !/[ "]/.test(name) && !/^(?:x[0-9]+|in|up|down)$/.test(name);
  const moves: string[] = [];
  if (dice.once(4)) moves.push(dice.pick(["x2", "x3"]));
  if (options.furtherKeys && dice.once(3)) {
    const tonic = keyIn(chart, mode).replace(/(?: ?[A-Za-z]+)$/, (said) => (/^[A-G]/.test(said) ? said : ""));
    moves.push(dice.pick([...longMoves, `in ${/^[A-G][b#♭♯]*/u.exec(tonic)?.[0] ?? "C"}`]));
  }
  return [isPlain && !dice.once(4) ? name : `"${name}"`, ...moves].join(" ");
}

function furtherLine(chart: Chart, meter: string): string {
  const { dice, options, mode } = chart;
  const further = dice.pick(["tempo", "feel", "time", "key"]);
  if (further === "key" && options.furtherKeys) return `key ${keyIn(chart, dice.pick([mode, ...modeNames]))}`;
  if (further === "time") return `time ${meter}`;
  if (further === "feel") return `feel ${dice.pick(["swing", "shuffle", "straight"])}`;
  return `tempo ${dice.count(50, 160)}`;
}

/** One chart, written from a tape. */
export function writeChart(tape: readonly number[], given: ChartOptions = {}): string {
  const dice = diceOf(tape);
  const options: Required<ChartOptions> = {
    mixedSigns: true,
    furtherKeys: true,
    original: true,
    notation: "mixed",
    ...given,
  };
  const mode = dice.pick<ModeName>(["major", "major", "minor", ...modeNames]);
  const time = dice.pick(["4/4", "4/4", "3/4", "6/8", "12/8", "2/2", "5/4"]);
  const [beats = 4, unit = 4] = time.split("/").map(Number);
  const chart: Chart = { dice, options, mode, meter: { beats, unit } };
  const header: string[] = [];
  if (dice.once(2)) header.push(`title   ${dice.pick(titles)}`);
  if (dice.once(4)) header.push("by  a made-up band ; of friends", "note play it slowly");
  if (!dice.once(8)) {
    const original =
      options.original && dice.once(4)
        ? ` (original ${keyIn(chart, mode).replace(/^([A-G][b#♭♯]*).*$/u, "$1")})`
        : "";
    header.push(`key     ${keyIn(chart, mode)}${original}`);
  }
  if (time !== "4/4" || dice.once(3)) header.push(`time ${time}`);
  if (dice.once(2)) header.push(`tempo ${dice.count(50, 160)}`);
  if (dice.once(3)) header.push(`feel ${dice.pick(["straight", "swing", "shuffle"])}`);
  if (dice.once(3)) header.push(dice.pick(["reach 9", "reach left 9 right 10", "reach right 8"]));
  const uses = dice.once(4);
  if (uses) header.push('use "tags.plagal"');
  const names = sectionNames.slice(0, dice.count(1, 4));
  const form: string[] = [];
  if (dice.once(2)) {
    const known = uses ? [...names, ...usedNames] : names;
    for (let i = dice.count(1, 2); i > 0; i--) {
      form.push(
        `form ${Array.from({ length: dice.count(1, 4) }, () => itemIn(chart, dice.pick(known))).join(" ")}`,
      );
    }
  }
  const formFirst = dice.once(2);
  if (formFirst) header.push(...form);
  const lines = [...header, ""];
  names.forEach((name, index) => {
    if (index > 0 || !dice.once(6)) lines.push(dice.pick([`section ${name}`, `section "${name}"`]));
    const hasLands = dice.once(2);
    if (hasLands) lines.push(`lands ${dice.pick(words("1 4 6 b7 5"))}`);
    if (dice.once(6)) lines.push("vamp");
    const section: SectionState = { hasLands, sounded: new Set(), written: new Set(), hasChord: false };
    const playable = [...names.slice(0, index), ...(uses ? usedNames : [])];
    for (let i = dice.count(1, 3); i > 0; i--) {
      if (dice.once(3)) lines.push(furtherLine(chart, time));
      if (playable.length > 0 && dice.once(5)) lines.push(`play ${itemIn(chart, dice.pick(playable))}`);
      lines.push(...systemIn(chart, section));
      lines.push(...dice.pick([[""], ["", ""], [], ["  "], ["; a word"]]));
    }
  });
  if (!formFirst) lines.push(...form);
  const lineEnd = dice.pick(["\n", "\n", "\r\n"]);
  return lines.map((line) => line + lineEnd).join("") + (dice.once(4) ? "; the end" : "");
}

const tape = fc.array(fc.nat({ max: 0xffff }), { maxLength: 2000, size: "max" });

/** Charts that use every construct of the language, sound by construction as far as one can say beforehand. */
export const anyChart = (options: ChartOptions = {}): fc.Arbitrary<string> =>
  tape.map((numbers) => writeChart(numbers, options));

const breakers = [
  ..."|:; \t\r()<>+~!_-=%rx12.b♭#C\"'é😀\u0000\uFEFF",
  ...words("chords right left key section form play use from (( )) |: :| 1. 2. x0 x1000000 __proto__ 0/0"),
  "\n",
  "\r\n",
  "section ",
  "form ",
];

/** Charts with the language's own pieces strewn in, lines shuffled, cut and doubled. */
export const hostileText: fc.Arbitrary<string> = fc
  .tuple(
    anyChart(),
    fc.array(anyLine, { maxLength: 6 }),
    fc.array(fc.tuple(fc.nat(), fc.nat({ max: 12 }), fc.constantFrom(...breakers)), { maxLength: 12 }),
    fc.array(fc.tuple(fc.nat(), fc.nat()), { maxLength: 6 }),
  )
  .map(([chart, more, breaks, swaps]) => {
    const lines = [...chart.split("\n"), ...more];
    for (const [a, b] of swaps) {
      const [i, k] = [a % lines.length, b % lines.length];
      [lines[i], lines[k]] = [lines[k] as string, lines[i] as string];
    }
    return breaks.reduce((text, [at, length, piece]) => {
      const from = at % (text.length + 1);
      return text.slice(0, from) + piece + text.slice(from + length);
    }, lines.join("\n"));
  });
