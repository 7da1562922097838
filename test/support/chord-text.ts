import { readChord } from "../../server/src/theory/chord.js";
import { complete, type Quality, readQuality } from "../../server/src/theory/quality.js";
import { keyAbove, printNumber, type ToneNumber } from "../../server/src/theory/tone-number.js";

/** The quality that a text means after a letter root; `undefined` where it is unknown. */
export function overLetter(text: string): Quality | undefined {
  const reading = readQuality(text);
  return reading === undefined ? undefined : complete(reading, "major", "perfect");
}

/** A quality's tones in one line: `"1 b3 5"`. `"unknown"` stands for none. */
export const tonesOf = (quality: Quality | undefined): string =>
  quality === undefined ? "unknown" : quality.tones.map(printNumber).join(" ");

/** The keys of tones within the octave, ascending: `"0 3 7"`. */
export const keysOf = (tones: readonly ToneNumber[]): string =>
  [...new Set(tones.map(keyAbove))].sort((a, b) => a - b).join(" ");

/** A chord that the test's own text must spell right. */
export function chord(text: string): NonNullable<ReturnType<typeof readChord>> {
  const read = readChord(text);
  if (read === undefined) throw new Error(`No chord: ${text}`);
  return read;
}

/**
 * Every quality that words, a main number, alterations and a last word reach together, by its symbol. Left out are
 * the combinations that the reader doesn't know.
 */
export function reachable(): readonly Quality[] {
  const heads = ["", "m", "maj", "dim", "aug", "ø"];
  const mains = ["", "6", "69", "7", "9", "11", "13", "maj7", "(maj7)", "(maj9)"];
  const marks = ",b5,#5,b9,#9,#11,b13,b9#9,#9b13,b9b13,#5#9,#5b9,b5b9,b5#9,#9#11,#11b13,b9#11".split(",");
  const ends = ["", "sus", "sus2", "add9", "add2", "add4", "add11", "add13", "no3", "no5"];
  const found = new Map<string, Quality>();
  for (const head of heads) {
    for (const main of mains) {
      for (const mark of marks) {
        for (const end of ends) {
          const reading = readQuality(head + main + mark + end);
          if (reading === undefined) continue;
          for (const quality of [reading.major, reading.minor]) found.set(quality.symbol, quality);
        }
      }
    }
  }
  return [...found.values()];
}
