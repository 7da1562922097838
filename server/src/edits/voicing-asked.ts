import type { PlacedSection } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import type { StyleName } from "../voicing/styles.js";
import type { Which } from "./voiced-choice.js";

/** What is asked of the search. */
export interface VoicingAsked {
  readonly hands: readonly Hand[];
  readonly style: StyleName;
  /** Whether each voicing has to be playable in all twelve keys, not only in those that the form plays. */
  readonly everyKey: boolean;
  readonly which: Which;
  /** The one section that is voiced; all of the chart's own where left out. */
  readonly only?: PlacedSection | undefined;
  /** The widest white-key interval of each hand; the usual one where nobody says. */
  readonly reach: { readonly left: number | undefined; readonly right: number | undefined };
}
