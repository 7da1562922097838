import { degreeInKey, isRedundantSign, type Key, triadOn } from "./key.js";
import { nameOf, prettyName, readName } from "./note-name.js";
import { complete, needsKey, type Quality, type QualityReading, readQuality } from "./quality.js";
import { fifthsAbove, isSameNumber, numberOf, printNumber, type ToneNumber, upper } from "./tone-number.js";

/** A chord with nothing left open. `root` and `bass` are places on the line of fifths; no `bass`: the root is lowest. */
export interface Chord {
  readonly root: number;
  readonly quality: Quality;
  readonly bass: number | undefined;
}

const slash = (name: string | undefined): string => (name === undefined ? "" : `/${name}`);

/** Canonical and in ASCII, strict names: `"G7/B"`, `"Bbm7b5"`. */
export const chordSymbol = ({ root, quality, bass }: Chord): string =>
  nameOf(root) + quality.symbol + slash(bass === undefined ? undefined : nameOf(bass));

/** A quality's symbol for people: `"m7♭5"`. */
export const prettyQuality = (symbol: string): string =>
  symbol.replace(/b(?=b*[0-9])/g, "♭").replace(/#/g, "♯");

/** For people, in plain names: `"B♭m7/D♭"`. */
export const prettyChord = ({ root, quality, bass }: Chord): string =>
  prettyName(root) + prettyQuality(quality.symbol) + slash(bass === undefined ? undefined : prettyName(bass));

/**
 * The parts of a chord's text before and after the slash of its bass: `"6/9"` and `"m/M7"` have none. What stands
 * after the last slash is a bass if `isBass` says so.
 */
export function splitSlash(
  text: string,
  isBass: (text: string) => boolean,
): readonly [string, string | undefined] {
  const at = text.lastIndexOf("/");
  const after = text.slice(at + 1);
  return at >= 0 && isBass(after) ? [text.slice(0, at), after] : [text, undefined];
}

const letterChord = /^([A-G](?:[b♭𝄫]+|[#♯x𝄪]+)?)(:?)(.*)$/u;

/**
 * A chord in letters: `"Bb7#9/D"`, `"C6/9"`, `"F:7"`, `"C:b9"` (in `"Cb9"` the flat is the root's). With no quality
 * it is major, and so is a third left unsaid. `undefined` for anything else.
 */
export function readChord(text: string): Chord | undefined {
  const [over, bassText] = splitSlash(text, (after) => readName(after) !== undefined);
  const found = letterChord.exec(over);
  const root = found?.[1] === undefined ? undefined : readName(found[1]);
  const reading = readQuality(found?.[3] ?? "");
  if (root === undefined || reading === undefined || (found?.[2] === ":" && reading.plain)) return undefined;
  return {
    root,
    quality: complete(reading, "major", "perfect"),
    bass: bassText === undefined ? undefined : readName(bassText),
  };
}

/**
 * The text to write into a chart in letters. Canonical symbols never start with an accidental, so it needs no colon
 * and reads back as the same chord.
 */
export const letterText = (chord: Chord): string => chordSymbol(chord);

/** What the key, or the sign before the degree, supplies on a degree: see `completeOnDegree`. */
function suppliedOn(key: Key, degree: number, alter: number): ReturnType<typeof triadOn> {
  if (alter === 0 || isRedundantSign(key.mode, degree, alter)) return triadOn(key, degree);
  return alter < 0 ? { third: "major", fifth: "perfect" } : { third: "minor", fifth: "diminished" };
}

/**
 * The chord of a quality on a degree. The key supplies third and fifth of a plain chord and a third left unsaid; on
 * a degree with a flat a plain chord is major, with a sharp diminished, and an unsaid third major or minor.
 */
export function completeOnDegree(reading: QualityReading, key: Key, degree: number, alter: number): Quality {
  if (!needsKey(reading)) return reading.major;
  const { third, fifth } = suppliedOn(key, degree, alter);
  return complete(reading, third, fifth);
}

/**
 * The text to write into a chart in numbers: `"2"` for Fm in Eb major, `"2maj"` for F, `"1:6"`, `"6:7"`, `"1:7/3"`.
 * A third that its symbol leaves unsaid is said (`"2maj6"` for F6) unless the key supplies it, so that the text
 * reads as the same chord.
 */
export function degreeText(chord: Chord, key: Key): string {
  const root = degreeInKey(key, chord.root);
  const symbol = symbolOnDegree(chord.quality, key, root);
  const joint = /^[0-9b#]/.test(symbol) ? ":" : "";
  const bass = chord.bass === undefined ? undefined : printNumber(degreeInKey(key, chord.bass));
  return printNumber(root) + joint + symbol + slash(bass);
}

function symbolOnDegree({ symbol }: Quality, key: Key, { number, alter }: ToneNumber): string {
  const means = (text: string): boolean => {
    const reading = readQuality(text);
    return reading !== undefined && completeOnDegree(reading, key, number, alter).symbol === symbol;
  };
  // The flat that says "major" is plain enough; a diminished chord on a sharp says so.
  if (alter <= 0 && means("")) return "";
  return means(symbol) ? symbol : `maj${symbol}`;
}

/** The tone with a number in a chord; 0 is its bass. */
export const toneInChord = (chord: Chord, n: ToneNumber): number =>
  n.number === 0 ? (chord.bass ?? chord.root) : chord.root + fifthsAbove(n);

/** A tone's number in a chord, 1 to 7, and 9, 11 or 13 only where the symbol says so. */
export function chordNumber(chord: Chord, fifths: number): ToneNumber {
  const n = numberOf(chord.root, fifths);
  const high = upper(n);
  const has = (wanted: ToneNumber): boolean => chord.quality.tones.some((tone) => isSameNumber(tone, wanted));
  return !has(n) && has(high) ? high : n;
}
