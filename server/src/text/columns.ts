const marks = /^[\p{Mn}\p{Me}\p{Cf}\p{Emoji_Modifier}]$/u;
const pictures = /^\p{Emoji_Presentation}$/u;
const regional = /^\p{Regional_Indicator}$/u;
/** The wide blocks of Unicode's East Asian Width table (UAX 11: W and F), without the pictures. */
const wide =
  /^[\u1100-\u115f\u2e80-\u303e\u3041-\ua4cf\ua960-\ua97f\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6\u{20000}-\u{3fffd}]$/u;
const joiner = "\u200d";
const asPicture = "\ufe0f";

/**
 * How many columns of a fixed-width type a text takes: one a character, two for pictures and East Asian
 * characters, none for marks that stand on the one before. `"E♭"` takes 2. A tab counts as one space.
 */
export function columnsOf(text: string): number {
  if (isPlain(text)) return text.length;
  let columns = 0;
  let before = 0;
  let joined = false;
  for (const character of text) {
    if (character === joiner) {
      joined = true;
      continue;
    }
    if (character === asPicture) {
      // The picture form of a character that is narrow without it.
      if (before === 1) columns++;
      before = 0;
      continue;
    }
    const width = joined ? 0 : widthOf(character);
    joined = false;
    columns += width;
    if (width > 0) before = width;
  }
  return columns;
}

/** Nothing but printable ASCII. */
function isPlain(text: string): boolean {
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    if (unit < 0x20 || unit > 0x7e) return false;
  }
  return true;
}

function widthOf(character: string): 0 | 1 | 2 {
  if (isPlain(character)) return 1;
  if (marks.test(character)) return 0;
  if (regional.test(character)) return 1;
  return pictures.test(character) || wide.test(character) ? 2 : 1;
}

/** The text with spaces behind it, up to that many columns. */
export const padTo = (text: string, columns: number): string =>
  text + " ".repeat(Math.max(0, columns - columnsOf(text)));
