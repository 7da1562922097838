import { availableParallelism } from "node:os";

/** How many helper threads Node starts for its engine, on any machine. */
const usualHelpers = 4;
const option = "--v8-pool-size";

/**
 * What Node is given when it starts the server. The engine compiles in helper threads, and where there are more of them
 * than cores are left they take the processor from the server itself, just while it opens its first chart. A Node that
 * doesn't know the option wouldn't start with it, so it is asked: the editor's own is the one that runs the server.
 */
export function serverArguments(
  cores = availableParallelism(),
  known: Pick<ReadonlySet<string>, "has"> = process.allowedNodeEnvironmentFlags,
): string[] {
  const helpers = Math.max(1, cores - 1);
  return helpers < usualHelpers && known.has(option) ? [`${option}=${helpers}`] : [];
}
