import { entry as runTogether } from "./codes/run-together.js";
import { entry as signOrder } from "./codes/sign-order.js";
import { entry as spelling } from "./codes/spelling.js";
import { entry as syntax } from "./codes/syntax.js";
import { entry as unknownChord } from "./codes/unknown-chord.js";
import { entry as unknownTone } from "./codes/unknown-tone.js";
import { entry as unknownWord } from "./codes/unknown-word.js";
import type { Entry } from "./entry.js";

/** Every check by its code, in the order in which `plagal explain` lists them. */
export const catalogue = {
  syntax,
  "unknown-word": unknownWord,
  "unknown-chord": unknownChord,
  "unknown-tone": unknownTone,
  "run-together": runTogether,
  "sign-order": signOrder,
  spelling,
} as const;

export type Code = keyof typeof catalogue;
export type FactsOf<C extends Code> = (typeof catalogue)[C] extends Entry<infer Facts> ? Facts : never;
