import { rowIn } from "../chart/layout.js";
import type { Section } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { Slot } from "../syntax/tree.js";
import { trialOf } from "./trial.js";

/**
 * Lets through the fixes that change when something is struck only where no tone loses its chord by it. They are
 * tried; where a chord sounds at all times and nothing is pushed there is nothing to try.
 */
export function keepingChords(section: Section): (fixes: readonly Fix[]) => readonly Fix[] {
  let isSafe: boolean | undefined;
  const trial = trialOf(section);
  return (fixes) => {
    isSafe ??= alwaysHasChord(section) && !hasPush(section);
    if (isSafe) return fixes;
    return fixes.filter(({ edits }) => {
      const result = trial(edits);
      return result === "same" || result === "fewer";
    });
  };
}

/** Whether a chord is written at the section's start and nothing ends one but the next. */
function alwaysHasChord({ systems }: Section): boolean {
  return systems.every((system, i) => {
    const line = rowIn(system, "chords")?.line;
    if (line === undefined || hasEnd(line.pickup)) return false;
    const first = firstLeaf(line.bars[0]?.slots ?? []);
    if (i === 0 && first !== "chord") return false;
    return line.bars.every(({ slots }) => !hasEnd(slots));
  });
}

/** Something among the slots, at any depth, after which numbers have no chord, or none that is known. */
const hasEnd = (slots: readonly Slot[]): boolean =>
  slots.some((slot) =>
    slot.kind === "group"
      ? hasEnd(slot.slots)
      : slot.content.kind === "noChord" || slot.content.kind === "unread",
  );

function firstLeaf(slots: readonly Slot[]): string | undefined {
  const [first] = slots;
  return first?.kind === "group" ? firstLeaf(first.slots) : first?.content.kind;
}

const hasPush = ({ rows }: Section): boolean =>
  Object.values(rows).some(({ slots }) => slots.some(({ pushed }) => pushed));
