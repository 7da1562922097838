import type { Problem } from "../problems/problem.js";
import type { Change } from "./change.js";

export type ActionKind =
  | "quickfix"
  | "source.fixAll.plagal"
  | "refactor.move"
  | "refactor.rewrite"
  | "refactor.rewrite.voice";

/** Something that can be done with a chart. */
export interface Action {
  /** As a sentence for a menu, without its full stop. */
  readonly title: string;
  readonly kind: ActionKind;
  /** The problem that it mends. */
  readonly problem: Problem | undefined;
  /** The best of what mends its problem. */
  readonly isPreferred: boolean;
  /** Worked out when it is asked for, and once: of many actions in a menu one is chosen, if any. */
  readonly change: () => Change;
}

/** An action that mends no problem. */
export function action(kind: ActionKind, title: string, make: () => Change): Action {
  let made: Change | undefined;
  const change = (): Change => {
    made ??= make();
    return made;
  };
  return { title, kind, problem: undefined, isPreferred: false, change };
}
