import { keyAbove, type ToneNumber } from "../theory/tone-number.js";
import type { ChordTones } from "./chord-tones.js";

/** The fewest and the most voices of a stack of fourths. */
const [fewest, most] = [3, 5] as const;
const [majorThird, fourth, tritone] = [4, 5, 6];

/**
 * The stacks of fourths on a chord, from the lowest tone up: perfect fourths, at most one of them augmented, and on
 * top of three or more voices a major third instead (two fourths or more below it). Their tones are the chord's and
 * the colours of its best scale that may be held.
 */
export function fourthsOn({ scales: [tones = []] }: ChordTones): readonly (readonly ToneNumber[])[] {
  const found: (readonly ToneNumber[])[] = [];
  const grow = (stack: readonly ToneNumber[], tritones: number): void => {
    if (stack.length >= fewest) found.push(stack);
    if (stack.length === most) return;
    const top = keyAbove(stack[stack.length - 1] as ToneNumber);
    for (const n of tones) {
      if (stack.includes(n)) continue;
      const step = (keyAbove(n) - top + 12) % 12;
      if (step === fourth || (step === tritone && tritones === 0))
        grow([...stack, n], tritones + (step === tritone ? 1 : 0));
      else if (step === majorThird && stack.length >= 3) found.push([...stack, n]);
    }
  };
  for (const n of tones) grow([n], 0);
  return found;
}

/**
 * The major and minor triads of a chord's scales that bring at least one colour, from their root up. None of a chord
 * without a seventh, where a triad is the chord itself, nor of a diminished one, which would lose its fifth.
 */
export function upperTriads({ chord, scales }: ChordTones): readonly (readonly ToneNumber[])[] {
  const { tones } = chord.quality;
  if (!tones.some(({ number }) => number === 7) || tones.some(isDiminishedFifth)) return [];
  const found = new Map<number, readonly ToneNumber[]>();
  for (const scale of scales) {
    for (const root of scale) {
      for (const third of [3, 4]) {
        const triad = [0, third, 7].map((above) =>
          scale.find((n) => keyAbove(n) === (keyAbove(root) + above) % 12),
        );
        if (!isWhole(triad) || !triad.some(isColour)) continue;
        const name = keyAbove(root) * 2 + third - 3;
        if (!found.has(name)) found.set(name, triad);
      }
    }
  }
  return [...found.values()];
}

const isDiminishedFifth = ({ number, alter }: ToneNumber, _: number, all: readonly ToneNumber[]): boolean =>
  number === 5 && alter < 0 && all.some((n) => n.number === 3 && n.alter < 0);
const isColour = ({ number }: ToneNumber): boolean => number > 7 || number === 4;
const isWhole = (triad: readonly (ToneNumber | undefined)[]): triad is readonly ToneNumber[] =>
  triad.every((n) => n !== undefined);
