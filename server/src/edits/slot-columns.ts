/** Texts of one row in one bar, in the order in which they stand. */
export interface Placed {
  readonly items: readonly PlacedText[];
  /** The parts that the bar is cut into: an item's time is `at / parts`. */
  readonly parts: number;
}

export interface PlacedText {
  readonly text: string;
  /** The columns that it takes. */
  readonly width: number;
  readonly at: number;
  /** Columns behind what stands at that time in the rows above: a syllable's under a note inside a group. */
  readonly inside: number;
}

/** One row's texts in one line, and the columns that it takes. */
export interface Laid {
  text: string;
  width: number;
}

/**
 * Lays out each row's texts so that what falls on the same time stands in one column, and later times stand further
 * right. A column stands as far left as the texts before it allow, one space between two of a row.
 */
export function inColumns(rows: readonly Placed[]): readonly Readonly<Laid>[] {
  const laid: Laid[] = rows.map(() => ({ text: "", width: 0 }));
  const next: number[] = rows.map(() => 0);
  for (let column = 0; ; column++) {
    let now: PlacedText | undefined;
    let parts = 1;
    for (let i = 0; i < rows.length; i++) {
      const row = rows[i] as Placed;
      const item = row.items[next[i] as number];
      if (item === undefined) continue;
      if (now !== undefined && item.at * parts >= now.at * row.parts) continue;
      now = item;
      parts = row.parts;
    }
    if (now === undefined) return laid;
    const { at } = now;
    for (let i = 0; i < rows.length; i++) {
      const row = rows[i] as Placed;
      const item = row.items[next[i] as number];
      if (item !== undefined && item.at * parts === at * row.parts)
        column = Math.max(column, freeIn(laid[i] as Laid) - item.inside);
    }
    for (let i = 0; i < rows.length; i++) {
      const row = rows[i] as Placed;
      const line = laid[i] as Laid;
      for (;;) {
        const item = row.items[next[i] as number];
        if (item === undefined || item.at * parts !== at * row.parts) break;
        const start = Math.max(freeIn(line), column + item.inside);
        line.text += spaces(start - line.width) + item.text;
        line.width = start + item.width;
        next[i] = (next[i] as number) + 1;
      }
    }
  }
}

const freeIn = ({ width }: Laid): number => (width === 0 ? 0 : width + 1);

const spaces = (count: number): string => (count === 1 ? " " : " ".repeat(count));
