import type { BundleName } from "../exports/export-file.js";
import type { ServerRequests } from "./protocol.js";
import type { Session } from "./session.js";

type Script = ServerRequests["plagal/script"]["result"];

/** What a bundle holds; where the server can't load it by itself, the client reads its program. */
export const loadedBundle = ({ host, connection }: Session, name: BundleName): Promise<unknown> =>
  host.bundle(name, async (asked) => {
    const { text } = await connection.sendRequest<Script>("plagal/script", { name: asked });
    return text;
  });
