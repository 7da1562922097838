import type { Fraction } from "../theory/fraction.js";

/** A note's printed value: the name of its type in MusicXML, and whether a dot stands behind it. */
export interface NoteValue {
  readonly type: string;
  readonly dots: 0 | 1;
}

/** MusicXML 4.0, `note-type-value`, from eight whole notes down to 1/1024. */
const types = [
  "maxima",
  "long",
  "breve",
  "whole",
  "half",
  "quarter",
  "eighth",
  "16th",
  "32nd",
  "64th",
  "128th",
  "256th",
  "512th",
  "1024th",
] as const;
const wholeAt = types.indexOf("whole");

/** The type that lasts `length` whole notes, a power of two; `undefined` beyond those that have a name. */
export const typeOf = ({ n, d }: Fraction): string | undefined =>
  types[wholeAt + Math.log2(d) - Math.log2(n)];

/** The value that lasts `length` whole notes: a plain or a dotted one; `undefined` where it takes two that are tied. */
export function noteValue({ n, d }: Fraction): NoteValue | undefined {
  if (!isPowerOfTwo(d)) return undefined;
  if (isPowerOfTwo(n)) {
    const type = typeOf({ n, d });
    return type === undefined ? undefined : { type, dots: 0 };
  }
  // A dotted value is three times half the plain one.
  if (n % 3 !== 0 || !isPowerOfTwo(n / 3)) return undefined;
  const plain = typeOf({ n: (n / 3) * 2, d });
  // Its dot stands for the next shorter type, which needs a name too.
  const half = typeOf({ n: n / 3, d });
  return plain === undefined || half === undefined ? undefined : { type: plain, dots: 1 };
}

/** Whether `n`, a whole number above 0, is a power of two. */
export const isPowerOfTwo = (n: number): boolean => Number.isInteger(Math.log2(n));
