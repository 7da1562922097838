import type { CancellationToken } from "vscode";
import type { ClientRequests } from "../server/src/lsp/protocol.js";
import type { Session } from "./session.js";

/** Asks the language server one of its own requests. */
export const ask = <Method extends keyof ClientRequests>(
  { client }: Pick<Session, "client">,
  method: Method,
  params: ClientRequests[Method]["params"],
  // Left out and not `undefined`: the client would send that along as a second parameter.
  ...token: readonly [] | readonly [CancellationToken]
): Promise<ClientRequests[Method]["result"]> => client.sendRequest(method, params, ...token);
