import { type Files, noFiles, openDocument } from "../../server/src/document/document.js";
import { hover } from "../../server/src/features/hover.js";
import { markdown, plainText } from "../../server/src/features/markup.js";
import { atCursor } from "./marked.js";

/** What is said at the cursor, in plain text; "" where there is nothing to say. */
export function hoverAt(chart: string, files: Files = noFiles): string {
  const { text, cursor } = atCursor(chart);
  const found = hover(openDocument("chart.plagal", text, files), cursor);
  return found === undefined ? "" : plainText(found.text);
}

/** The same as Markdown. */
export function hoverMarkdown(chart: string): string {
  const { text, cursor } = atCursor(chart);
  const found = hover(openDocument("chart.plagal", text), cursor);
  return found === undefined ? "" : markdown(found.text);
}

/** The first line of what is said, which says it all. */
export const firstLine = (chart: string, files?: Files): string => hoverAt(chart, files).split("\n")[0] ?? "";

/** All that is said in a chart: each line, then every text in it that something is said of, once a line. */
export function hoverPage(path: string, text: string, files: Files): string {
  const document = openDocument(path, text, files);
  const { lines, starts } = document.tree;
  return lines
    .map((line, i) => {
      const start = starts[i] as number;
      const said = new Map<string, string>();
      for (let at = start; at < start + line.text.length; at++) {
        const found = hover(document, at);
        if (found === undefined) continue;
        const { span } = found;
        const words = plainText(found.text).replace(/\n\n/g, "\n").replace(/^/gm, "      ");
        const part = text.slice(span.start, span.end);
        said.set(`${span.start} ${span.end} ${words}`, `    ${part}\n${words}`);
      }
      return [line.text.trimEnd(), ...said.values()].join("\n");
    })
    .join("\n");
}
