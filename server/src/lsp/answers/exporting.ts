import type { CancellationToken } from "vscode-languageserver";
import { type Bundles, type FileKind, fileKinds } from "../../exports/export-file.js";
import { exportChart as exportedChart } from "../../features/export-chart.js";
import { base64 } from "../../text/base64.js";
import { fromDocument, fromPosition } from "../from-protocol.js";
import { loadedBundle } from "../loaded-bundle.js";
import type { Session } from "../session.js";
import { invalid, notOpen, type Params, type Result } from "./edit-answer.js";

/** Makes a file of a chart. What makes it is loaded when first asked for. */
export const exportChart = async (
  session: Session,
  params: Params<"plagal/export">,
  token: CancellationToken,
): Result<"plagal/export"> => {
  const { kind, key, position } = params;
  if (!Object.hasOwn(fileKinds, kind)) throw invalid("`kind` is “midi”, “musicxml”, “pdf”, “svg” or “page”.");
  if (key !== undefined && typeof key !== "string") throw invalid("`key` is a text.");
  const bundles = await loaded(session, kind);
  const answer = await session.ask(fromDocument(params), token, ({ document }) => {
    const offset = position === undefined ? undefined : fromPosition(document.tree, position);
    const made = exportedChart(document, kind, key, bundles, offset);
    if ("refused" in made) return { notes: [], refused: made.refused };
    return { name: made.name, bytes: base64(made.bytes), notes: made.notes };
  });
  return answer ?? notOpen;
};

async function loaded(session: Session, kind: FileKind): Promise<Bundles> {
  const it = (await loadedBundle(session, fileKinds[kind].bundle)) as Readonly<Record<string, never>>;
  return {
    exporters: () => it.exporters,
    sheets: () => it.sheets,
    pages: () => it.pages,
  } as unknown as Bundles;
}
