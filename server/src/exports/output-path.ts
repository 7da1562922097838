import { nameOf } from "../theory/note-name.js";

/** A path's last name without its ending; `chart` for standard input. */
export const stemOf = (path: string): string =>
  path === "-" ? "chart" : lastName(path).replace(/\.plagal$/, "");

const lastName = (path: string): string => path.slice(folderOf(path).length);

/** With the slash behind it; "" where the path names none. */
const folderOf = (path: string): string => /^.*[\\/]/s.exec(path)?.[0] ?? "";

/** The name of a file made of a chart, with the key that it was moved to: `harbour-evening-F-sharp.mid`. */
export function outputName(path: string, tonic: number | undefined, ending: string): string {
  const key = tonic === undefined ? "" : `-${nameOf(tonic).replaceAll("#", "-sharp")}`;
  return `${stemOf(path)}${key}.${ending}`;
}

/** Where a file made of a chart goes unless told: beside the chart, under its name. */
export const outputPath = (path: string, tonic: number | undefined, ending: string): string =>
  folderOf(path) + outputName(path, tonic, ending);
