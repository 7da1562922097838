import type { Document } from "../document/document.js";
import { readTarget } from "../edits/key-target.js";
import { type Bundles, exportFile, type FileKind, fileKinds } from "../exports/export-file.js";
import { outputName } from "../exports/output-path.js";
import { inKey } from "./in-key.js";
import { sectionScope } from "./scope.js";

/** A file made of a chart, and what the player should know of it. */
export interface MadeFile {
  /** `harbour-evening-F-sharp.mid`; without a key where the chart wasn't moved. */
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly notes: readonly string[];
}

/**
 * Makes a file of a chart, of the whole as it stands or as if it were moved to a key (`Eb`, `f#`, `Cm`). An svg shows
 * the section at an offset, or the first where none is there.
 */
export function exportChart(
  document: Document,
  kind: FileKind,
  key: string | undefined,
  bundles: Bundles,
  offset?: number,
): MadeFile | { readonly refused: string } {
  const target = key === undefined ? undefined : readTarget(key);
  if (target !== undefined && "refused" in target) return target;
  const moved = target === undefined ? document : inKey(document, target);
  if ("refused" in moved) return moved;
  const section = kind === "svg" && offset !== undefined ? nameAt(document, offset) : undefined;
  const made = exportFile(kind, moved.chart, bundles, {
    section,
    moved(tonic) {
      const there = inKey(moved, { tonic, mode: undefined });
      return "refused" in there ? undefined : there.chart;
    },
  });
  if (made === undefined)
    return {
      refused:
        section === undefined
          ? "There are no bars to draw yet. Write a section with a row first."
          : `The section ${section} has no bars to draw yet. Write a row in it, or put the cursor in another section.`,
    };
  const tonic = target === undefined ? undefined : moved.chart.header.home.key.tonic;
  const notes = made.cut ? [`The form goes on too long, so the file ends after ${made.bars} bars.`] : [];
  return {
    name: outputName(document.path, { tonic, section }, fileKinds[kind].ending),
    bytes: made.bytes,
    notes,
  };
}

/** The name of the section at an offset; `undefined` where none is, or it has no name. */
function nameAt(document: Document, offset: number): string | undefined {
  const scope = sectionScope(document, offset);
  return scope?.kind === "section" && scope.placed.section.name !== ""
    ? scope.placed.section.name
    : undefined;
}
