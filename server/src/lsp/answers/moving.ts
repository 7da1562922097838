import { type CancellationToken, LSPErrorCodes, ResponseError } from "vscode-languageserver";
import { keyChoices } from "../../features/keys.js";
import { move } from "../../features/move.js";
import { newChart as newChartSnippet } from "../../features/new-chart.js";
import { practise as practiseForm } from "../../features/practise.js";
import { rewrite as rewriteChart } from "../../features/rewrite.js";
import { wholeChart } from "../../features/scope.js";
import { isTempo, setTempo } from "../../features/set-tempo.js";
import { status as statusOf } from "../../features/status.js";
import { fromDocument } from "../from-protocol.js";
import type { ClientRequests, EditAnswer } from "../protocol.js";
import type { Session } from "../session.js";
import { answerOf, invalid, notOpen, type Params, type Result, scopeOf } from "./edit-answer.js";

export const keys = async (
  session: Session,
  params: Params<"plagal/keys">,
  token: CancellationToken,
): Result<"plagal/keys"> =>
  (await session.ask(fromDocument(params), token, ({ document }) =>
    keyChoices(document, scopeOf(document, params)).map(
      ({ key, name, signature, interval, lowest, highest, present }) => ({
        key,
        name,
        signature,
        interval,
        ...(lowest === undefined || highest === undefined ? {} : { lowest, highest }),
        present,
      }),
    ),
  )) ?? [];

export const moveOne = async (
  session: Session,
  params: Params<"plagal/move">,
  token: CancellationToken,
): Result<"plagal/move"> => {
  const { key } = params;
  if (typeof key !== "string") throw invalid("`key` is missing.");
  const answer = await session.ask(fromDocument(params), token, ({ document }) =>
    answerOf(session, document, move(document, scopeOf(document, params), key)),
  );
  return answer ?? notOpen;
};

/** Chart by chart, so that it can be cancelled in between. */
export const moveAll = async (
  session: Session,
  { key, workDoneToken }: Params<"plagal/moveAll">,
  token: CancellationToken,
): Result<"plagal/moveAll"> => {
  if (typeof key !== "string") throw invalid("`key` is missing.");
  const charts = (await session.charts()).all();
  const report = (value: object): void => {
    if (workDoneToken !== undefined)
      void session.connection.sendNotification("$/progress", { token: workDoneToken, value });
  };
  report({ kind: "begin", title: `Moving charts to ${key}`, cancellable: true, percentage: 0 });
  const answers: (EditAnswer & { uri: string })[] = [];
  for (const [i, document] of charts.entries()) {
    await new Promise<void>((resolve) => void session.host.whenIdle(resolve));
    if (token.isCancellationRequested) {
      report({ kind: "end" });
      throw new ResponseError(LSPErrorCodes.RequestCancelled, "Cancelled.");
    }
    const now = session.knownCharts().open(document.path);
    if (now === undefined) continue;
    const { uri } = session.identify(now.path);
    answers.push({ uri, ...answerOf(session, now, move(now, wholeChart, key)) });
    report({ kind: "report", message: uri, percentage: Math.floor((100 * (i + 1)) / charts.length) });
  }
  report({ kind: "end" });
  return { charts: answers };
};

const notations: ReadonlySet<unknown> = new Set(["numbers", "letters"]);
const rewritten = ["chords", "lead", "right", "left", "bass"] as const;

export const rewrite = async (
  session: Session,
  params: Params<"plagal/rewrite">,
  token: CancellationToken,
): Result<"plagal/rewrite"> => {
  const { to, rows } = params;
  if (!notations.has(to)) throw invalid("`to` is “numbers” or “letters”.");
  const wanted = Array.isArray(rows) ? rewritten.filter((row) => rows.includes(row)) : rewritten;
  const answer = await session.ask(fromDocument(params), token, ({ document }) =>
    answerOf(session, document, rewriteChart(document, to, wanted)),
  );
  return answer ?? notOpen;
};

const orders: ReadonlySet<unknown> = new Set(["fourths", "half-steps", "shuffled"]);

export const practise = async (
  session: Session,
  params: Params<"plagal/practise">,
  token: CancellationToken,
): Result<"plagal/practise"> => {
  const { order, seed } = params;
  if (!orders.has(order)) throw invalid("`order` is “fourths”, “half-steps” or “shuffled”.");
  const whole = Number.isSafeInteger(seed) ? seed : 1;
  const answer = await session.ask(fromDocument(params), token, ({ document }) =>
    answerOf(session, document, practiseForm(document, order, whole)),
  );
  return answer ?? notOpen;
};

export const writeTempo = async (
  session: Session,
  params: Params<"plagal/setTempo">,
  token: CancellationToken,
): Result<"plagal/setTempo"> => {
  const { tempo } = params;
  if (!isTempo(tempo)) throw invalid("`tempo` is a whole number of beats a minute, 1 to 999.");
  const answer = await session.ask(fromDocument(params), token, ({ document }) =>
    answerOf(session, document, setTempo(document, tempo)),
  );
  return answer ?? notOpen;
};

export const newChart = (
  _: Session,
  params: Params<"plagal/newChart"> | null,
): ClientRequests["plagal/newChart"]["result"] => ({
  text: newChartSnippet(typeof params?.key === "string" ? params.key : undefined),
});

export const status = async (
  session: Session,
  params: Params<"plagal/status">,
  token: CancellationToken,
): Promise<ClientRequests["plagal/status"]["result"] | undefined> =>
  session.ask(fromDocument(params), token, ({ document }) => statusOf(document), "patient");
