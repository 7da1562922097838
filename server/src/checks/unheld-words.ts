import type { Way } from "../problems/hand-words.js";
import type { Related } from "../problems/problem.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection } from "./check.js";
import { isHeld, laterSlots, type UnheldGrip } from "./unheld-grips.js";

/** The later places of a grip, as they are told beside the first. */
export const againAt = (unheld: UnheldGrip): readonly Related[] =>
  laterSlots(unheld).map(({ span }) => ({ span, message: "Here again." }));

/** What may be said where nothing could be tried: the tone without which the hand holds the rest, if one is enough. */
export function withoutOne({ hand, notes, keys }: UnheldGrip, judged: JudgedSection): readonly Way[] {
  const candidates = hand === "left" ? [...notes].reverse() : notes;
  const note = candidates.find(({ pitch }) =>
    isHeld(
      keys.filter((key) => key !== pitch.midi),
      hand,
      judged,
    ),
  );
  return note === undefined ? [] : [{ how: "leave-out", notes: [prettyPitch(note.pitch)], hand }];
}
