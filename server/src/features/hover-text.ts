/** A part of what a player is told. All text is plain: `markup.ts` makes Markdown of it, or leaves it plain. */
export type Block =
  /** The first line, which says it all. */
  | { readonly kind: "title"; readonly text: string }
  /** Lines that follow each other without a gap. */
  | { readonly kind: "lines"; readonly lines: readonly string[] }
  | { readonly kind: "list"; readonly items: readonly string[] }
  /** Every row has as many cells as the head. */
  | {
      readonly kind: "table";
      readonly head: readonly string[];
      readonly rows: readonly (readonly string[])[];
    };

export type HoverText = readonly Block[];

/** A title and, where there are any, lines below it. */
export const saying = (title: string, ...lines: readonly string[]): HoverText => [
  { kind: "title", text: title },
  ...linesOf(lines),
];

/** The lines that say something as one block. */
export function linesOf(lines: readonly (string | undefined)[]): readonly Block[] {
  const said = lines.filter((line): line is string => line !== undefined && line !== "");
  return said.length === 0 ? [] : [{ kind: "lines", lines: said }];
}
