import type { Connection } from "vscode-languageserver";
import type { FileRead, Host } from "./host.js";
import type { ServerRequests } from "./protocol.js";

type ReadAnswer = ServerRequests["plagal/read"]["result"];
type ChartsAnswer = ServerRequests["plagal/charts"]["result"];

/** Files as the client reads them, for a server that has no disk. */
export function clientFiles(connection: Connection): Pick<Host, "read" | "charts"> {
  return {
    async read(uri): Promise<FileRead> {
      const answer = await connection.sendRequest<ReadAnswer | null>("plagal/read", { uri });
      const text = answer?.text;
      return typeof text === "string"
        ? { kind: "text", text: text.replace(/^\ufeff/, "") }
        : { kind: "missing" };
    },
    async charts() {
      const answer = await connection.sendRequest<ChartsAnswer | null>("plagal/charts", {});
      return answer?.uris.filter((uri) => typeof uri === "string") ?? [];
    },
  };
}
