import type {
  CancellationToken,
  DefinitionParams,
  DocumentHighlight,
  DocumentHighlightKind,
  DocumentHighlightParams,
  DocumentLink,
  DocumentLinkParams,
  Location,
  LocationLink,
  ReferenceParams,
} from "vscode-languageserver";
import { definition } from "../../features/definition.js";
import { type Highlight, highlights } from "../../features/highlights.js";
import { links } from "../../features/links.js";
import { references } from "../../features/references.js";
import { fromDocument, fromPosition } from "../from-protocol.js";
import type { Session } from "../session.js";
import { toRange } from "../to-protocol.js";
import { toLocation, toLocations } from "./locations.js";

export const definitions = (
  session: Session,
  params: DefinitionParams,
  token: CancellationToken,
): Promise<Location[] | LocationLink[] | undefined> =>
  session.ask(fromDocument(params), token, ({ document }) => {
    const charts = session.knownCharts();
    const found = definition(document, fromPosition(document.tree, params.position), charts);
    if (found === undefined) return [];
    if (!session.client.definitionLinks) return toLocations(session, charts, found.targets);
    const originSelectionRange = toRange(document.tree.starts, found.origin);
    return found.targets.flatMap(({ path, span, whole }): LocationLink[] => {
      const name = toLocation(session, charts, { path, span });
      const all = toLocation(session, charts, { path, span: whole });
      if (name === undefined || all === undefined) return [];
      return [
        {
          originSelectionRange,
          targetUri: name.uri,
          targetRange: all.range,
          targetSelectionRange: name.range,
        },
      ];
    });
  });

export const findReferences = (
  session: Session,
  params: ReferenceParams,
  token: CancellationToken,
): Promise<Location[] | undefined> =>
  session.ask(fromDocument(params), token, async ({ document }) => {
    const charts = await session.charts();
    const offset = fromPosition(document.tree, params.position);
    const places = references(document, offset, charts, params.context?.includeDeclaration === true);
    return toLocations(session, charts, places);
  });

/** LSP 3.18, DocumentHighlightKind: a place where something comes to be is written, one where it is used is read. */
const highlightKinds: Readonly<Record<Highlight["kind"], DocumentHighlightKind>> = {
  struck: 3,
  used: 2,
  alike: 1,
};

export const documentHighlights = (
  session: Session,
  params: DocumentHighlightParams,
  token: CancellationToken,
): Promise<DocumentHighlight[] | undefined> =>
  session.ask(fromDocument(params), token, ({ document }) =>
    highlights(document, fromPosition(document.tree, params.position)).map(({ span, kind }) => ({
      range: toRange(document.tree.starts, span),
      kind: highlightKinds[kind],
    })),
  );

export const documentLinks = (
  session: Session,
  params: DocumentLinkParams,
  token: CancellationToken,
): Promise<DocumentLink[] | undefined> =>
  session.ask(
    fromDocument(params),
    token,
    ({ document }) =>
      links(document, session.knownCharts()).map(({ span, path }) => ({
        range: toRange(document.tree.starts, span),
        target: session.uriOf(path),
      })),
    "patient",
  );
