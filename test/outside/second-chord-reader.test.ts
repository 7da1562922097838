// npm chord-symbol 4.0.0 (MIT), a chord symbol reader made by others: it must hear the same keys in every symbol that
// is printed here.
import { createRequire } from "node:module";
import { expect, test } from "vitest";
import { chordSymbol } from "../../server/src/theory/chord.js";
import type { Quality } from "../../server/src/theory/quality.js";
import type { ToneNumber } from "../../server/src/theory/tone-number.js";
import { keysOf, reachable } from "../support/chord-text.js";

interface SecondReading {
  readonly error?: readonly unknown[];
  readonly normalized: { readonly semitones: readonly number[] };
}

const { chordParserFactory } = createRequire(import.meta.url)("chord-symbol/lib/chord-symbol.js") as {
  chordParserFactory: () => (symbol: string) => SecondReading;
};
const read = chordParserFactory();

const has = (tones: readonly ToneNumber[], number: number, alter: number): boolean =>
  tones.some((n) => n.number === number && n.alter === alter);

/** Symbols that charts have: at most one tone added or left out, no tone twice, none both natural and altered. */
function isPlain({ symbol, tones }: Quality): boolean {
  const words = symbol.match(/add|no/g)?.length ?? 0;
  const clash = tones.some((n) => n.number > 7 && n.alter !== 0 && has(tones, n.number, 0));
  const twice = tones.some((n) => n.number < 7 && tones.some((other) => other.number === n.number + 7));
  return words <= 1 && !clash && !twice;
}

const qualities = reachable().filter(isPlain);

/** Symbols that the second reader doesn't know: a #11 in a minor 13th, a second fifth over a diminished seventh. */
const isUnknownThere = (symbol: string): boolean =>
  /^m13.*#11/.test(symbol) || /^m\(maj13\).*#11/.test(symbol) || /^dim7.*add#5/.test(symbol);

/** Two rules of the second reader that differ: its b13 takes the fifth's place, and its 11 the major third's. */
function asTheyHear({ symbol, tones }: Quality): readonly ToneNumber[] {
  return tones.filter((n) => {
    if (n.number === 5 && n.alter === 0 && has(tones, 13, -1)) return false;
    return !(n.number === 3 && /^(?:maj)?11/.test(symbol));
  });
}

const roots = [-6, -3, 0, 2, 6];
const printed = qualities
  .filter(({ symbol }) => !isUnknownThere(symbol))
  .map((quality, index) => {
    const root = roots[index % roots.length] as number;
    return [chordSymbol({ root, quality, bass: undefined }), quality] as const;
  });

test("over a thousand printed symbols are compared", () => {
  expect(printed.length).toBeGreaterThan(1000);
});

test.each(printed)("%s sounds alike to both readers", (symbol, quality) => {
  const theirs = read(symbol);
  expect(theirs.error).toBeUndefined();
  const keys = [...new Set(theirs.normalized.semitones.map((step) => step % 12))].sort((a, b) => a - b);
  expect(keys.join(" ")).toBe(keysOf(asTheyHear(quality)));
});

test("what the second reader is said not to know, it doesn't", () => {
  const unknown = qualities.filter(({ symbol }) => isUnknownThere(symbol));
  expect(unknown.length).toBeGreaterThan(0);
  expect(unknown.filter(({ symbol }) => read(`C${symbol}`).error === undefined)).toEqual([]);
});
