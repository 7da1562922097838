import type { Fraction } from "./fraction.js";

/** What is left of a whole number, not 0, when it is halved as often as it can be. */
const oddPart = (n: number): number => n / (n & -n);

/**
 * Whether a length, as a part of a whole note and in any terms, is one plain note, a dotted one or one of a triplet:
 * 1/4, 3/8 and 1/6 are, 1/5, 5/8 and 1/9 aren't. Longer than a whole note counts alike (common practice, no source).
 */
export function isNoteValue({ n, d }: Fraction): boolean {
  const above = oddPart(n);
  const below = oddPart(d);
  return above === below || above === 3 * below || below === 3 * above;
}

/** Whether a note value is one of a triplet. */
export const isTriplet = ({ n, d }: Fraction): boolean => oddPart(d) === 3 * oddPart(n);
