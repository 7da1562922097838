import { readQuality } from "../theory/quality.js";

const romans = ["i", "ii", "iii", "iv", "v", "vi", "vii"];
const roman = "VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i";
const shape = new RegExp(`^([b♭#♯]?)(${roman})(?![IViv]):?(.*?)(?:/([b♭#♯]?)(?:(${roman})|([1-7])))?$`, "u");
const degreeOf = (text: string): number => romans.indexOf(text.toLowerCase()) + 1;
const isSmall = (text: string): boolean => text === text.toLowerCase();
/** The third is said, or there is none. */
const saysThird = /^(?:m(?!aj)|-|min|dim|°|o|ø|sus|no3|5|\+|aug)/;
const wantsColon = /^[0-9b♭#♯]/;

/**
 * What a chord in Roman numerals is in numbers, the likeliest first: `vi` is `6m`, `V7` is `5:7`, `V7/ii` is `6:7`.
 * Small numerals are minor chords, as academic analysis writes them. Empty for any other text.
 */
export function romanChord(text: string): string[] {
  const found = text.length > 24 ? null : shape.exec(text);
  if (found === null) return [];
  const [, signs = "", numeral = "", written = "", bassSigns = "", bassNumeral, bassDigit] = found;
  const degree = degreeOf(numeral);
  const small = isSmall(numeral);
  const quality = qualityOf(signs, degree, small, written);
  if (quality === undefined || readQuality(quality) === undefined) return [];
  const colon = wantsColon.test(quality) ? ":" : "";
  if (bassNumeral !== undefined && signs === "" && (degree === 5 || degree === 7)) {
    // A dominant or leading-tone chord of another degree.
    const of = ((degree + degreeOf(bassNumeral) - 2) % 7) + 1;
    const said = quality === "" ? "maj" : quality;
    const isSecondary = bassSigns === "" && of !== degree;
    return isSecondary ? [`${of}${wantsColon.test(said) ? ":" : ""}${said}`] : [];
  }
  const bass = bassDigit ?? (bassNumeral === undefined ? undefined : String(degreeOf(bassNumeral)));
  const end = bass === undefined ? "" : `/${bassSigns}${bass}`;
  const root = `${signs}${degree}`;
  // The plain 5 is major in a major key and minor in a minor one.
  const outright = signs === "" && degree === 5 && !small && quality === "" ? [`${root}maj${end}`] : [];
  return [`${root}${colon}${quality}${end}`, ...outright];
}

function qualityOf(signs: string, degree: number, small: boolean, written: string): string | undefined {
  const quality = written.replace(/^o(?=7?$)/, "dim").replace(/^°/, "dim");
  if (small)
    return saysThird.test(quality) ? quality : quality.startsWith("maj") ? `m(${quality})` : `m${quality}`;
  if (quality !== "") return quality;
  return isPlainMajor(signs, degree) ? "" : "maj";
}

/** A degree that is a major chord in a major key where nothing more is written. */
const isPlainMajor = (signs: string, degree: number): boolean =>
  signs === "" ? [1, 4, 5].includes(degree) : /^[b♭]/.test(signs);
