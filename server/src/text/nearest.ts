/**
 * How many letters must change, go, come or change places with their neighbour to make `b` of `a`; more than `most`
 * is given as `most + 1`.
 */
export function editDistance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(
        (last[j] as number) + 1,
        (row[j - 1] as number) + 1,
        (last[j - 1] as number) + change,
      );
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        least = Math.min(least, (beforeLast[j - 2] as number) + 1);
      }
      row.push(least);
    }
    beforeLast = last;
    last = row;
  }
  return Math.min(last[b.length] as number, most + 1);
}

/** The candidates that are at most `most` letters away, nearest first, at most `count` of them. */
export function nearest(text: string, candidates: readonly string[], most: number, count: number): string[] {
  return candidates
    .map((candidate, order) => ({ candidate, order, distance: editDistance(text, candidate, most) }))
    .filter(({ distance }) => distance <= most)
    .sort((a, b) => a.distance - b.distance || a.order - b.order)
    .slice(0, count)
    .map(({ candidate }) => candidate);
}
