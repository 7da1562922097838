import { nearest } from "../text/nearest.js";
import { readQuality } from "../theory/quality.js";
import { usualQualities } from "../theory/usual-qualities.js";
import { romanChord } from "./roman-chord.js";

/** What is longer is no slip of the pen in a quality. */
const longestMisspelling = 16;

/** Qualities that a misspelled one may have meant, nearest first. */
export function nearestQualities(text: string): string[] {
  if (text.length > longestMisspelling) return [];
  // n lies beside m on the keyboard.
  const slipped = text.replace(/n(?!o)/g, "m");
  if (slipped !== text && readQuality(slipped) !== undefined) return [slipped];
  return nearest(text, usualQualities, text.length <= 2 ? 1 : 2, 3);
}

/** `N.C.` and its kin: no chord, as charts have it elsewhere. */
export const saysNoChord = (text: string): boolean => /^n[./]?c\.?$/i.test(text);

/**
 * What a player may have meant by a text that has not the shape of a chord. `meantBy` says it of one that has: that
 * text itself where it is a chord.
 */
export function nearestShapes(text: string, meantBy: (text: string) => readonly string[]): readonly string[] {
  if (saysNoChord(text)) return ["NC"];
  if (/^[x×X]$/.test(text)) return ["NC", "r"];
  if (/^[a-g]/.test(text)) {
    const capital = (text[0] as string).toUpperCase() + text.slice(1);
    const found = /^([A-G][b♭#♯x]*):?([^:/]*)(?:\/[A-G][b♭#♯x]*)?$/.exec(capital);
    if (found !== null && readQuality(found[2] as string) !== undefined) return [capital];
  }
  const numbers = romanChord(text);
  if (numbers.length > 0) return numbers;
  const trailing = /^(.*[^:/])[:/]+$/.exec(text);
  if (trailing !== null && /^(?:[b♭#♯]?[1-7]|[A-G][b♭#♯]?)[^:/]*$/.test(trailing[1] as string)) {
    return meantBy(trailing[1] as string);
  }
  const ninth = /^([b♭#♯]?[1-7]|[A-G][b♭#♯]?)\/9$/.exec(text);
  if (ninth !== null) return /^[A-G]/.test(text) ? [`${ninth[1]}add9`] : [`${ninth[1]}/2`, `${ninth[1]}add9`];
  return [];
}

const root = "(?:[b♭#♯]*[1-7]|[A-G][b♭#♯x]*)";
const rootAtStart = new RegExp(`^${root}:?`);
const bassAtEnd = new RegExp(`/${root}$`);
const colour = /^(?:[b♭#♯]|add|no|9|11|13)/;

/** A chord whose parentheses don't match, with parentheses that do, and without any; as far as `reads` lets them. */
export function balanced(text: string, reads: (text: string) => boolean): string[] {
  const bass = bassAtEnd.exec(text)?.[0] ?? "";
  const chord = text.slice(0, text.length - bass.length).replace(/[,(]+$/, "");
  const missing = chord.split("(").length - chord.split(")").length;
  const flat = chord.replace(/[(), \t]/g, "") + bass;
  const meant =
    missing >= 0
      ? [chord + ")".repeat(missing) + bass, flat]
      : [...opened(chord, -missing, bass, reads), flat];
  return [...new Set(meant)].filter(reads);
}

/** With the surplus `)` gone from the end or, where a colour stands before the only one, with a `(` for it. */
function opened(chord: string, surplus: number, bass: string, reads: (text: string) => boolean): string[] {
  if (!chord.endsWith(")".repeat(surplus))) return [];
  const bare = chord.slice(0, -surplus);
  if (bare.includes("(")) return [bare + bass];
  const from = rootAtStart.exec(bare)?.[0].length ?? 0;
  for (let at = from; at < bare.length; at++) {
    const written = `${bare.slice(0, at)}(${bare.slice(at)})${bass}`;
    if (colour.test(bare.slice(at)) && reads(written)) return [written];
  }
  return [];
}
