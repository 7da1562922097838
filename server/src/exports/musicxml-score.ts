import { rowIn } from "../chart/layout.js";
import type { Chart } from "../chart/model.js";
import type { PitchedRow } from "../syntax/tree.js";
import { visible } from "../text/visible.js";
import { compare, type Fraction, isEqual, minus, plus, zero } from "../theory/fraction.js";
import type { Beats } from "./bent-time.js";
import { type ChordMark, chordMarks, slashItems } from "./musicxml-chords.js";
import { words } from "./musicxml-directions.js";
import { type BarFrame, framesOf } from "./musicxml-frames.js";
import { letterHarmony, noHarmony, numberHarmony } from "./musicxml-harmony.js";
import type { BarMark, Lyric } from "./musicxml-note.js";
import { slotPlaces, type VoiceBar, type VoiceItem, voiceBars, voiceItems } from "./musicxml-voice.js";
import type { SungWord } from "./performance.js";
import { playChords } from "./play-chords.js";
import { playRow } from "./play-row.js";
import { sungWords } from "./sung-words.js";
import { type TimedBar, timeline } from "./timeline.js";

/** A part of the score, bar by bar as it is played. */
export interface ScorePart {
  readonly name: string;
  /** One voice for each staff, from above. */
  readonly voices: readonly (readonly VoiceBar[])[];
  readonly clefs: readonly ("G" | "F")[];
  readonly lyrics: readonly (readonly Lyric[])[];
  /** What stands over and under the top part: chords, cues, words without a melody. */
  readonly marks: readonly (readonly BarMark[])[];
}

export interface Score {
  readonly frames: readonly BarFrame[];
  readonly parts: readonly ScorePart[];
  /** Whether more than one tone is rolled under this name. */
  readonly isRolled: (roll: string) => boolean;
  /** What stands over the top part, in order. */
  readonly chords: readonly ChordMark[];
}

/** On paper every beat is even; its feel is said in a word. */
const even: Beats = () => (point) => point;

const noMarks: readonly (readonly never[])[] = [];

/** The chart as a score: what each row sounds, bar by bar, in the order of the form. */
export function scoreOf(chart: Chart, vampTimes: number): Score & { readonly cut: boolean } {
  const { bars, cut } = timeline(chart, vampTimes);
  const score = scoreOfBars(bars, {
    framesFrom: (first) => framesOf(bars, first),
    verses: [sungWords(bars, even)],
    printChord: chordPrinter(),
  });
  return { ...score, cut };
}

/** How bars are printed. */
export interface ScoreOptions {
  /** The printed bars; `first` is the earliest thing that sounds. */
  readonly framesFrom: (first: Fraction | undefined) => readonly BarFrame[];
  /** The words that stand under each other. */
  readonly verses: readonly (readonly SungWord[])[];
  readonly printChord: (mark: ChordMark, place: string) => string;
}

/** Bars in their time as a score. */
export function scoreOfBars(
  bars: readonly TimedBar[],
  { framesFrom, verses, printChord }: ScoreOptions,
): Score {
  const rolls = new Map<string, number>();
  const itemsOf = (row: PitchedRow): readonly VoiceItem[] => {
    const items = voiceItems(playRow(row, bars, even));
    for (const { roll } of items) if (roll !== undefined) rolls.set(roll, (rolls.get(roll) ?? 0) + 1);
    return items;
  };
  const [lead, right, left, bass] = [itemsOf("lead"), itemsOf("right"), itemsOf("left"), itemsOf("bass")];
  const chords = playChords(bars, even);
  const starts = [lead, right, left, bass, chords, ...verses].flatMap(([first]) =>
    first === undefined ? [] : [first.at],
  );
  const frames = framesFrom([...starts].sort(compare)[0]);
  const last = frames[frames.length - 1];
  const end = last === undefined ? zero : plus(last.at, last.length);

  const voice = (row: PitchedRow, items: readonly VoiceItem[]): readonly VoiceBar[] =>
    voiceBars(items, slotPlaces(row, bars), frames);
  const has = (row: PitchedRow): boolean => isThere(row, bars);
  const hasHands = has("right") || has("left");
  const leadBars = has("lead") ? voice("lead", lead) : undefined;
  const { lyrics, unsung } = sung(verses, leadBars, frames);
  const names = chordMarks(chords, bars, end);
  const marks = marksOf(names, unsung, frames, printChord);
  const parts: ScorePart[] = [];
  const add = (part: Omit<ScorePart, "marks">): void => {
    parts.push({ ...part, marks: parts.length === 0 ? marks : noMarks });
  };
  if (leadBars !== undefined) add({ name: "Lead", voices: [leadBars], clefs: ["G"], lyrics });
  if (hasHands || leadBars === undefined) {
    const slashes = slashItems(chords, right);
    const upper = [...right, ...slashes].sort((a, b) => compare(a.at, b.at));
    const voices = [voice("right", upper), ...(hasHands ? [voice("left", left)] : [])];
    add({ name: "Piano", voices, clefs: hasHands ? ["G", "F"] : ["G"], lyrics: noMarks });
  }
  if (has("bass")) add({ name: "Bass", voices: [voice("bass", bass)], clefs: ["F"], lyrics: noMarks });
  return { frames, parts, isRolled: (roll) => (rolls.get(roll) ?? 0) > 1, chords: names };
}

function isThere(row: PitchedRow, bars: readonly TimedBar[]): boolean {
  const seen = new Set<object>();
  return bars.some(({ played: { section, bar } }) => {
    const system = section.section.systems[bar.system];
    if (system === undefined || seen.has(system)) return false;
    seen.add(system);
    return rowIn(system, row) !== undefined;
  });
}

/** Each in the bar that it falls into; what is in order stays so. */
function byFrame<T extends { readonly at: Fraction }>(
  all: readonly T[],
  frames: readonly BarFrame[],
): readonly (readonly T[])[] {
  let next = 0;
  return frames.map(({ at, length }) => {
    const end = plus(at, length);
    const here: T[] = [];
    for (let it = all[next]; it !== undefined && compare(it.at, end) < 0; it = all[++next])
      if (compare(it.at, at) >= 0) here.push(it);
    return here;
  });
}

interface Sung {
  readonly lyrics: readonly (readonly Lyric[])[];
  readonly unsung: readonly (readonly BarMark[])[];
}

/** The words under the notes of the lead, and those that stand under none. */
function sung(
  verses: readonly (readonly SungWord[])[],
  lead: readonly VoiceBar[] | undefined,
  frames: readonly BarFrame[],
): Sung {
  const all = verses.map((words, i) => sungIn(i + 1, words, lead, frames));
  return {
    lyrics: frames.map((_, frame) => all.flatMap(({ lyrics }) => lyrics[frame] ?? [])),
    unsung: frames.map((_, frame) => all.flatMap(({ unsung }) => unsung[frame] ?? [])),
  };
}

function sungIn(
  verse: number,
  all: readonly SungWord[],
  lead: readonly VoiceBar[] | undefined,
  frames: readonly BarFrame[],
): Sung {
  let goesOn = false;
  const lyrics: Lyric[][] = [];
  const unsung: BarMark[][] = [];
  byFrame(all, frames).forEach((here, frame) => {
    const under: Lyric[] = [];
    const apart: BarMark[] = [];
    for (const word of here) {
      const at = minus(word.at, (frames[frame] as BarFrame).at);
      const note = lead?.[frame]?.segments
        .find((segment) => isEqual(segment.at, at))
        ?.tones.find(({ tiedFrom }) => !tiedFrom)?.item;
      if (note === undefined) {
        apart.push({ at, print: (place) => words(word.text, "below", place) });
        continue;
      }
      const before = under[under.length - 1];
      if (before !== undefined && isEqual(before.at, at)) {
        // Words for the whole bar, whose start the lead's pickup covers with one of its own.
        under.pop();
        apart.push({ at, print: (place) => words(before.text, "below", place) });
      }
      const parted = word.text.endsWith("-") && word.text !== "-";
      under.push({
        verse,
        at,
        syllabic: goesOn ? (parted ? "middle" : "end") : parted ? "begin" : "single",
        text: visible(parted ? word.text.slice(0, -1) : word.text),
        extends: !parted && compare(word.length, minus(note.end, note.at)) > 0,
      });
      goesOn = parted;
    }
    lyrics.push(under);
    unsung.push(apart);
  });
  return { lyrics, unsung };
}

function marksOf(
  chords: readonly ChordMark[],
  unsung: readonly (readonly BarMark[])[],
  frames: readonly BarFrame[],
  printChord: ScoreOptions["printChord"],
): readonly (readonly BarMark[])[] {
  return byFrame(chords, frames).map((here, frame) => {
    const { at: start, bar, upbeat } = frames[frame] as BarFrame;
    const { cue } = bar.played.bar;
    const marks: BarMark[] = [];
    if (cue !== undefined && !upbeat)
      marks.push({ at: zero, print: (place) => words(cue, "above", place, "italic") });
    marks.push(...(unsung[frame] ?? []));
    for (const mark of here)
      marks.push({ at: minus(mark.at, start), print: (place) => printChord(mark, place) });
    return marks.sort((a, b) => compare(a.at, b.at));
  });
}

/** A chord is printed hundreds of times: all but its place is made once. */
function chordPrinter(): (mark: ChordMark, place: string) => string {
  const known = new Map<string, string>();
  return (mark, place) => {
    if (mark.kind === "silence")
      return (mark.noChord ? words("N.C.", "above", place) : "") + noHarmony(place);
    const { chord, key, isNumber } = mark;
    const name = `${chord.root} ${chord.quality.symbol}/${chord.bass} ${key.tonic} ${key.mode} ${isNumber}`;
    let text = known.get(name);
    if (text === undefined) {
      text = letterHarmony(chord, here) + (isNumber ? numberHarmony(chord, key, here) : "");
      known.set(name, text);
    }
    return text.replaceAll(here, place);
  };
}

/** Where the place of a chord goes; no XML has it. */
const here = "\u0000";
