import { divide, type Fraction, fraction, isEqual, minus } from "../theory/fraction.js";
import { beatLength } from "./bar-time.js";
import type { Meter } from "./model.js";

/** Parts of a beat as players count them. */
const parts: readonly (readonly [Fraction, string])[] = [
  [fraction(1, 2), "and"],
  [fraction(1, 3), "and a third"],
  [fraction(2, 3), "and two thirds"],
  [fraction(1, 4), "and a quarter"],
  [fraction(3, 4), "and three quarters"],
];

/** The place in a bar (in whole notes from its start) in words: `beat 1`, `beat 2 and`, `beat 3 and 5/8`. */
export function beatName(at: Fraction, meter: Meter): string {
  const beats = divide(at, beatLength(meter));
  const whole = Math.floor(beats.n / beats.d);
  const rest = minus(beats, fraction(whole));
  if (rest.n === 0) return `beat ${whole + 1}`;
  const [, words = `and ${rest.n}/${rest.d}`] = parts.find(([part]) => isEqual(part, rest)) ?? [];
  return `beat ${whole + 1} ${words}`;
}

/** `6/8` */
export const meterText = ({ beats, unit }: Meter): string => `${beats}/${unit}`;
