import { andList } from "../../text/and-list.js";
import type { Entry } from "../entry.js";
import {
  type GripReason,
  type ReachFacts,
  reasonWords,
  shortReason,
  type Way,
  waysWords,
} from "../hand-words.js";

export const entry: Entry<
  GripReason &
    ReachFacts & {
      hand: "left" | "right";
      /** All keys that would have to be held at once. */
      tones: readonly string[];
      /** The keys in which the form plays it and the hand can't; empty where it can't in any. */
      playedIn: readonly string[];
      /** The least reach that holds it wherever it is played; left out where none up to a twelfth does. */
      holdsAt?: { reach: number; name: string };
      /** The least reach that is as wide, where it still doesn't hold them: why not. */
      wideEnough?: GripReason & { reachName: string };
      ways: readonly Way[];
    }
> = {
  severity: "error",
  summary: "One hand can't hold these keys down together.",
  message: (facts) => {
    const { hand, playedIn, ways, holdsAt, wideEnough, reachBy } = facts;
    const where = playedIn.length === 0 ? "" : ` when it is played in ${andList(playedIn)}`;
    const larger =
      reachBy === "nobody" && holdsAt !== undefined
        ? ` If your own hand reaches ${holdsAt.name}, write “reach ${hand} ${holdsAt.reach}” at the top.`
        : "";
    const inner =
      reachBy === "nobody" && wideEnough !== undefined
        ? ` A reach of ${wideEnough.reachName} would be wide enough, but ${shortReason(wideEnough, wideEnough.reachName)}.`
        : "";
    return `${reasonWords(facts, hand, facts, where)}.${waysWords(ways, "Play fewer tones at once")}${inner}${larger}`;
  },
  explanation: `A hand has a widest reach, and each two fingers have theirs. Here a stack, with all that the hand still holds from
before, asks for more. It is measured key by key, so the same shape may lie well in one key and not in another: from C
to E is a tenth of 211.5 mm, from D♭ to F one of 225.6.

**Say your reach first.** \`reach 8\` at the top of the chart is a hand that holds an octave, \`reach 10\` one that holds a
tenth, \`reach left 9 right 10\` says them apart. In the editor the settings \`plagal.reach.left\` and
\`plagal.reach.right\` say it for all charts, on the command line \`--reach\`; they win over the chart. Where nobody says, a
ninth is taken. A small hand is no fault: most music can be voiced for it.

Then make the stack fit. Roll it with a \`~\`: a roll needs no span, only what a \`_\` holds over must stay down. Give a
tone to the other hand. Leave out a doubled tone. Turn the stack over, so that its outer tone lies an octave further in.
Keep the third and the seventh, and nobody will miss the rest.

The spans are published ones for a small, a middle and a large hand (M. Balliauw and others, 2017), between thumb and
little finger an octave, a ninth and a tenth. They are of grown-up hands, and yours may differ. What can just be held is
not thereby healthy: warm up before wide chords, rest often, and stop if it hurts. A teacher or a doctor knows better
than a program.
`,
  example: `key C major

section Verse
chords | 1    |
left   | 1+>3 |
`,
};
