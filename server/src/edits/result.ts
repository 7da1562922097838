import type { Edit } from "../text/edits.js";
import type { Span } from "../text/span.js";

/** What a change to a chart's text comes to: its edits with what should be said of them, or why there are none. */
export type EditResult =
  | { readonly edits: readonly Edit[]; readonly notes: readonly EditNote[] }
  | {
      /** Why nothing is changed. */
      readonly refused: string;
      /** What could be asked for instead, as it would be typed. */
      readonly offer?: string;
    };

/** Something that a change left as it was, or that sounds otherwise after it. */
export interface EditNote {
  readonly message: string;
  readonly span: Span;
}
