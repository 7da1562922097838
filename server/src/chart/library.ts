import type { Outline } from "./outline.js";

/** Another chart, as far as it can be brought in. */
export interface LibraryChart {
  /** Its name among all charts: the same file always has the same. */
  readonly path: string;
  readonly outline: Outline;
}

export type Found =
  | { readonly kind: "chart"; readonly chart: LibraryChart }
  | { readonly kind: "missing" | "outside" | "unreadable" };

/** The charts that `use` lines may name. */
export interface Library {
  /** The chart at `path`, as written in the file `from`. */
  readonly find: (from: string, path: string) => Found;
}
