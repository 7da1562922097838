import type { Document } from "../document/document.js";
import type { Span } from "../text/span.js";

/** A stretch of a chart. */
export interface Place {
  readonly path: string;
  /** From the start of that chart's text. */
  readonly span: Span;
}

/** The charts that an editor knows of, for questions that go beyond one of them. */
export interface Charts {
  /** The chart of this path in its newest version; `undefined` where there is none or it can't be read. */
  readonly open: (path: string) => Document | undefined;
  /** Every chart of the workspace, opened or not, each once. */
  readonly all: () => readonly Document[];
  /** The path of the chart that the chart `from` names `path` in a `use` line; `undefined` where none is found. */
  readonly find: (from: string, path: string) => string | undefined;
}

/** All charts, with this version of this one in place of any other and first. */
export const allWith = (document: Document, charts: Charts): readonly Document[] => [
  document,
  ...charts.all().filter(({ path }) => path !== document.path),
];

/** The chart of a path: this version of this one, else the newest. */
export const chartAt = (path: string, document: Document, charts: Charts): Document | undefined =>
  path === document.path ? document : charts.open(path);
