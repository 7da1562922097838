import { columnsOf, padTo } from "../text/columns.js";
import { visible } from "../text/visible.js";
import type { Block, HoverText } from "./hover-text.js";

/** The text as Markdown (CommonMark with tables), in which nothing of the chart's own text is a sign of Markdown. */
export const markdown = (text: HoverText): string => text.map(markdownBlock).join("\n\n");

/** The text for a client that shows no Markdown: the same words, tables in columns. */
export const plainText = (text: HoverText): string => text.map(plainBlock).join("\n\n");

/** A picture as Markdown; `words` say what is to be seen, and `address` has no blank and no parenthesis in it. */
export const markdownPicture = (words: string, address: string): string => `![${escaped(words)}](${address})`;

/**
 * The text as Markdown with a picture, itself Markdown, behind its title and the words that say what the picture
 * shows: an editor may show no more than a dozen lines of a hover without scrolling.
 */
export const markdownWithPicture = ([title, ...more]: HoverText, words: string, picture: string): string =>
  [
    markdown([...(title === undefined ? [] : [title]), { kind: "lines", lines: [words] }]),
    picture,
    markdown(more),
  ]
    .filter((part) => part !== "")
    .join("\n\n");

function markdownBlock(block: Block): string {
  switch (block.kind) {
    case "title":
      return `**${escaped(block.text.trim())}**`;
    case "lines":
      return block.lines.map(escaped).join("  \n");
    case "list":
      return block.items.map((item) => `- ${escaped(item)}`).join("\n");
    case "table": {
      const row = (cells: readonly string[]): string => `| ${cells.map(escaped).join(" | ")} |`;
      const rule = `|${" --- |".repeat(block.head.length)}`;
      return [row(block.head), rule, ...block.rows.map(row)].join("\n");
    }
  }
}

/** Signs that mean something anywhere in a line. Before other signs a backslash would only be in the way of a plain reader. */
const anywhere = /[\\`*_[\]<>|~&$]/g;
/** Signs that mean something where a line starts: a heading, a quotation, a list, a rule. */
const atStart = /^(\s*)([#+\-=:]|\d+(?=[.)]))/;

function escaped(text: string): string {
  return visible(text)
    .replace(anywhere, "\\$&")
    .replace(atStart, (_all, space: string, sign: string) =>
      /^\d/.test(sign) ? `${space}${sign}\\` : `${space}\\${sign}`,
    );
}

function plainBlock(block: Block): string {
  switch (block.kind) {
    case "title":
      return visible(block.text);
    case "lines":
      return block.lines.map(visible).join("\n");
    case "list":
      return block.items.map((item) => `- ${visible(item)}`).join("\n");
    case "table": {
      const all = [block.head, ...block.rows].map((cells) => cells.map(visible));
      const widths = block.head.map((_, i) => Math.max(...all.map((cells) => columnsOf(cells[i] ?? ""))));
      return all
        .map((cells) =>
          cells
            .map((cell, i) => padTo(cell, widths[i] as number))
            .join("  ")
            .trimEnd(),
        )
        .join("\n");
    }
  }
}
