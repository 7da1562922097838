import { availableParallelism } from "node:os";

/** How many helper threads Node starts for its engine, on any machine. */
const usualHelpers = 4;

/**
 * What Node is given when it starts the server. The engine compiles in helper threads, and where there are more of them
 * than cores are left they take the processor from the server itself, just while it opens its first chart.
 */
export function serverArguments(cores = availableParallelism()): string[] {
  const helpers = Math.max(1, cores - 1);
  return helpers < usualHelpers ? [`--v8-pool-size=${helpers}`] : [];
}
