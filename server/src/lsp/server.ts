import {
  type CancellationToken,
  CodeActionRequest,
  CodeActionResolveRequest,
  CompletionRequest,
  CompletionResolveRequest,
  type Connection,
  DefinitionRequest,
  type DidChangeWorkspaceFoldersParams,
  DocumentDiagnosticRequest,
  DocumentFormattingRequest,
  DocumentHighlightRequest,
  DocumentLinkRequest,
  DocumentRangeFormattingRequest,
  DocumentRangesFormattingRequest,
  DocumentSymbolRequest,
  ErrorCodes,
  ExecuteCommandRequest,
  FoldingRangeRequest,
  HoverRequest,
  InlayHintRequest,
  PrepareRenameRequest,
  ReferencesRequest,
  type Registration,
  RenameRequest,
  ResponseError,
  SelectionRangeRequest,
  SemanticTokensDeltaRequest,
  SemanticTokensRangeRequest,
  SemanticTokensRequest,
  type ServerCapabilities,
  WorkspaceSymbolRequest,
} from "vscode-languageserver";
import { tokenModifiers, tokenTypes } from "../features/semantic-tokens.js";
import { type Client, readClient } from "./client.js";
import { type Answer, type Handler, own, request } from "./handler.js";
import type { Host } from "./host.js";
import type { ClientNotifications } from "./protocol.js";
import type { Session } from "./session.js";

// Loaded once `initialize` has been answered, so that a start waits for none of them.
const actions = () => import("./answers/actions.js");
const completion = () => import("./answers/completion.js");
const diagnose = () => import("./diagnose.js");
const exporting = () => import("./answers/exporting.js");
const formatting = () => import("./answers/formatting.js");
const hints = () => import("./answers/hints.js");
const hover = () => import("./answers/hover.js");
const moving = () => import("./answers/moving.js");
const navigation = () => import("./answers/navigation.js");
const livePage = () => import("./answers/live-page.js");
const rename = () => import("./answers/rename.js");
const structure = () => import("./answers/structure.js");
const tokens = () => import("./answers/tokens.js");
const voicing = () => import("./answers/voicing.js");

/** Everything that the server answers: a request, what it announces, and where its answer is made. */
const requests: readonly Handler[] = [
  request(DocumentDiagnosticRequest.type, pulledDiagnostics, diagnose, "pulledDiagnostics"),
  request(HoverRequest.type, { hoverProvider: true }, hover, "hoverText"),
  request(CompletionRequest.type, offeringCompletions, completion, "completions"),
  request(CompletionResolveRequest.type, {}, completion, "documentedItem"),
  request(CodeActionRequest.type, offeringActions, actions, "codeActions"),
  request(CodeActionResolveRequest.type, {}, actions, "chosenAction"),
  request(
    ExecuteCommandRequest.type,
    { executeCommandProvider: { commands: ["plagal.tell"] } },
    actions,
    "executeCommand",
  ),
  request(DefinitionRequest.type, { definitionProvider: true }, navigation, "definitions"),
  request(ReferencesRequest.type, { referencesProvider: true }, navigation, "findReferences"),
  request(
    DocumentHighlightRequest.type,
    { documentHighlightProvider: true },
    navigation,
    "documentHighlights",
  ),
  request(DocumentLinkRequest.type, { documentLinkProvider: {} }, navigation, "documentLinks"),
  request(DocumentSymbolRequest.type, { documentSymbolProvider: true }, structure, "documentSymbols"),
  request(WorkspaceSymbolRequest.type, { workspaceSymbolProvider: true }, structure, "findSymbols"),
  request(FoldingRangeRequest.type, { foldingRangeProvider: true }, structure, "foldingRanges"),
  request(SelectionRangeRequest.type, { selectionRangeProvider: true }, structure, "selections"),
  request(RenameRequest.type, renaming, rename, "renameSection"),
  request(PrepareRenameRequest.type, {}, rename, "renamePlace"),
  request(DocumentFormattingRequest.type, { documentFormattingProvider: true }, formatting, "wholeChart"),
  request(DocumentRangeFormattingRequest.type, rangeFormatting, formatting, "oneRange"),
  request(DocumentRangesFormattingRequest.type, {}, formatting, "severalRanges"),
  request(SemanticTokensRequest.type, semanticTokens, tokens, "allTokens"),
  request(SemanticTokensDeltaRequest.type, {}, tokens, "changedTokens"),
  request(SemanticTokensRangeRequest.type, {}, tokens, "tokensInRange"),
  request(InlayHintRequest.type, { inlayHintProvider: true }, hints, "hints"),
  own("plagal/keys", moving, "keys"),
  own("plagal/move", moving, "moveOne"),
  own("plagal/moveAll", moving, "moveAll"),
  own("plagal/rewrite", moving, "rewrite"),
  own("plagal/practise", moving, "practise"),
  own("plagal/voicings", voicing, "voicings"),
  own("plagal/voice", voicing, "voiceRows"),
  own("plagal/nextVoicing", voicing, "nextVoicing"),
  own("plagal/revoice", voicing, "revoice"),
  own("plagal/export", exporting, "exportChart"),
  own("plagal/setTempo", moving, "writeTempo"),
  own("plagal/page", livePage, "pageOf"),
  own("plagal/newChart", moving, "newChart"),
  own("plagal/status", moving, "status"),
];

/** What the server is told, beside the changes of open charts. */
const textDocumentSync = { openClose: true, change: 2, save: true } as const;
const workspace = { workspaceFolders: { supported: true, changeNotifications: true } } as const;

/** What it asks to be told, where the client can be asked. */
const registrations = ({ watchesFiles, registersSettings }: Client): readonly Registration[] => [
  ...(watchesFiles
    ? [asksFor("workspace/didChangeWatchedFiles", { watchers: [{ globPattern: "**/*.plagal" }] })]
    : []),
  ...(registersSettings ? [asksFor("workspace/didChangeConfiguration", { section: "plagal" })] : []),
];

const asksFor = (method: string, registerOptions: object): Registration => ({
  id: `plagal ${method}`,
  method,
  registerOptions,
});

function pulledDiagnostics({ pullsDiagnostics }: Client): Partial<ServerCapabilities> {
  const how = { identifier: "plagal", interFileDependencies: true, workspaceDiagnostics: false };
  return pullsDiagnostics ? { diagnosticProvider: how } : {};
}

function offeringCompletions(): Partial<ServerCapabilities> {
  // Where what follows is one of few. A space would open the list at every slot.
  return { completionProvider: { triggerCharacters: [":", "/", "+", '"'], resolveProvider: true } };
}

function offeringActions({ resolvesActions }: Client): Partial<ServerCapabilities> {
  const codeActionKinds = ["quickfix", "refactor.move", "refactor.rewrite", "source.fixAll.plagal"];
  return { codeActionProvider: { codeActionKinds, resolveProvider: resolvesActions } };
}

function renaming({ preparesRename }: Client): Partial<ServerCapabilities> {
  return { renameProvider: preparesRename ? { prepareProvider: true } : true };
}

function rangeFormatting({ formatsRanges }: Client): Partial<ServerCapabilities> {
  return { documentRangeFormattingProvider: formatsRanges ? { rangesSupport: true } : true };
}

function semanticTokens(): Partial<ServerCapabilities> {
  const legend = { tokenTypes: [...tokenTypes], tokenModifiers: [...tokenModifiers] };
  return { semanticTokensProvider: { legend, full: { delta: true }, range: true } };
}

const capabilitiesFor = (client: Client): ServerCapabilities =>
  Object.assign(
    { positionEncoding: "utf-16", textDocumentSync, workspace },
    ...requests.map(({ capability }) => capability(client)),
  );

interface Running {
  readonly session: Session;
  /** In the order of `requests`. */
  readonly answers: readonly Answer<unknown, unknown>[];
  readonly stop: () => void;
}

async function run(connection: Connection, host: Host, client: Client): Promise<Running> {
  const [{ openSession }, { startDiagnosing }, { warmUp }, answers] = await Promise.all([
    import("./session.js"),
    diagnose(),
    import("./warm-up.js"),
    Promise.all(requests.map(({ load }) => load())),
  ]);
  const session = openSession(connection, host, client);
  const stopDiagnosing = startDiagnosing(session);
  const stopWarming = warmUp(session);
  const stop = (): void => {
    stopDiagnosing();
    stopWarming();
  };
  return { session, answers, stop };
}

/** Serves one client. */
export function startServer(connection: Connection, host: Host): void {
  let client: Client | undefined;
  let isShut = false;
  let running: Promise<Running> | undefined;

  /** Refuses what comes at a wrong time, as the protocol has it; else what is running, made at first need. */
  function atWork(): Promise<Running> {
    if (client === undefined)
      throw new ResponseError(ErrorCodes.ServerNotInitialized, "`initialize` comes first.");
    if (isShut) throw new ResponseError(ErrorCodes.InvalidRequest, "The server has been shut down.");
    running ??= run(connection, host, client);
    return running;
  }

  /** Takes a notification; where that can't be done it is written to the log, and nothing else comes of it. */
  const told = <P>(take: (session: Session, params: P) => void | Promise<void>) => {
    return async (params: P): Promise<void> => {
      if (client === undefined || isShut) return;
      const { session } = await atWork();
      try {
        await take(session, params);
      } catch (error) {
        connection.console.error(`A message could not be taken: ${(error as Error).message}`);
      }
    };
  };

  connection.onInitialize((params) => {
    if (client !== undefined)
      throw new ResponseError(ErrorCodes.InvalidRequest, "The server is initialized already.");
    client = readClient(params);
    return { capabilities: capabilitiesFor(client), serverInfo: { name: "plagal", version: host.version } };
  });
  connection.onInitialized(
    told(async (session) => {
      const wanted = registrations(session.client);
      if (wanted.length > 0) register(connection, wanted);
      await session.settingsChanged(session.client.options.settings);
    }),
  );
  connection.onShutdown(async () => {
    const { stop } = await atWork();
    isShut = true;
    stop();
  });

  connection.onDidOpenTextDocument(told((session, { textDocument }) => session.open(textDocument)));
  connection.onDidChangeTextDocument(
    told((session, { textDocument: { uri, version }, contentChanges }) =>
      session.change(uri, version, contentChanges),
    ),
  );
  connection.onDidSaveTextDocument(told((session, { textDocument }) => session.saved(textDocument.uri)));
  connection.onDidCloseTextDocument(told((session, { textDocument }) => session.close(textDocument.uri)));
  connection.onDidChangeWatchedFiles(told((session, { changes }) => session.filesChanged(changes)));
  connection.onDidChangeConfiguration(told((session, { settings }) => session.settingsChanged(settings)));
  connection.onNotification(
    "workspace/didChangeWorkspaceFolders",
    told((session, { event }: DidChangeWorkspaceFoldersParams) => session.foldersChanged(event)),
  );
  connection.onNotification(
    "plagal/theme",
    told((session, params: ClientNotifications["plagal/theme"]) => session.themeChanged(params)),
  );

  for (const [i, { method }] of requests.entries()) {
    connection.onRequest(method, async (params: unknown, token: CancellationToken) => {
      const { session, answers } = await atWork();
      return (await (answers[i] as Answer<unknown, unknown>)(session, params, token)) ?? null;
    });
  }
  connection.onRequest((method) => {
    void atWork();
    throw new ResponseError(ErrorCodes.MethodNotFound, `There is no request ${method} here.`);
  });
  connection.listen();
}

/** A client that refuses is served without. */
function register(connection: Connection, wanted: readonly Registration[]): void {
  connection.sendRequest("client/registerCapability", { registrations: wanted }).catch(() => undefined);
}
