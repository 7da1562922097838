import type { Document } from "../document/document.js";
import { shift } from "../text/span.js";
import type { Charts, Place } from "./charts.js";

/** A song or one of its sections, found by its name. */
export interface WorkspaceSymbol extends Place {
  readonly name: string;
  readonly kind: "title" | "section";
  /** Of a section the song's title. */
  readonly within: string | undefined;
}

/**
 * Song titles and sections of all charts whose letters hold those of `query` in order (capitals don't matter), the
 * nearest first: names that start with it, names that have it in one piece, others. At most `max` of them.
 */
export function workspaceSymbols(charts: Charts, query: string, max: number): readonly WorkspaceSymbol[] {
  const wanted = query.toLowerCase().replace(/\s+/g, "");
  const ranked: WorkspaceSymbol[][] = [[], [], []];
  for (const document of charts.all()) {
    for (const symbol of symbolsIn(document)) {
      const rank = rankOf(symbol.name.toLowerCase().replace(/\s+/g, ""), wanted);
      if (rank !== undefined) ranked[rank]?.push(symbol);
    }
  }
  return ranked.flat().slice(0, Math.max(0, max));
}

function symbolsIn({ path, outline: { header, headerStarts, sections } }: Document): WorkspaceSymbol[] {
  const symbols: WorkspaceSymbol[] = [];
  let title: string | undefined;
  for (const [i, { statement }] of header.entries()) {
    if (statement.kind !== "text" || statement.word !== "title" || statement.value === "") continue;
    title = statement.value;
    const span = shift(statement.span, headerStarts[i] ?? 0);
    symbols.push({ path, span, name: title, kind: "title", within: undefined });
    break;
  }
  for (const { source, offset } of sections) {
    if (source.name === "" || source.nameSpan === undefined) continue;
    const span = shift(source.nameSpan, offset);
    symbols.push({ path, span, name: source.name, kind: "section", within: title });
  }
  return symbols;
}

/** 0 where the name starts with the query, 1 where it has it in one piece, 2 where it has its letters in order. */
function rankOf(name: string, query: string): 0 | 1 | 2 | undefined {
  const at = name.indexOf(query);
  if (at >= 0) return at === 0 ? 0 : 1;
  let from = 0;
  for (const letter of query) {
    const found = name.indexOf(letter, from);
    if (found < 0) return undefined;
    from = found + letter.length;
  }
  return 2;
}
