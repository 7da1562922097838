import { rowIn } from "../chart/layout.js";
import type { Section, System } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { Slot, SlotContent } from "../syntax/tree.js";
import type { JudgedSection } from "./check.js";
import type { RowBar } from "./row-bars.js";
import { trialOf } from "./trial.js";

/** How far back a chord is looked for that may still sound in a bar. */
const mostBarsBack = 16;

/**
 * Lets through the fixes of a bar that change when something is struck in it only where no tone loses its chord by
 * that. They are tried; where a chord sounds through the whole bar and nothing is pushed there is nothing to try.
 */
export function keepingChords({
  section,
  played,
}: JudgedSection): (bar: RowBar, fixes: readonly Fix[]) => readonly Fix[] {
  const trial = trialOf(section, played);
  let pushes: ReadonlySet<number> | undefined;
  return (bar, fixes) => {
    pushes ??= barsWithPush(section);
    if (!bar.pickup && hasChordThroughout(section, bar.bar) && !pushes.has(bar.bar)) return fixes;
    return fixes.filter(({ edits }) => {
      const result = trial(edits);
      return result === "same" || result === "fewer";
    });
  };
}

/** Whether a chord that is known sounds at the bar's start, and nothing ends one in it but the next. */
function hasChordThroughout(section: Section, bar: number): boolean {
  const kinds = chordKinds(section, bar);
  if (kinds === undefined || kinds.some(isEnd)) return false;
  if (kinds[0] === "chord") return true;
  for (let before = bar - 1; before >= Math.max(0, bar - mostBarsBack); before--) {
    const earlier = chordKinds(section, before);
    if (earlier === undefined || earlier.some(isEnd)) return false;
    if (earlier.includes("chord")) return true;
  }
  return false;
}

/** After these numbers have no chord, or none that is known. */
const isEnd = (kind: SlotContent["kind"]): boolean => kind === "noChord" || kind === "unread";

/** What stands in a bar of the chords, in order; `undefined` where its system has none. */
function chordKinds({ bars, systems }: Section, bar: number): readonly SlotContent["kind"][] | undefined {
  const system = systems[bars[bar]?.system ?? -1] as System | undefined;
  const line = system && rowIn(system, "chords")?.line;
  if (system === undefined || line === undefined) return undefined;
  return kindsIn([
    ...(bar === system.firstBar ? line.pickup : []),
    ...(line.bars[bar - system.firstBar]?.slots ?? []),
  ]);
}

const kindsIn = (slots: readonly Slot[]): readonly SlotContent["kind"][] =>
  slots.flatMap((slot) => (slot.kind === "group" ? kindsIn(slot.slots) : [slot.content.kind]));

const barsWithPush = ({ rows }: Section): ReadonlySet<number> =>
  new Set(
    Object.values(rows).flatMap(({ slots }) => slots.flatMap((slot) => (slot.pushed ? [slot.bar] : []))),
  );
