import type { Document } from "../document/document.js";
import type { Code } from "../problems/catalogue.js";
import { count } from "../text/count.js";
import { drawProblem } from "./draw.js";
import type { ExitCode, Io } from "./io.js";
import { paintFor } from "./paint.js";
import { nameOfSource } from "./source.js";

/** What a hand can't hold sounds all the same: nothing is missing where these are told. */
const missesNothing: ReadonlySet<Code> = new Set([
  "hand-span",
  "too-many-notes",
  "hands-collide",
  "hands-cross",
]);
/** Problems that are named at most. */
const mostNamed = 20;

/** Names on standard error what can't be read in a chart, since it is missing from what was made of it. */
export function sayMissing(io: Io, document: Document, path: string, where: string): ExitCode {
  const errors = document.problems.filter(
    ({ severity, code }) => severity === "error" && !missesNothing.has(code),
  );
  if (errors.length === 0) return 0;
  const name = nameOfSource(path);
  const paint = paintFor({ ...io, isTerminal: false });
  for (const problem of errors.slice(0, mostNamed))
    io.err(
      `${drawProblem({ path: name, text: document.text, starts: document.tree.starts }, problem, paint)}\n\n`,
    );
  io.err(`${count(errors.length, "error")} in ${name}. What they touch may be missing ${where}.\n`);
  return 1;
}
