import type { InitializeParams } from "vscode-languageserver";
import { readTheme } from "./editor-theme.js";
import type { EditorTheme, InitializationOptions } from "./protocol.js";

/** What the client can do, read once. Whatever it leaves unsaid it can't. */
export interface Client {
  readonly options: InitializationOptions;
  /** The workspace folders, as the client writes their URIs. */
  readonly folders: readonly string[];
  /** It asks for diagnostics, and can be told to ask anew. */
  readonly pullsDiagnostics: boolean;
  readonly canBeAskedForSettings: boolean;
  readonly registersSettings: boolean;
  readonly watchesFiles: boolean;
  readonly tellsFolderChanges: boolean;
  /** Hover and documentation as Markdown; else plain text. */
  readonly hoverInMarkdown: boolean;
  readonly documentationInMarkdown: boolean;
  /** The theme, as of the start, for pictures in its hovers; `undefined` where it shows none. */
  readonly pictures: EditorTheme | undefined;
  readonly snippets: boolean;
  readonly nestedSymbols: boolean;
  /** Edits of several charts as documents with their versions. */
  readonly versionedEdits: boolean;
  /** A definition may say what it was asked about, and all that belongs to its target. */
  readonly definitionLinks: boolean;
  readonly preparesRename: boolean;
  /** Several ranges at once. */
  readonly formatsRanges: boolean;
  /** Edits of a code action may be left out until it is chosen. */
  readonly resolvesActions: boolean;
  readonly refreshesHints: boolean;
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** A client may send anything: what is no object counts as left out. */
export function readClient(params: InitializeParams): Client {
  const given: Partial<InitializeParams> = isRecord(params) ? params : {};
  const { textDocument, workspace }: NonNullable<Partial<InitializeParams["capabilities"]>> = isRecord(
    given.capabilities,
  )
    ? given.capabilities
    : {};
  const options = isRecord(given.initializationOptions)
    ? (given.initializationOptions as InitializationOptions)
    : {};
  const hoverInMarkdown = prefersMarkdown(textDocument?.hover?.contentFormat);
  const item = textDocument?.completion?.completionItem;
  return {
    options,
    folders: foldersOf(given),
    pullsDiagnostics: isRecord(textDocument?.diagnostic) && workspace?.diagnostics?.refreshSupport === true,
    canBeAskedForSettings: workspace?.configuration === true,
    registersSettings: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    watchesFiles: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    tellsFolderChanges: workspace?.workspaceFolders === true,
    hoverInMarkdown,
    documentationInMarkdown: prefersMarkdown(item?.documentationFormat),
    pictures: hoverInMarkdown ? readTheme(options.pictures) : undefined,
    snippets: item?.snippetSupport === true,
    nestedSymbols: textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport === true,
    versionedEdits: workspace?.workspaceEdit?.documentChanges === true,
    definitionLinks: textDocument?.definition?.linkSupport === true,
    preparesRename: textDocument?.rename?.prepareSupport === true,
    formatsRanges: textDocument?.rangeFormatting?.rangesSupport === true,
    resolvesActions: textDocument?.codeAction?.resolveSupport?.properties?.includes("edit") === true,
    refreshesHints: workspace?.inlayHint?.refreshSupport === true,
  };
}

const prefersMarkdown = (formats: unknown): boolean => Array.isArray(formats) && formats[0] === "markdown";

function foldersOf({ workspaceFolders, rootUri, rootPath }: Partial<InitializeParams>): readonly string[] {
  if (Array.isArray(workspaceFolders) && workspaceFolders.length > 0)
    return workspaceFolders.map(({ uri }) => uri).filter((uri) => typeof uri === "string");
  if (typeof rootUri === "string") return [rootUri];
  // From a time before URIs; a path of Windows has no `/` at its start.
  if (typeof rootPath === "string" && rootPath.startsWith("/"))
    return [`file://${rootPath.split("/").map(encodeURIComponent).join("/")}`];
  return [];
}
