import type { Document } from "../document/document.js";
import { reachLineEdit } from "../edits/reach-line.js";
import type { FactsOf } from "../problems/catalogue.js";
import type { Problem } from "../problems/problem.js";
import { type Action, action } from "./action.js";

/**
 * What says in the chart that a hand reaches as far as a grip asks: offered where the chart's own reach, or nobody's,
 * is what the grip was judged by. A setting would win over the line.
 */
export function reachActions({ chart, outline }: Document, problem: Problem): readonly Action[] {
  if (problem.code !== "hand-span") return [];
  const { hand, holdsAt, reachBy } = problem.facts as unknown as FactsOf<"hand-span">;
  if (holdsAt === undefined || reachBy === "setting") return [];
  const { reach, name } = holdsAt;
  const edit = () => reachLineEdit(outline, { ...chart.header.reach, [hand]: reach });
  const title = `Say that the ${hand} hand reaches ${name} (reach ${hand} ${reach})`;
  return [{ ...action("quickfix", title, () => ({ edits: [edit()], notes: [] })), problem }];
}
