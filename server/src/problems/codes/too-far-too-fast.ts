import { andList } from "../../text/and-list.js";
import type { Entry } from "../entry.js";

export interface Haste {
  readonly hand: "left" | "right";
  /** In milliseconds: the time there is, and the time that it takes. */
  readonly has: number;
  readonly needs: number;
  /** Beats a minute. */
  readonly tempo: number;
  /** The keys that the form plays in which it is so; empty where it is so in all of them. */
  readonly keys: readonly string[];
}

/** From one grip to another, with the tones of both and the way along the keys: `an octave and two white keys`. */
export interface Leap extends Haste {
  readonly kind: "leap";
  readonly from: readonly string[];
  readonly to: readonly string[];
  readonly distance: string;
  /** The first one is rolled, and the hand gets away only after its last tone. */
  readonly afterRoll: boolean;
}

/** The tones of a roll, from the lowest up. */
export interface Roll extends Haste {
  readonly kind: "roll";
  readonly tones: readonly string[];
}

export const entry: Entry<Leap | Roll> = {
  severity: "warning",
  summary: "The tempo leaves a hand too little time for a leap or a roll.",
  message: (facts) => {
    const { hand, has, needs, tempo, keys } = facts;
    const where = keys.length === 0 ? "" : ` when it is played in ${andList(keys)}`;
    if (facts.kind === "roll")
      return `The ${hand} hand needs ${needs} ms to roll ${andList(facts.tones)}${where}, and at tempo ${tempo} it has ${has}: half the time that they last, and at most half a beat. Strike the tones together, roll fewer of them, or slow down.`;
    const rolled = facts.afterRoll ? ", once they are rolled," : "";
    return `At tempo ${tempo} the ${hand} hand has ${has} ms to get from ${andList(facts.from)}${rolled} to ${andList(facts.to)}${where}, ${facts.distance} beyond what it covers, and needs ${needs}. Play one of the two in a nearer octave, leave one out, or slow down.`;
  },
  explanation: `A hand that has to be somewhere else needs time to get there, and the further it goes the more. Plagal measures how
far it must travel beyond the keys that it covers already, and takes the time from a law that P. M. Fitts found in
1954 for aimed movements: each doubling of the way adds about the same time. Plagal takes six tenths of what Fitts's
people took, since players are trained for this; printed rags and waltzes with their tempi agree. An octave takes
about 220 ms, two octaves 280. What is faster than that, hardly anybody plays.

A hand that can hold both grips at once has no way to go: it lies over all their keys and rocks, as in a tremolo of
octaves (\`((1 >1 1 >1))\`), at any tempo.

A roll (\`~\`) takes time as well: 40 ms from tone to tone, more where they lie far apart. It may last half as long as
its tones, and at most half a beat. From a roll the hand gets away when its last tone has been struck, and it goes
into one by its lowest tone. Tones that stay down belong to the next grip; a rest gives the hand time.

Without a \`tempo\` line nothing is judged. Write the tempo at which you play, not the one that you hope for.

Take the nearer octave, play the bass note alone or earlier, let the other hand take one of the two, or give the leap
a rest before it. And practise leaps slowly: look where you go, move from the arm, pause often, and stop where it
hurts. A teacher or a doctor knows better than a program.
`,
  example: `key C major
tempo 150

section Verse
chords | 1                        |
left   | (<1+1 >3+5+1) - - - |
`,
};
