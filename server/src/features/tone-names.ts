import { contradicts, guideTones, type Quality } from "../theory/quality.js";
import { isSameNumber, type ToneNumber, upper } from "../theory/tone-number.js";

const counts: Readonly<Record<number, string>> = {
  2: "second",
  4: "fourth",
  5: "fifth",
  6: "sixth",
  8: "octave",
  9: "nine",
  10: "tenth",
  11: "eleven",
  13: "thirteen",
};

const signed = (alter: number): string =>
  alter === 0
    ? ""
    : `${{ "-2": "double flat ", "-1": "flat ", "1": "sharp ", "2": "double sharp " }[alter] ?? "altered "}`;

/** What players call a tone of a chord by its number: `minor third`, `flat seven`, `sharp eleven` (common practice). */
export function toneName({ number, alter }: ToneNumber): string {
  if (number === 0) return "bass";
  if (number === 1 && alter === 0) return "root";
  if (number === 3 && alter === 0) return "major third";
  if (number === 3 && alter === -1) return "minor third";
  if (number === 7 && alter === 0) return "major seven";
  if (number === 7 && alter === -2) return "diminished seven";
  if (alter === 0) return counts[number] ?? `${number}`;
  const plain: Readonly<Record<number, string>> = {
    1: "root",
    2: "two",
    3: "third",
    4: "four",
    5: "five",
    6: "six",
    7: "seven",
  };
  return signed(alter) + (plain[number] ?? counts[number] ?? `${number}`);
}

const ownTone = (quality: Quality, n: ToneNumber): ToneNumber | undefined =>
  quality.tones.find((tone) => isSameNumber(tone, n) || isSameNumber(upper(tone), upper(n)));

/** Whether a chord has a tone, in whatever octave its symbol counts it. */
export const isOwn = (quality: Quality, n: ToneNumber): boolean => ownTone(quality, n) !== undefined;

/**
 * What a tone is to a chord, its name first: `flat seven, a guide tone`, `sharp nine, a colour tone`, `nine, added to
 * the chord`. A suspension and an added 2 are named as what they are.
 */
export function toneRole(quality: Quality, n: ToneNumber): string {
  const own = quality.tones.find((tone) => isSameNumber(tone, n) || isSameNumber(upper(tone), upper(n)));
  if (own === undefined) {
    return contradicts(quality, n)
      ? `${toneName(n)}, against the symbol`
      : `${toneName(upper(n))}, added to the chord`;
  }
  if (guideTones(quality).some((tone) => isSameNumber(tone, own))) return `${toneName(own)}, a guide tone`;
  const hasThird = quality.tones.some(({ number }) => number === 3);
  if ((own.number === 4 || own.number === 2) && !hasThird) return `suspended ${toneName(own)}`;
  if (own.number === 2 || own.number === 4) return `added ${toneName(own)}`;
  return isColour(quality, own) ? `${toneName(own)}, a colour tone` : toneName(own);
}

/** Whether a tone of a chord colours it: 6, 9, 11, 13, and over a seventh chord with a major third a raised or lowered fifth. */
export function isColour(quality: Quality, { number, alter }: ToneNumber): boolean {
  if (number > 5 && number !== 7) return true;
  const has = (wanted: number, sign?: number): boolean =>
    quality.tones.some((tone) => tone.number === wanted && (sign === undefined || tone.alter === sign));
  return number === 5 && alter !== 0 && has(3, 0) && has(7);
}
