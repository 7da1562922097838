import { andList } from "../../text/and-list.js";
import type { Entry } from "../entry.js";
import { type ReachFacts, reachWords } from "../hand-words.js";

const pretty = (tonic: string): string => tonic.replaceAll("b", "♭").replaceAll("#", "♯");

export const entry: Entry<
  ReachFacts & {
    hand: "left" | "right";
    /** The tonics of the keys in which it can't be held, and of the others in which it can, from C up. */
    keys: readonly string[];
    held: readonly string[];
    /** The keys that the form plays it in; empty where it is played as printed. */
    played: readonly string[];
    /** How many grips, one after the other, and the tones of the one that fails in the most keys. */
    grips: number;
    tones: readonly string[];
  }
> = {
  severity: "info",
  summary: "A hand can hold this here, but not in some other keys.",
  message: (facts) => {
    const { hand, keys, held, played, grips, tones } = facts;
    const here = played.length === 0 ? "here" : `in ${andList(played.map(pretty))}`;
    const what = grips === 1 ? andList(tones) : `these ${grips} grips`;
    const hardest = grips === 1 ? "" : ` The hardest is ${andList(tones)}.`;
    const where =
      keys.length <= mostNamed
        ? `${here}, but not${grips === 1 ? "" : " all of them"} in ${andList(keys.map(pretty))}`
        : held.length === 0
          ? `${here}, but in no other key`
          : `${here}, and elsewhere only in ${andList(held.map(pretty))}`;
    return `With ${reachWords(facts)} the ${hand} hand holds ${what} ${where}.${hardest} If you take it there, roll it (~), leave a tone out or give one to the other hand.`;
  },
  explanation: `A hand moves as one block when a chart changes its key, but the keyboard under it does not stay the same: the black
keys lie unevenly among the white ones. The major tenth on C measures 211.5 mm, the one on E♭ 220.9, and those on D♭
and on B 225.6: a good half of a white key more. Ninths, and what stands between the fingers inside an octave, differ
in the same way. (Widths by white keys of 23.5 mm, from where a finger strikes one key to where it strikes the other.)

So a grip that lies well in the key in which you wrote it may be out of reach where a singer asks for it. Plagal tries
every grip of both hands in the other eleven keys, at your reach, and names the keys that fail. It is a word ahead of
time and nothing is wrong. A key that the form really plays is no matter of this note: there a grip that can't be held
is an error of its own.

If the chart shall go anywhere, roll the grip (\`~\`), leave out the fifth or a doubled tone, move the outer tone an
octave in, or give it to the other hand. Point at a grip in the editor to see all twelve keys at once.

Say first how far your own hands reach: \`reach 8\`, or \`reach left 9 right 10\`, at the top of the chart; in the
editor the settings \`plagal.reach.left\` and \`plagal.reach.right\`. A small hand is no fault. What is just in reach
is a stretch: warm up, rest often, and stop if it hurts. A teacher or a doctor knows better than a program.
`,
  example: `key C major
reach 10

section Verse
chords | 1     | 4   |
left   | 1+>3  | 1+5 |
`,
};

/** More keys than these are told by those that are left. */
const mostNamed = 6;
