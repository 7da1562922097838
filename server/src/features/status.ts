import type { Document } from "../document/document.js";
import { prettyKey } from "../theory/key.js";

/** A chart in a few words, for a line below it. */
export interface Status {
  /** `G major` */
  readonly key: string;
  /** Beats a minute, `72`; empty where the chart doesn't say. */
  readonly tempo: string;
  readonly errors: number;
  readonly warnings: number;
  /** Infos and hints. */
  readonly others: number;
}

export function status({ chart, problems }: Document): Status {
  const count = (severity: string): number => problems.filter((it) => it.severity === severity).length;
  const [errors, warnings] = [count("error"), count("warning")];
  const { home, tempo } = chart.header;
  return {
    key: prettyKey(home.key),
    tempo: tempo === undefined ? "" : `${tempo}`,
    errors,
    warnings,
    others: problems.length - errors - warnings,
  };
}
