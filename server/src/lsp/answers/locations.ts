import type { Location } from "vscode-languageserver";
import type { Charts, Place } from "../../features/charts.js";
import type { Session } from "../session.js";
import { toRange } from "../to-protocol.js";

/** A place in any chart; `undefined` where the chart is gone. */
export function toLocation(session: Session, charts: Charts, { path, span }: Place): Location | undefined {
  const document = charts.open(path);
  return document && { uri: session.uriOf(path), range: toRange(document.tree.starts, span) };
}

export const toLocations = (session: Session, charts: Charts, places: readonly Place[]): Location[] =>
  places.map((place) => toLocation(session, charts, place)).filter((location) => location !== undefined);
