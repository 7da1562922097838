import { type Document, type Files, openDocument } from "../../server/src/document/document.js";
import type { Charts } from "../../server/src/features/charts.js";
import { chartText } from "./edit-chart.js";

/** Charts in one folder, by their names, as an editor with that folder open has them. */
export function chartsOf(
  texts: Readonly<Record<string, string>>,
): Charts & { readonly at: (path: string) => Document } {
  const read = new Map(Object.entries(texts).map(([path, text]) => [path, chartText(text)]));
  const files: Files = {
    find: (_from, path) => {
      const text = read.get(path);
      return text === undefined ? { kind: "missing" } : { kind: "text", path, text };
    },
  };
  const documents = new Map([...read].map(([path, text]) => [path, openDocument(path, text, files)]));
  return {
    open: (path) => documents.get(path),
    all: () => [...documents.values()],
    find: (_from, path) => (documents.has(path) ? path : undefined),
    at: (path) => {
      const found = documents.get(path);
      if (found === undefined) throw new Error(`no chart ${path}`);
      return found;
    },
  };
}

/** The only chart there is. */
export const alone = (text: string): Charts & { readonly at: (path: string) => Document } =>
  chartsOf({ "chart.plagal": text });
