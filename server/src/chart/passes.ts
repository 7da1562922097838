import type { BarFrame } from "./layout.js";

/** What a row remembers at the signs of repetition, in written order. */
export interface Passes<State> {
  readonly beforeFirstEnding: State | undefined;
  /** The bar that `:|` goes back to, and the state in which it is first entered. */
  readonly startBar: number;
  readonly beforeStart: State | undefined;
  /** The state at the section's start, where a `:|` without `|:` goes back to. */
  readonly beforeAll: State | undefined;
  /** The bar before this one ended a repeat. */
  readonly ended: boolean;
}

export const noPasses: Passes<never> = {
  beforeFirstEnding: undefined,
  startBar: 0,
  beforeStart: undefined,
  beforeAll: undefined,
  ended: false,
};

/**
 * The state in which a bar starts, given the state after the bar written before it: a second ending goes on
 * from where its first ending began.
 */
export function enterBar<State>(
  passes: Passes<State>,
  { repeat, index }: BarFrame,
  after: State,
): { readonly passes: Passes<State>; readonly state: State } {
  const state =
    repeat.ending === 2 && passes.beforeFirstEnding !== undefined ? passes.beforeFirstEnding : after;
  const { ended } = passes;
  if (!repeat.start && repeat.ending !== 1 && index !== 0 && !ended && !repeat.end) return { passes, state };
  const beforeAll = index === 0 ? state : passes.beforeAll;
  const [startBar, beforeStart] = repeat.start
    ? [index, state]
    : ended || index === 0
      ? [0, beforeAll]
      : [passes.startBar, passes.beforeStart];
  return {
    passes: {
      beforeFirstEnding: repeat.ending === 1 ? state : passes.beforeFirstEnding,
      startBar,
      beforeStart,
      beforeAll,
      ended: repeat.end,
    },
    state,
  };
}
