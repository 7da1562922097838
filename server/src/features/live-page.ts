import type { Document } from "../document/document.js";
import { readTarget } from "../edits/key-target.js";
import type { Live } from "../exports/live.js";
import type { LiveChart } from "../exports/live-chart.js";
import { inKey } from "./in-key.js";

/** What the page beside the text shows, in the chart's own key or as if it were moved to a key (`Eb`, `f#`); with `staff` for an engraver too. */
export function livePage(
  document: Document,
  key: string | undefined,
  live: Live,
  staff = false,
): LiveChart | { readonly refused: string } {
  if (key === undefined) return live.chart(document.chart, document.chart, staff);
  const target = readTarget(key);
  if ("refused" in target) return target;
  const moved = inKey(document, target);
  return "refused" in moved ? moved : live.chart(moved.chart, document.chart, staff);
}
