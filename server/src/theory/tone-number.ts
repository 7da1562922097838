import { readSigns } from "./note-name.js";

/**
 * A tone counted from a root or tonic, always against the major scale on it: `{ number: 3, alter: -1 }` is the
 * flat third. `number` is 1 to 13; 0 stands for a chord's bass in a hand and has no accidental.
 */
export interface ToneNumber {
  readonly number: number;
  readonly alter: number;
}

/** Places of the major scale on the line of fifths, from its tonic. */
const majorPlaces: readonly number[] = [0, 2, 4, -1, 1, 3, 5];
const majorHalfSteps: readonly number[] = [0, 2, 4, 5, 7, 9, 11];
const step = (number: number): number => (((number - 1) % 7) + 7) % 7;

/** The distance on the line of fifths from the root up to the tone: b3 gives -3. 0, the bass, gives 0. */
export const fifthsAbove = ({ number, alter }: ToneNumber): number =>
  number === 0 ? 0 : (majorPlaces[step(number)] as number) + 7 * alter;

/** Half steps above the root, octaves kept: b3 gives 3, 9 gives 14. */
export const halfStepsAbove = ({ number, alter }: ToneNumber): number =>
  number === 0 ? 0 : (majorHalfSteps[step(number)] as number) + 12 * Math.floor((number - 1) / 7) + alter;

/** Half steps above the root within one octave, 0 to 11: 9 and 2 both give 2. */
export const keyAbove = (n: ToneNumber): number => ((halfStepsAbove(n) % 12) + 12) % 12;

const signs = (alter: number, flat: string, sharp: string): string =>
  alter < 0 ? flat.repeat(-alter) : sharp.repeat(alter);

/** In ASCII: `"b3"`, `"#11"`, `"bb7"`. */
export const printNumber = ({ number, alter }: ToneNumber): string => signs(alter, "b", "#") + number;

/** For people: `"♭3"`. */
export const prettyNumber = ({ number, alter }: ToneNumber): string => signs(alter, "♭", "♯") + number;

const numberText = /^([^0-9]*)(0|[1-9]|1[0-3])$/u;

/** `"b3"`, `"♯11"`, `"13"`, `"0"`; `undefined` for any other text, for numbers over 13 and for 0 with a sign. */
export function readNumber(text: string): ToneNumber | undefined {
  const found = numberText.exec(text);
  const alter = found?.[1] === undefined ? undefined : readSigns(found[1]);
  if (alter === undefined) return undefined;
  const number = Number(found?.[2]);
  return number === 0 && found?.[1] !== "" ? undefined : { number, alter };
}

/** The number of a tone above a root, 1 to 7: Eb above C is b3. */
export function numberOf(rootFifths: number, toneFifths: number): ToneNumber {
  const distance = toneFifths - rootFifths;
  const number = majorPlaces.indexOf(((((distance + 1) % 7) + 7) % 7) - 1) + 1;
  return { number, alter: Math.floor((distance + 1) / 7) };
}

/** The same tone counted an octave higher as chord symbols do: 2 gives 9, 4 gives 11, 6 gives 13; others stay. */
export const upper = (n: ToneNumber): ToneNumber =>
  n.number === 2 || n.number === 4 || n.number === 6 ? { number: n.number + 7, alter: n.alter } : n;

/** Whether both say the same number with the same sign. */
export const isSameNumber = (a: ToneNumber, b: ToneNumber): boolean =>
  a.number === b.number && a.alter === b.alter;
