import { handGrip } from "../chart/hand-grips.js";
import { handPath } from "../chart/hand-path.js";
import type { SlotEvent } from "../chart/model.js";
import { restacked, writtenTones } from "../edits/written-stack.js";
import { wayTitle } from "../problems/hand-words.js";
import type { Fix } from "../problems/problem.js";
import { sliceOf } from "../text/span.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection } from "./check.js";
import { handsThatCollide, handsThatCross } from "./hands-that-meet.js";
import { type HurriedLeap, type HurriedRoll, hurryIn } from "./haste.js";
import { isUnclear } from "./low-interval.js";
import { mendingTrial } from "./trial.js";
import { isHeld, unheldGrips } from "./unheld-grips.js";
import { allWrittenOut } from "./written-out.js";

/** Tries fixes for leaps and rolls of a section: those come back that leave fewer of them and harm nothing else. */
export function hasteFixes(judged: JudgedSection): {
  readonly ofLeap: (leap: HurriedLeap) => readonly Fix[];
  readonly ofRoll: (roll: HurriedRoll) => readonly Fix[];
} {
  const isMended = mendingTrial(
    judged,
    (section) => {
      const { leaps, rolls } = hurryIn({ ...judged, section });
      return leaps.length + rolls.length;
    },
    (section) => [
      unheldGrips({ ...judged, section }, "few").length,
      unheldGrips({ ...judged, section }, "many").length,
      handsThatCollide(section).length,
      handsThatCross(section).length,
    ],
  );
  const tried = (title: string, stacks: ReadonlyMap<SlotEvent, string> | undefined): readonly Fix[] => {
    const edits = stacks && allWrittenOut(judged.section, stacks);
    return edits !== undefined && isMended(edits) ? [{ title, edits, silent: false }] : [];
  };
  return {
    ofLeap: (leap) => {
      const [first] = leap.moves;
      const to = first === undefined || isAbove(first.to, first.from) ? "down" : "up";
      const notes =
        first === undefined ? [] : handGrip(first.to).notes.map(({ pitch }) => prettyPitch(pitch));
      const struckTogether = leap.moves.some(({ from }) => from.rolled)
        ? tried(
            withoutRoll,
            unrolled(
              leap.moves.map(({ from }) => from),
              judged,
            ),
          )
        : [];
      return [...tried(wayTitle({ how: "move", notes, to }), nearer(leap, to, judged)), ...struckTogether];
    },
    ofRoll: ({ slots }) => tried(withoutRoll, unrolled(slots, judged)),
  };
}

const withoutRoll = "Strike it together (without ~)";

const middleOf = (slot: SlotEvent): number => {
  const { keys } = handGrip(slot);
  return ((keys[0] ?? 0) + (keys.at(-1) ?? 0)) / 2;
};
const isAbove = (one: SlotEvent, other: SlotEvent): boolean => middleOf(one) > middleOf(other);

/**
 * The later grips an octave nearer; not those of a melody, which is nobody's to move, and not a section's first or
 * last, which might then lie too far from another section.
 */
function nearer(
  { hand, moves }: HurriedLeap,
  to: "up" | "down",
  { section, played }: JudgedSection,
): ReadonlyMap<SlotEvent, string> | undefined {
  const by = to === "up" ? 12 : -12;
  const { entries, exits } = handPath(section, hand);
  const atBorders = new Set([
    ...[...entries.values()].map(({ slot }) => slot),
    ...[...exits.values()].map(({ slots }) => slots.at(-1)),
  ]);
  const { text } = section.source;
  const stacks = new Map<SlotEvent, string>();
  for (const { to: slot } of moves) {
    const tones = writtenTones(slot, text);
    if (tones === undefined || slot.row !== hand || atBorders.has(slot) || tones.some(({ isHeld }) => isHeld))
      return undefined;
    const keys = tones.map(({ midi }) => midi + by).sort((a, b) => a - b);
    const isClear = played.every(({ halfSteps }) =>
      keys.every((key, i) => i === 0 || !isUnclear((keys[i - 1] as number) + halfSteps, key + halfSteps)),
    );
    const written = restacked(
      slot,
      tones.map((tone) => ({ ...tone, midi: tone.midi + by })),
      text,
    );
    if (!isClear || written === undefined) return undefined;
    stacks.set(slot, written);
  }
  return stacks;
}

/** Rolls struck together, where the hand holds them. */
function unrolled(
  slots: readonly SlotEvent[],
  judged: JudgedSection,
): ReadonlyMap<SlotEvent, string> | undefined {
  const stacks = new Map<SlotEvent, string>();
  for (const slot of slots) {
    if (slot.hand === undefined || !isHeld(handGrip(slot).keys, slot.hand, judged)) return undefined;
    stacks.set(slot, sliceOf(judged.section.source.text, slot.span).replace(/^(!?)~/, "$1"));
  }
  return stacks;
}
