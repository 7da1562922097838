import { letterOf, plainFifths } from "./note-name.js";
import { octaveOf, type Pitch } from "./pitch.js";

/** How many white keys an interval covers, in words: `"a ninth"` is 9. From a fifth to two octaves. */
const sizes: readonly (string | undefined)[] = [
  undefined,
  "a unison",
  "a second",
  "a third",
  "a fourth",
  "a fifth",
  "a sixth",
  "a seventh",
  "an octave",
  "a ninth",
  "a tenth",
  "an eleventh",
  "a twelfth",
  "a thirteenth",
  "a fourteenth",
  "two octaves",
];

/** An interval by the white keys that it covers, 1 to 15: 9 is `"a ninth"`. */
export const intervalOfWhiteKeys = (count: number): string => sizes[count] ?? `${count} white keys`;

/** Places on the line of fifths between the two names that are perfect, major or minor. */
const perfect = { least: -1, most: 1 };
const major = { least: 2, most: 5 };
const minor = { least: -5, most: -2 };

/**
 * The interval from one pitch up to another by their names, as a player says it: `"a tenth"` (the major one),
 * `"a minor tenth"`, `"an augmented octave"`; beyond two octaves `"two octaves and a third"`.
 */
export function intervalName(lower: Pitch, upper: Pitch): string {
  const [low, high] = [plain(lower), plain(upper)];
  const steps = stepOf(high) - stepOf(low);
  const fifths = high.fifths - low.fifths;
  // Names that no interval joins: the upper one by its twin on the same key.
  if (fifths > 12 || fifths < -12)
    return intervalName(low, { ...high, fifths: high.fifths - 12 * Math.sign(fifths) });
  if (steps > 14) {
    const rest = intervalName({ ...lower, midi: lower.midi + 12 * Math.floor(steps / 7) }, upper);
    const octaves = `${count[Math.floor(steps / 7)] ?? Math.floor(steps / 7)} octaves`;
    return steps % 7 === 0 && fifths === 0 ? octaves : `${octaves} and ${rest}`;
  }
  const size = intervalOfWhiteKeys(steps + 1);
  const quality = qualityOf(fifths);
  if (quality === "") return size;
  return `${quality.startsWith("a") ? "an" : "a"} ${quality} ${steps === 14 ? "double octave" : size.replace(/^an? /, "")}`;
}

const count: Readonly<Record<number, string>> = {
  2: "two",
  3: "three",
  4: "four",
  5: "five",
  6: "six",
  7: "seven",
};

const plain = ({ fifths, midi }: Pitch): Pitch => ({ fifths: plainFifths(fifths), midi });

const letters = "CDEFGAB";
/** The place of a pitch among the white keys, its accidentals left out. */
const stepOf = (pitch: Pitch): number => 7 * octaveOf(pitch) + letters.indexOf(letterOf(pitch.fifths));

function qualityOf(fifths: number): string {
  const lies = ({ least, most }: typeof perfect): boolean => fifths >= least && fifths <= most;
  if (lies(perfect) || lies(major)) return "";
  if (lies(minor)) return "minor";
  return fifths > 0 ? "augmented" : "diminished";
}
