import { openDocument } from "../../server/src/document/document.js";
import { pageView } from "../../server/src/exports/page-view.js";
import { perform } from "../../server/src/exports/performance.js";
import { type Song, songOf } from "../../server/src/page/song.js";
import { movedTo } from "./page-of.js";

/** What a page plays of a chart, in its own key or moved to another tonic (a place on the line of fifths). */
export function songIn(text: string, tonic?: number): Song {
  const document = openDocument("song.plagal", text);
  const moved = tonic === undefined ? document : movedTo(document, tonic);
  if (moved === undefined) throw new Error("The chart can’t be moved there.");
  return songOf(pageView(moved.chart, perform(moved.chart, { balance: true })));
}
