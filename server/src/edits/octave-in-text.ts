/** A written tone whose letter has its octave, moved by octaves: `_C4` up one is `_C5`. `undefined` of any other tone. */
export function movedExactly(tone: string, octaves: number): string | undefined {
  const found = /^(.*[A-G][b♭#♯x]*)([0-9])$/u.exec(tone);
  if (found === null) return undefined;
  const octave = Number(found[2]) + octaves;
  return octave < 0 || octave > 9 ? undefined : `${found[1]}${octave}`;
}

/** What `<` and `>` add up to: `>><` is 1. */
export const octavesOf = (signs: string): number =>
  [...signs].reduce((sum, sign) => sum + (sign === ">" ? 1 : sign === "<" ? -1 : 0), 0);

/** The signs for so many octaves: `<<` for -2. */
export const signsFor = (octaves: number): string =>
  octaves < 0 ? "<".repeat(-octaves) : ">".repeat(octaves);
