import type {
  CancellationToken,
  DocumentSymbol,
  DocumentSymbolParams,
  FoldingRange,
  FoldingRangeParams,
  SelectionRange,
  SelectionRangeParams,
  SymbolInformation,
  SymbolKind,
  WorkspaceSymbol,
  WorkspaceSymbolParams,
} from "vscode-languageserver";
import { folding } from "../../features/folding.js";
import { selectionRanges } from "../../features/selection-ranges.js";
import { type ChartSymbol, symbols } from "../../features/symbols.js";
import { workspaceSymbols } from "../../features/workspace-symbols.js";
import { fromDocument, fromPosition } from "../from-protocol.js";
import type { Session } from "../session.js";
import { type Starts, toRange } from "../to-protocol.js";
import { toLocation } from "./locations.js";

/** LSP 3.18, SymbolKind: `File` for a song, `Namespace` for a section. */
const kinds: Readonly<Record<ChartSymbol["kind"], SymbolKind>> = { title: 1, section: 3 };

export const documentSymbols = (
  session: Session,
  params: DocumentSymbolParams,
  token: CancellationToken,
): Promise<DocumentSymbol[] | SymbolInformation[] | undefined> =>
  session.ask(
    fromDocument(params),
    token,
    ({ chart, document, settings }) => {
      const found = symbols(document, settings.mostSymbols);
      const { starts } = document.tree;
      if (found.left > 0) tellOnce(session, chart.name, found.left);
      return session.client.nestedSymbols
        ? found.symbols.map((it) => nested(it, starts))
        : found.symbols.map((it) => flat(it, chart.uri, starts));
    },
    "patient",
  );

const nested = ({ name, kind, detail, span, nameSpan }: ChartSymbol, starts: Starts): DocumentSymbol => ({
  name,
  detail,
  kind: kinds[kind],
  range: toRange(starts, span),
  selectionRange: toRange(starts, nameSpan),
});

const flat = ({ name, kind, span }: ChartSymbol, uri: string, starts: Starts): SymbolInformation => ({
  name,
  kind: kinds[kind],
  location: { uri, range: toRange(starts, span) },
});

const told = new WeakMap<Session, Set<string>>();

/** Says in the log, once a chart, that its outline ends early. */
function tellOnce(session: Session, name: string, left: number): void {
  const names = told.get(session) ?? new Set();
  told.set(session, names);
  if (names.has(name)) return;
  names.add(name);
  session.connection.console.info(
    `The outline of ${session.uriOf(name)} leaves out ${left} sections; the setting plagal.symbols.max says how many it shows.`,
  );
}

export async function findSymbols(
  session: Session,
  { query }: WorkspaceSymbolParams,
): Promise<WorkspaceSymbol[]> {
  const charts = await session.charts();
  const wanted = typeof query === "string" ? query : "";
  return workspaceSymbols(charts, wanted, session.mostSymbols()).flatMap((it) => {
    const location = toLocation(session, charts, it);
    if (location === undefined) return [];
    return [
      {
        name: it.name,
        kind: kinds[it.kind],
        location,
        ...(it.within === undefined ? {} : { containerName: it.within }),
      },
    ];
  });
}

export const foldingRanges = (
  session: Session,
  params: FoldingRangeParams,
  token: CancellationToken,
): Promise<FoldingRange[] | undefined> =>
  session.ask(
    fromDocument(params),
    token,
    ({ document }) =>
      folding(document).map(({ firstLine, lastLine, kind }) => ({
        startLine: firstLine,
        endLine: lastLine,
        kind: kind === "comment" ? "comment" : "region",
      })),
    "patient",
  );

export const selections = (
  session: Session,
  params: SelectionRangeParams,
  token: CancellationToken,
): Promise<SelectionRange[] | undefined> =>
  session.ask(fromDocument(params), token, ({ document }) => {
    const positions = Array.isArray(params.positions) ? params.positions : [];
    return positions.map((position) => {
      const spans = selectionRanges(document, fromPosition(document.tree, position));
      // From the widest in: each is the parent of the next.
      const chain = spans.reduceRight<SelectionRange | undefined>(
        (parent, span) => ({
          range: toRange(document.tree.starts, span),
          ...(parent === undefined ? {} : { parent }),
        }),
        undefined,
      );
      return chain ?? { range: { start: position, end: position } };
    });
  });
