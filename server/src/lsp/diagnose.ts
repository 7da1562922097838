import type {
  CancellationToken,
  Diagnostic,
  DocumentDiagnosticParams,
  DocumentDiagnosticReport,
} from "vscode-languageserver";
import type { Document } from "../document/document.js";
import { holdBack } from "../features/hold-back.js";
import { fromDocument } from "./from-protocol.js";
import { longestChart, type OpenChart, type Session, type Subject } from "./session.js";
import { toDiagnostic, toRange } from "./to-protocol.js";

/** How long the problems of a token that is being typed are held back, in milliseconds. */
const typingPause = 600;

interface State {
  /** Its problems are to be published anew. */
  isDirty: boolean;
  /** The typing has paused: nothing is held back until the next change. */
  hasPaused: boolean;
  stopTimer: (() => void) | undefined;
  last: Report | undefined;
}

interface Report {
  readonly document: Document;
  readonly hasPaused: boolean;
  readonly isHolding: boolean;
  readonly id: string;
  readonly items: Diagnostic[];
}

/** How each session reports on a chart. */
const reporters = new WeakMap<Session, (subject: Subject) => Report>();

/** The answer to a client that asks for a chart's problems. */
export async function pulledDiagnostics(
  session: Session,
  params: DocumentDiagnosticParams,
  token: CancellationToken,
): Promise<DocumentDiagnosticReport> {
  const uri = fromDocument(params);
  const report = reporters.get(session);
  await session.settingsKnown;
  const found = report && (await session.ask(uri, token, report, "patient"));
  if (found === undefined) return { kind: "full", items: [] };
  if (params.previousResultId === found.id) return { kind: "unchanged", resultId: found.id };
  return { kind: "full", resultId: found.id, items: found.items };
}

/**
 * Shows the problems of open charts, to a client that asks for them or unasked, and follows what changes them; what
 * it gives stops that.
 */
export function startDiagnosing(session: Session): () => void {
  const { client, host, connection } = session;
  const states = new WeakMap<OpenChart, State>();
  let reports = 0;
  let stopWaiting: (() => void) | undefined;
  let stopRefreshing: (() => void) | undefined;

  const stateOf = (chart: OpenChart): State => {
    let state = states.get(chart);
    if (state === undefined) {
      state = { isDirty: false, hasPaused: false, stopTimer: undefined, last: undefined };
      states.set(chart, state);
    }
    return state;
  };

  /** Asks the client to ask anew; many reasons at once ask once. */
  function refresh(): void {
    stopRefreshing?.();
    stopRefreshing = host.whenIdle(() => {
      stopRefreshing = undefined;
      // A client that says no keeps what it has.
      connection.sendRequest("workspace/diagnostic/refresh").catch(() => undefined);
    });
  }

  /** Begins anew with every change, so that a burst of changes is judged once. */
  function schedule(): void {
    stopWaiting?.();
    stopWaiting = host.whenIdle(() => {
      stopWaiting = undefined;
      publishNext();
    });
  }

  function publishNext(): void {
    if (!session.hasSettings()) return;
    const dirty = [...session.all()].filter((chart) => stateOf(chart).isDirty);
    const [chart] = dirty;
    if (chart === undefined) return;
    stateOf(chart).isDirty = false;
    // A slip of ours in one chart is no reason to leave the others unjudged.
    const slip = (error: unknown): void =>
      connection.console.error(`${chart.uri} could not be judged: ${(error as Error).message}`);
    try {
      const subject = session.subjectOf(chart);
      if (subject instanceof Promise) subject.then(publish).catch(slip);
      else publish(subject);
    } catch (error) {
      slip(error);
    }
    if (dirty.length > 1) schedule();
  }

  function publish(subject: Subject): void {
    const { chart } = subject;
    // Changed while other charts were read: it is judged again anyway.
    if (stateOf(chart).isDirty || session.openChart(chart.name) !== chart) return;
    const { items } = report(subject);
    const { uri, version } = chart;
    void connection.sendNotification("textDocument/publishDiagnostics", {
      uri,
      version,
      diagnostics: items,
    });
  }

  function report(subject: Subject): Report {
    const { chart, document } = subject;
    const state = stateOf(chart);
    const { last, hasPaused } = state;
    if (last?.document === document && (last.hasPaused === hasPaused || !last.isHolding)) return last;
    const { items, isHolding } = diagnosticsOf(subject, hasPaused, session.pages);
    state.last = { document, hasPaused, isHolding, id: `${++reports}`, items };
    if (isHolding) {
      state.stopTimer ??= host.later(typingPause, () => {
        state.stopTimer = undefined;
        state.hasPaused = true;
        if (session.openChart(chart.name) !== chart) return;
        if (client.pullsDiagnostics) refresh();
        else {
          state.isDirty = true;
          schedule();
        }
      });
    }
    if (!client.watchesFiles && chart.asked.size > 0) session.lookAgain(chart).catch(() => undefined);
    return state.last;
  }

  session.listen({
    changed(chart, typed) {
      const state = stateOf(chart);
      if (typed) {
        state.stopTimer?.();
        state.stopTimer = undefined;
        state.hasPaused = false;
      }
      if (!client.pullsDiagnostics) {
        state.isDirty = true;
        schedule();
      } else if (!typed) refresh();
    },
    closed(chart) {
      stateOf(chart).stopTimer?.();
      if (!client.pullsDiagnostics)
        void connection.sendNotification("textDocument/publishDiagnostics", {
          uri: chart.uri,
          diagnostics: [],
        });
    },
  });

  reporters.set(session, report);
  return () => {
    stopWaiting?.();
    stopRefreshing?.();
    for (const chart of session.all()) stateOf(chart).stopTimer?.();
  };
}

/** The problems of a chart as the protocol has them, without those that are held back. */
function diagnosticsOf(
  { chart, document }: Subject,
  hasPaused: boolean,
  pages: string | undefined,
): { readonly items: Diagnostic[]; readonly isHolding: boolean } {
  const { length } = chart.text.whole();
  if (length > longestChart) return { items: [tooLong(document)], isHolding: false };
  const { starts } = document.tree;
  const { shown, held } = holdBack(document, hasPaused ? undefined : chart.text.lastChange());
  return {
    items: shown.map((it) => toDiagnostic(it, chart.uri, starts, pages)),
    isHolding: held.length > 0,
  };
}

const tooLong = (document: Document): Diagnostic => ({
  range: toRange(document.tree.starts, { start: 0, end: 0 }),
  severity: 1,
  source: "plagal",
  message: `This chart has more than ${longestChart} characters and is not read. Part it into several charts.`,
});
