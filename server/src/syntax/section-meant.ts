import { readQuality } from "../theory/quality.js";

/** What sections are usually called (common practice, no source). */
const usual =
  /(?:^|[\s-])(?:verse|chorus|pre-?chorus|post-?chorus|refrain|bridge|intro|outro|ending|tag|coda|interlude|turnaround|hook|solo|breakdown|lead-?in|walk-?in)(?:$|[\s-]|[0-9])/i;
const mostWords = 4;
const longest = 40;

interface SectionMeant {
  readonly name: string;
  /** The line can hardly mean anything else. */
  readonly isClear: boolean;
}

/**
 * The name of the section that a line without its word `section` may open: `Chorus:`, `[Verse 2]`, `CHORUS`;
 * `undefined` for other lines. `text` is the line without comment and white space around it.
 */
export function sectionMeant(text: string): SectionMeant | undefined {
  if (text.length > longest || /[|;"]/.test(text)) return undefined;
  const bracketed = /^\[([^[\]]+)\]:?$/.exec(text) ?? /^([^:]+):$/.exec(text);
  const name = (bracketed?.[1] ?? text).trim();
  const words = name.split(/\s+/);
  if (words.length > mostWords || !/^[\p{L}\p{N}]/u.test(name)) return undefined;
  if (bracketed !== null || usual.test(name)) return { name, isClear: true };
  // A word alone with a capital is a name, unless it is a chord without its row.
  const isName = words.length === 1 && /^\p{Lu}[\p{L}\p{N}-]{2,}$/u.test(name);
  const chord = /^[A-G][b#♭♯]?(.*)$/.exec(name);
  return isName && (chord === null || readQuality(chord[1] as string) === undefined)
    ? { name, isClear: false }
    : undefined;
}
