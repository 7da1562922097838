import type { CancellationToken, ServerCapabilities } from "vscode-languageserver";
import type { Client } from "./client.js";
import type { ClientRequests } from "./protocol.js";
import type { Session } from "./session.js";

/** Makes the answer to a request; `undefined` is sent as `null`. */
export type Answer<P, R> = (
  session: Session,
  params: P,
  token: CancellationToken,
) => R | undefined | Promise<R | undefined>;

/** A request with what it makes the server announce. */
export interface Handler {
  readonly method: string;
  readonly capability: (client: Client) => Partial<ServerCapabilities>;
  readonly load: () => Promise<Answer<unknown, unknown>>;
}

/** One of our own requests. */
export const own = <M extends keyof ClientRequests, K extends string>(
  method: M,
  module: () => Promise<
    Readonly<Record<K, Answer<ClientRequests[M]["params"], ClientRequests[M]["result"]>>>
  >,
  name: K,
): Handler => ({
  method,
  capability: () => ({}),
  load: async () => (await module())[name] as Answer<unknown, unknown>,
});

/** A request of the protocol: `module` has, under `name`, what takes its params and gives its result. */
export function request<P, R, K extends string>(
  type: { readonly method: string; readonly _: readonly [P, R, ...unknown[]] | undefined },
  capability: Partial<ServerCapabilities> | Handler["capability"],
  module: () => Promise<Readonly<Record<K, Answer<NoInfer<P>, NoInfer<R>>>>>,
  name: K,
): Handler {
  return {
    method: type.method,
    capability: typeof capability === "function" ? capability : () => capability,
    load: async () => (await module())[name] as Answer<unknown, unknown>,
  };
}
