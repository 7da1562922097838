import { nameOf } from "../theory/note-name.js";

/** A path's last name without its ending; `chart` for standard input. */
export const stemOf = (path: string): string =>
  path === "-" ? "chart" : lastName(path).replace(/\.plagal$/, "");

const lastName = (path: string): string => path.slice(folderOf(path).length);

/** With the slash behind it; "" where the path names none. */
const folderOf = (path: string): string => /^.*[\\/]/s.exec(path)?.[0] ?? "";

/** What of a chart a file holds, where its name should say so. */
export interface Shown {
  /** The key that the chart was moved to. */
  readonly tonic?: number | undefined;
  /** The name of the one section. */
  readonly section?: string | undefined;
}

/** The name of a file made of a chart: `harbour-evening.mid`, `harbour-evening-Verse-2-F-sharp.svg`. */
export function outputName(path: string, { tonic, section }: Shown, ending: string): string {
  const parts = [
    stemOf(path),
    ...(section === undefined ? [] : [inFileName(section)]),
    ...(tonic === undefined ? [] : [nameOf(tonic).replaceAll("#", "-sharp")]),
  ];
  return `${parts.join("-")}.${ending}`;
}

/** Letters and digits of any script, with a hyphen for whatever else a name has: some systems take nothing more. */
const inFileName = (name: string): string =>
  name
    .normalize("NFC")
    .replaceAll(/[^\p{L}\p{M}\p{N}]+/gu, "-")
    .replaceAll(/^-|-$/g, "") || "section";

/** Where a file made of a chart goes unless told: beside the chart, under its name. */
export const outputPath = (path: string, shown: Shown, ending: string): string =>
  folderOf(path) + outputName(path, shown, ending);

/** A place that was told names a folder for the file, not the file: `stand/`. */
export const isFolder = (place: string): boolean => /[\\/]$/.test(place);
