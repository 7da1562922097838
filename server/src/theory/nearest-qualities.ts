/** Spellings that players use, the usual before the rare: what "did you mean" offers, and what completion may list. */
export const usualQualities: readonly string[] = (
  "m 7 maj7 m7 sus sus4 sus2 7sus 9sus 13sus 6 m6 69 m69 9 maj9 m9 add2 add9 madd9 add4 11 m11 maj11 13 maj13 m13 " +
  "dim dim7 m7b5 aug 7#5 maj7#5 7b5 7b9 7#9 7#11 7b13 9#11 13#11 13b9 maj7#11 maj9#11 7b9sus 7sus4 9sus4 13sus4 " +
  "7#5#9 7#9b13 7b9b13 7#5b9 7b5b9 7alt alt m(maj7) m(maj9) 5 no3 no5 7no3 7no5 maj min m7b9 m9b5 m11b5 maj7b5 " +
  "maj7sus 7add4 7add13 Δ Δ7 M7 min7 -7 ø ø7 ° °7 + +7 maj6 min6 maj69 sus24 majb5 add#11"
).split(" ");

/** Edits (a letter more, less, other, or two swapped) between two texts; capitals count half. */
function distance(a: string, b: string): number {
  const width = b.length + 1;
  const cost: number[] = Array.from({ length: (a.length + 1) * width }, () => 0);
  const at = (i: number, j: number): number => cost[i * width + j] as number;
  for (let i = 0; i <= a.length; i++) {
    for (let j = 0; j <= b.length; j++) {
      if (i === 0 || j === 0) {
        cost[i * width + j] = i + j;
        continue;
      }
      const x = a[i - 1] as string;
      const y = b[j - 1] as string;
      const change = x === y ? 0 : x.toLowerCase() === y.toLowerCase() ? 0.5 : 1;
      let best = Math.min(at(i - 1, j) + 1, at(i, j - 1) + 1, at(i - 1, j - 1) + change);
      const isSwap = i > 1 && j > 1 && x === b[j - 2] && a[i - 2] === y;
      if (isSwap) best = Math.min(best, at(i - 2, j - 2) + 1);
      cost[i * width + j] = best;
    }
  }
  return at(a.length, b.length);
}

/** The known spellings nearest to a text, best first, at most `limit`; those with nothing in common are left out. */
export function nearestQualities(text: string, limit = 3): string[] {
  const near = usualQualities
    .map((quality) => ({ quality, away: distance(text, quality) }))
    .filter(({ quality, away }) => away < Math.max(text.length, quality.length))
    .sort((a, b) => a.away - b.away);
  const closest = near[0]?.away ?? 0;
  return near
    .filter(({ away }) => away <= closest + 1)
    .slice(0, limit)
    .map(({ quality }) => quality);
}
