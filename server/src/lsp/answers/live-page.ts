import type { CancellationToken } from "vscode-languageserver";
import type { Live } from "../../exports/live.js";
import { keyChoices } from "../../features/keys.js";
import { livePage } from "../../features/live-page.js";
import { wholeChart } from "../../features/scope.js";
import { fromDocument } from "../from-protocol.js";
import { loadedBundle } from "../loaded-bundle.js";
import type { Session } from "../session.js";
import { invalid, type Params, type Result } from "./edit-answer.js";

/** What a page beside the text shows; it waits until nobody is typing or waiting for anything else. */
export const pageOf = async (
  session: Session,
  params: Params<"plagal/page">,
  token: CancellationToken,
): Result<"plagal/page"> => {
  const { key, staff } = params;
  if (key !== undefined && typeof key !== "string") throw invalid("`key` is a text.");
  if (staff !== undefined && typeof staff !== "boolean") throw invalid("`staff` is true or false.");
  const { live } = (await loadedBundle(session, "live")) as { readonly live: Live };
  const answer = await session.ask(
    fromDocument(params),
    token,
    ({ chart: { version }, document }) => {
      const keys = keyChoices(document, wholeChart).map((it) => ({ key: it.key, name: it.name }));
      const made = livePage(document, key, live, staff);
      return "refused" in made ? { version, keys, refused: made.refused } : { version, keys, chart: made };
    },
    "patient",
  );
  return answer ?? null;
};
