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
  explanation: `A hand moves as one block when a chart changes its key, but the keyboard under it does not stay the same: the black keys
lie unevenly among the white ones. The major tenth C–E measures 211.5 mm, the one on E♭ 220.9, and those on D♭ and B
225.6: more than a white key's half wider, though each is sixteen half steps. The ninths and octaves with tones between
them differ in the same way. (Widths from a white key of 23.5 mm, where a finger strikes it.)

So a grip that lies well in the key that you wrote it in may be out of reach where a singer asks for it. Plagal tries
every grip of both hands in the other eleven keys, at your reach, and names the keys that fail. It is only a word ahead
of time: nothing is wrong here. Keys that your form really plays are no matter for this note; there a grip that can't be
held is an error of its own.

If you want the chart to go anywhere, roll the grip (\`~\`), leave out the fifth or a doubled tone, move the outer tone an
octave in, or give it to the other hand. Point at a grip in the editor to see all twelve keys at once.

Say first how far your own hands reach: \`reach 8\`, \`reach left 9 right 10\`, or the setting for it. A small hand is no
fault. What is just in reach is a stretch and not a rest: warm up, take pauses, and stop where it hurts. A teacher or a
doctor knows better than a program.
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
