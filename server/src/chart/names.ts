import type { Line } from "../syntax/tree.js";
import type { Library, LibraryChart } from "./library.js";
import type { Outline, OutlinedSection } from "./outline.js";

/** A section and the file in which it is written. */
export interface NamedSection {
  readonly outlined: OutlinedSection;
  readonly file: LibraryChart;
}

/** The `use` paths of a chart, in order. */
export function usePaths(lines: readonly Line[]): readonly string[] {
  return lines.flatMap(({ statement }) =>
    statement.kind === "use" && statement.path !== undefined ? [statement.path] : [],
  );
}

/** The section of this name that is written in a file: of several the first. */
const ownSection = ({ sections, contents }: Outline, name: string): OutlinedSection | undefined =>
  sections[contents.names.get(name) ?? -1];

/**
 * The section that a name means in a file: its own first, then those that its `use` lines bring in. A chart
 * brings in the sections written in it and what they play.
 */
export function findSection(file: LibraryChart, name: string, library: Library): NamedSection | undefined {
  const own = ownSection(file.outline, name);
  return own === undefined ? usedSection(file, name, library, noPaths) : { outlined: own, file };
}

const noPaths: ReadonlySet<string> = new Set();

/** A section that the `use` lines of a file bring in. */
function usedSection(
  file: LibraryChart,
  name: string,
  library: Library,
  visited: ReadonlySet<string>,
): NamedSection | undefined {
  if (visited.has(file.path)) return undefined;
  const seen = new Set([...visited, file.path]);
  for (const path of usePaths(file.outline.header)) {
    const found = library.find(file.path, path);
    if (found.kind !== "chart") continue;
    const { chart } = found;
    const own = ownSection(chart.outline, name);
    if (own !== undefined) return { outlined: own, file: chart };
    const brought = played(chart).has(name) ? usedSection(chart, name, library, seen) : undefined;
    if (brought !== undefined) return brought;
  }
  return undefined;
}

/** The names that a chart's own sections play. */
function played(file: LibraryChart): Set<string> {
  const names = new Set<string>();
  for (const { source } of file.outline.sections) {
    for (const { statement } of source.lines) {
      if (statement.kind === "play" && statement.item !== undefined) names.add(statement.item.name);
    }
  }
  return names;
}

/** Every name that a `use` of this chart brings in directly. */
export function broughtNames(file: LibraryChart): Set<string> {
  const names = played(file);
  for (const { source } of file.outline.sections) if (source.name !== "") names.add(source.name);
  return names;
}
