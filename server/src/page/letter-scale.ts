const sample = "abcdefghijklmnopqrstuvwxyz";
/** How wide the sample is in Times Roman at a size of 1000 (the widths that Adobe published with PostScript's fonts). */
const reckoned = 11_943;

/** The font of words on a staff: the engraver gives them as much room as Times needs. */
export const letterFont = 'Times, "Times New Roman", "Liberation Serif", serif';

/** How much smaller letters must be here than reckoned, 1 at most: what stands for Times may be wider. */
export interface LetterScale {
  readonly plain: number;
  readonly bold: number;
}

export function letterScale(): LetterScale {
  const pen = document.createElement("canvas").getContext("2d");
  const scaleOf = (weight: string): number => {
    if (pen === null) return 1;
    pen.font = `${weight} 100px ${letterFont}`;
    const { width } = pen.measureText(sample);
    return width > 0 ? Math.min(1, reckoned / 10 / width) : 1;
  };
  return { plain: scaleOf("normal"), bold: scaleOf("bold") };
}
