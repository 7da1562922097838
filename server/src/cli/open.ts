import { type Document, type Files, openDocument, type Settings } from "../document/document.js";
import { decodeUtf8 } from "../text/utf8.js";
import { type Io, isFailure } from "./io.js";
import { largest, type Source } from "./source.js";

/** The document of a chart as it was read, with the charts that it uses. */
export const openSource = (io: Io, source: Source, settings: Settings): Document =>
  openDocument(io.nameOf(source.path), source.text, filesOf(io, source.path), settings);

const filesOf = (io: Io, chart: string): Files => ({
  find: (from, path) => {
    const located = io.locate(chart, from, path);
    if (located.kind !== "file") return located;
    const bytes = io.read(located.path);
    const text = isFailure(bytes) || bytes.length > largest ? undefined : decodeUtf8(bytes);
    if (typeof text !== "string") return { kind: "unreadable" };
    return { kind: "text", path: located.path, text: text.replace(/^\ufeff/, "") };
  },
});
