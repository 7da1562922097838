import {
  type CancellationToken,
  type CodeAction,
  type CodeActionParams,
  type Command,
  type ExecuteCommandParams,
  LSPErrorCodes,
  ResponseError,
} from "vscode-languageserver";
import type { Action } from "../../features/action.js";
import { actions } from "../../features/actions.js";
import type { Span } from "../../text/span.js";
import { fromDocument, fromRange } from "../from-protocol.js";
import type { Place } from "../protocol.js";
import type { Session, Subject } from "../session.js";
import { editStarts, toDiagnostic, toRange, toWorkspaceEdit } from "../to-protocol.js";

/** Said to the player after an action has been applied: the server's own command. */
export const tellCommand = "plagal.tell";

/** What was offered, so that the one that is chosen can be worked out. */
interface Offered {
  readonly id: number;
  readonly uri: string;
  readonly revision: number;
  readonly actions: readonly Action[];
}
/** An editor asks at every move of the cursor while an older list is still open: so many stay good. */
const mostOffers = 30;
const offers = new WeakMap<Session, readonly Offered[]>();
let count = 0;

interface ActionData {
  readonly id: number;
  readonly index: number;
}

export const codeActions = (
  session: Session,
  params: CodeActionParams,
  token: CancellationToken,
): Promise<CodeAction[] | undefined> =>
  session.ask(fromDocument(params), token, (subject) => {
    const { chart, document } = subject;
    const span = fromRange(document.tree, params.range);
    const only = params.context?.only;
    const found = actions(document, span, Array.isArray(only) ? { only } : {});
    const { client } = session;
    const isKept = ({ kind }: Action): boolean => {
      if (kind === "refactor.move") return client.options.pickers !== true;
      // A client that can't have one action worked out has all of them worked out, and a search takes its time.
      return kind !== "refactor.rewrite.voice" || client.resolvesActions || Array.isArray(only);
    };
    const kept = found.filter(isKept);
    const id = ++count;
    const offered = { id, uri: chart.uri, revision: chart.revision, actions: kept };
    offers.set(session, [offered, ...(offers.get(session) ?? [])].slice(0, mostOffers));
    const all = kept.map((action, index): CodeAction => {
      const head = headOf(action, subject, session.pages);
      return client.resolvesActions
        ? { ...head, data: { id, index } satisfies ActionData }
        : { ...head, ...workOut(session, subject, action) };
    });
    // Without its edit an action that can't be made would do nothing.
    const made = client.resolvesActions ? all : all.filter(({ edit }) => edit !== undefined);
    return client.options.pickers === true ? withPickers(made, found, subject, span) : made;
  });

const headOf = (
  { title, kind, problem, isPreferred }: Action,
  { chart, document }: Subject,
  pages: string | undefined,
) => ({
  title,
  kind,
  ...(isPreferred ? { isPreferred } : {}),
  ...(problem === undefined
    ? {}
    : { diagnostics: [toDiagnostic(problem, chart.uri, document.tree.starts, pages)] }),
});

/** With the client's own commands, which let the player choose a key or a style, where there are such actions. */
function withPickers(
  made: readonly CodeAction[],
  found: readonly Action[],
  { chart, document }: Subject,
  span: Span,
): CodeAction[] {
  const textDocument = { uri: chart.uri };
  const range = toRange(document.tree.starts, span);
  const isSelection = span.end > span.start;
  const voicings = made.findLastIndex(({ kind }) => kind === "refactor.rewrite.voice") + 1;
  const place = { textDocument, range, ...(isSelection ? {} : { section: true }) };
  const moving = { textDocument, ...(isSelection ? { range } : {}) };
  return [
    ...made.slice(0, voicings),
    ...(voicings === 0
      ? []
      : [picker("refactor.rewrite.voice", "Voice in another style…", "plagal.voice", place)]),
    ...made.slice(voicings),
    ...(found.some(({ kind }) => kind === "refactor.move")
      ? [picker("refactor.move", "Move to another key…", "plagal.move", moving)]
      : []),
  ];
}

const picker = (kind: Action["kind"], title: string, command: string, place: Place): CodeAction => ({
  title,
  kind,
  command: { title, command, arguments: [place] },
});

/** The edit of an action, and the command that tells what there is to tell afterwards; nothing where it is refused. */
function workOut(
  session: Session,
  { chart, document }: Subject,
  action: Action,
): Pick<CodeAction, "edit" | "command"> {
  const change = action.change();
  if ("refused" in change) return {};
  const starts = editStarts(document.tree);
  const edits = { ...session.identify(chart.name), starts, edits: change.edits };
  return {
    edit: toWorkspaceEdit([edits], session.client.versionedEdits),
    ...(change.notes.length === 0 ? {} : { command: tell(change.notes) }),
  };
}

const tell = (notes: readonly string[]): Command => ({
  title: "Say what should be known",
  command: tellCommand,
  arguments: [...notes],
});

/** Works out the action that was chosen. */
export async function chosenAction(
  session: Session,
  params: CodeAction,
  token: CancellationToken,
): Promise<CodeAction> {
  const { id, index } = (params.data ?? {}) as Partial<ActionData>;
  const offered = offers.get(session)?.find((it) => it.id === id);
  const action = offered?.actions[index ?? -1];
  if (offered === undefined || action === undefined)
    throw new ResponseError(LSPErrorCodes.ContentModified, "Other actions have been offered since.");
  const made = await session.ask(offered.uri, token, (subject) => {
    if (subject.chart.revision !== offered.revision)
      throw new ResponseError(LSPErrorCodes.ContentModified, "The chart has changed since.");
    const change = action.change();
    if ("refused" in change) throw new ResponseError(LSPErrorCodes.RequestFailed, change.refused);
    return workOut(session, subject, action);
  });
  return { ...params, ...made };
}

/** The server's one command says its arguments to the player. */
export function executeCommand({ connection }: Session, params: ExecuteCommandParams): null {
  if (params.command !== tellCommand)
    throw new ResponseError(LSPErrorCodes.RequestFailed, `There is no command ${params.command} here.`);
  const said = (params.arguments ?? []).filter((it): it is string => typeof it === "string");
  // LSP 3.18, MessageType: 3 is information.
  if (said.length > 0)
    void connection.sendNotification("window/showMessage", { type: 3, message: said.join("\n") });
  return null;
}
