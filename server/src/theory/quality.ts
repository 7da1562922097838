import { parseQuality } from "./quality-grammar.js";
import { symbolOf } from "./quality-symbol.js";
import { keyAbove, type ToneNumber } from "./tone-number.js";

export type Third = "major" | "minor";
export type Fifth = "perfect" | "diminished" | "augmented";

/** What a chord symbol says after its root, with nothing left open. */
export interface Quality {
  /** Canonical, as it stands after a letter: `""`, `"m"`, `"7"`, `"maj7"`, `"m7b5"`, `"7sus"`. Never starts with an accidental. */
  readonly symbol: string;
  /** Ascending by number, then from flat to sharp. 9, 11 and 13 stay so; an added 2 is 2, a suspended fourth 4, a sixth 6. */
  readonly tones: readonly ToneNumber[];
}

/** A quality as written; the third may be left for the key to say, and on a plain chord the fifth too. */
export interface QualityReading {
  readonly text: string;
  /** No quality at all: the key supplies third and fifth. */
  readonly plain: boolean;
  /** `undefined` where the text leaves it unsaid, `"none"` where the chord has none (sus, 5, no3). */
  readonly third: Third | "none" | undefined;
  /** The chord with a major and with a minor third; the same value twice where the text decides. */
  readonly major: Quality;
  readonly minor: Quality;
}

/** A quality of these tones, sorted, without repetition, under its canonical symbol. */
export function qualityOf(tones: readonly ToneNumber[]): Quality {
  const sorted = [...tones].sort((a, b) => a.number - b.number || a.alter - b.alter);
  const once = sorted.filter(
    (n, index) => n.number !== sorted[index - 1]?.number || n.alter !== sorted[index - 1]?.alter,
  );
  return { symbol: symbolOf(once), tones: once };
}

const natural = (number: number): ToneNumber => ({ number, alter: 0 });

const triads: Readonly<Record<Third, Readonly<Record<Fifth, Quality>>>> = (() => {
  const triad = (third: number, fifth: number): Quality =>
    qualityOf([natural(1), { number: 3, alter: third }, { number: 5, alter: fifth }]);
  return {
    major: { perfect: triad(0, 0), diminished: triad(0, -1), augmented: triad(0, 1) },
    minor: { perfect: triad(-1, 0), diminished: triad(-1, -1), augmented: triad(-1, 1) },
  };
})();

/** The plain chord: no quality written. */
export const plainQuality: QualityReading = {
  text: "",
  plain: true,
  third: undefined,
  major: triads.major.perfect,
  minor: triads.minor.perfect,
};

function readAnew(text: string): QualityReading | undefined {
  const parsed = parseQuality(text);
  if (parsed === undefined) return undefined;
  const { third, tones } = parsed;
  const major = qualityOf(tones("major"));
  return { text, plain: false, third, major, minor: third === undefined ? qualityOf(tones("minor")) : major };
}

/** What was read last, by text: a chart repeats a few dozen qualities thousands of times. */
const known = new Map<string, QualityReading | undefined>();
const mostKnown = 1000;

/**
 * Reads what stands after a chord's root: `""` is the plain chord, `undefined` means unknown. Equal texts give the
 * same value. Disputed spellings are decided in `disputed.ts`.
 */
export function readQuality(text: string): QualityReading | undefined {
  if (text === "") return plainQuality;
  if (known.has(text)) return known.get(text);
  if (known.size >= mostKnown) known.clear();
  const reading = readAnew(text);
  known.set(text, reading);
  return reading;
}

/** Whether the key has a say: a plain chord, or one that leaves its third unsaid. */
export const needsKey = (reading: QualityReading): boolean => reading.third === undefined;

/** The whole chord, with the third and (of a plain chord only) the fifth that the key or the letter supplies. */
export function complete(reading: QualityReading, third: Third, fifth: Fifth): Quality {
  if (reading.plain) return triads[third][fifth];
  return third === "major" ? reading.major : reading.minor;
}

/** The tones that decide a chord's kind: the third, and the seventh that the symbol promises. */
export function guideTones(quality: Quality): ToneNumber[] {
  return quality.tones.filter((n) => n.number === 3 || n.number === 7);
}

/**
 * Whether a tone contradicts the symbol, judged by keys. True for the other third under a said third (a flat third
 * written as 3 over major only where no seventh makes it a #9) and a major third under a suspension; for the
 * natural 5, 9, 11 or 13 where the symbol has only altered ones; and for the other seventh. Never for a tone of the
 * chord, a tension or anything else that players add.
 */
export function contradicts(quality: Quality, n: ToneNumber): boolean {
  const known = judged.get(quality) ?? new Map<number, boolean>();
  judged.set(quality, known);
  // Signs go no further than a few, so this is one number for each tone number.
  const name = n.number * 32 + n.alter;
  let answer = known.get(name);
  if (answer === undefined) {
    answer = judge(quality, n);
    known.set(name, answer);
  }
  return answer;
}

/** Equal symbols share their quality, and a chart asks for the same few tones again and again. */
const judged = new WeakMap<Quality, Map<number, boolean>>();

function judge(quality: Quality, n: ToneNumber): boolean {
  if (n.number === 0) return false;
  const key = keyAbove(n);
  const { tones } = quality;
  if (tones.some((tone) => keyAbove(tone) === key)) return false;
  const of = (number: number): readonly ToneNumber[] => tones.filter((tone) => tone.number === number);
  const third = of(3)[0];
  const seventh = of(7)[0];
  if (key === 4 && third === undefined && (of(4).length > 0 || of(2).length > 0)) return true;
  if (key === 4 && third?.alter === -1) return true;
  if (n.number === 3 && key === 3 && third?.alter === 0 && seventh?.alter !== -1) return true;
  if (key === 11 && seventh?.alter === -1) return true;
  if (key === 10 && n.number === 7 && seventh !== undefined) return true;
  const naturals = new Map([
    [7, 5],
    [2, 9],
    [5, 11],
    [9, 13],
  ]);
  const number = naturals.get(key);
  return number !== undefined && of(number).length > 0;
}
