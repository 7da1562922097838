import { meterText } from "../chart/beat-name.js";
import type { Header } from "../chart/model.js";
import { visible } from "../text/visible.js";
import type { PageHead } from "./page-sheet.js";

/** What stands above the first bar of a page, in every key. */
export const pageHead = ({ title, by, notes, home, meter, tempo, feel }: Header): PageHead => ({
  title: visible(title ?? "A chart without a title"),
  by: by === undefined ? null : visible(by),
  notes: notes.map(visible),
  mode: home.key.mode,
  facts: [
    meterText(meter),
    ...(tempo === undefined ? [] : [`${tempo} beats a minute`]),
    ...(feel === "straight" ? [] : [`${feel} feel`]),
  ],
});
