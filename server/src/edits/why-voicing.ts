import { type Chord, prettyChord } from "../theory/chord.js";
import type { Term, Terms } from "../voicing/costs.js";
import { alternativesAt, type Passage } from "../voicing/search.js";
import type { StyleName } from "../voicing/styles.js";
import type { Voicing } from "../voicing/voicing.js";
import type { ChartText } from "./chart-text.js";
import { isSameKeys, type ReachAsked, type SlotPassage, slotPassage, standing } from "./slot-passage.js";
import type { PassageStep } from "./voiced-passage.js";
import type { Voiced } from "./voiced-rows.js";

/** Why a slot is voiced as it is, with all around it as it stands. */
export interface WhyVoicing {
  readonly chord: Chord;
  /** What its row says of how it was voiced. */
  readonly voiced: Voiced;
  /** The style that could serve the chord. */
  readonly served: StyleName;
  readonly voicing: Voicing;
  /** What counts against it, on its own and after the voicing before it, weighed; a term that costs nothing is missing. */
  readonly terms: Terms;
  /** Its place among all voicings there, from 1. */
  readonly rank: number;
  /** The best other one; `undefined` where there is none. */
  readonly runnerUp: RunnerUp | undefined;
}

export interface RunnerUp {
  readonly voicing: Voicing;
  readonly terms: Terms;
  /** How much more the passage would cost with it: below 0 where it is the better one. */
  readonly more: number;
  /** The same by terms: what speaks against it (above 0) and for it. */
  readonly differences: Terms;
}

/** Beyond these a voicing has no rank worth telling. */
const mostRanked = 64;

/** Why the voiced slot at a place of a chart is as it is; `undefined` where the slot is the player's own, or none. */
export function whyVoicing(
  { chart }: Pick<ChartText, "chart">,
  offset: number,
  reach: ReachAsked,
): WhyVoicing | undefined {
  const found = slotPassage(chart, offset, reach, false);
  if (found?.voiced === undefined) return undefined;
  const { asked, voiced } = found;
  const { passage, index } = near(found);
  const here = passage[index];
  if (here === undefined) return undefined;
  const alternatives = alternativesAt(
    passage.map(({ step }) => step),
    asked,
    index,
    mostRanked,
  ).map((it) => it.passage);
  const { open } = here;
  const rank = alternatives.findIndex(({ steps }) => {
    const voicing = steps[index]?.voicing;
    return (
      voicing !== undefined &&
      (open.left === undefined || isSameKeys(voicing.left, standing(open.left))) &&
      (open.right === undefined || isSameKeys(voicing.right, standing(open.right)))
    );
  });
  const own = alternatives[rank];
  const step = own?.steps[index];
  if (own === undefined || step?.voicing === undefined) return undefined;
  const { voicing, served, terms } = step;
  const runnerUp = alternatives[rank === 0 ? 1 : 0];
  return {
    chord: here.event.chord,
    voiced,
    served,
    voicing,
    terms,
    rank: rank + 1,
    runnerUp: runnerUp && compared(runnerUp, own, index),
  };
}

/** So many fixed steps on either side are looked at: what lies beyond weighs the same whatever stands there. */
const around = 8;

/** A passage near its slot, and on to the next other chord, which says what this one does. */
function near({ passage, index }: SlotPassage): Pick<SlotPassage, "passage" | "index"> {
  const from = Math.max(0, index - around);
  const name = (at: number): string => prettyChord((passage[at] as PassageStep).event.chord);
  let next = index + 1;
  while (next < passage.length && name(next) === name(index)) next++;
  return { passage: passage.slice(from, Math.max(next, index + around) + 1), index: index - from };
}

function compared(other: Passage, own: Passage, index: number): RunnerUp | undefined {
  const step = other.steps[index];
  if (step?.voicing === undefined) return undefined;
  const differences: Partial<Record<Term, number>> = {};
  const add = ({ steps }: Passage, sign: 1 | -1): void => {
    for (const it of steps) {
      if (it.voicing === undefined) continue;
      for (const [term, cost] of Object.entries(it.terms) as [Term, number][])
        differences[term] = (differences[term] ?? 0) + sign * cost;
    }
  };
  add(other, 1);
  add(own, -1);
  for (const term of Object.keys(differences) as Term[])
    if (differences[term] === 0) delete differences[term];
  return { voicing: step.voicing, terms: step.terms, more: other.cost - own.cost, differences };
}
