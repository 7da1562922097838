import { type Term, weights } from "../voicing/costs.js";

interface TermWords {
  /** What counts against a voicing, so many times. */
  readonly against: (count: number) => string;
  /** Of another voicing against which it counts more, and less. */
  readonly more: string;
  readonly less: string;
}

const times = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;

const words: Readonly<Record<Term, TermWords>> = {
  "voice leading": {
    against: (n) => `${times(n, "half step")} that the voices move from the chord before`,
    more: "its voices move farther",
    less: "its voices move less",
  },
  "common tones": {
    against: (n) => `${times(n, "tone")} of both chords that no voice keeps in place`,
    more: "it keeps fewer common tones in place",
    less: "it keeps more common tones in place",
  },
  resolution: {
    against: (n) => `${times(n, "tone")} of the chord before that wanted to go on by a step, and doesn't`,
    more: "more tones don't go on by a step as they want to",
    less: "more tones go on by a step as they want to",
  },
  parallels: {
    against: (n) =>
      `${times(n, "parallel fifth or octave", "parallel fifths or octaves")} of the outer voices`,
    more: "its outer voices go in parallel fifths or octaves",
    less: "its outer voices go in fewer parallel fifths or octaves",
  },
  travel: {
    against: (n) => `${times(n, "white key")} that a hand has to travel`,
    more: "the hands travel farther",
    less: "the hands travel less",
  },
  span: {
    against: (n) => `${times(n, "half step")} beyond an octave in one hand`,
    more: "a hand spans more than an octave",
    less: "the hands span less beyond an octave",
  },
  comfort: {
    against: (n) => `${n} cm from a relaxed hand, over all fingers`,
    more: "it lies less easily under the hand",
    less: "it lies more easily under the hand",
  },
  "low intervals": {
    against: () => "low intervals that are just clear",
    more: "its low intervals are less clear",
    less: "its low intervals are clearer",
  },
  seconds: {
    against: () => "close tones that rub",
    more: "more of its close tones rub",
    less: "fewer of its close tones rub",
  },
  register: {
    against: (n) => `about ${3 * n} half steps from where the hands are at home`,
    more: "it lies farther from where the hands are at home",
    less: "it lies nearer to where the hands are at home",
  },
  colours: {
    against: (n) => `${times(n, "named colour")} left out`,
    more: "it leaves more of the symbol's colours out",
    less: "it has more of the symbol's colours",
  },
  "added tones": {
    against: (n) => `${times(n, "colour")} that the symbol doesn't name`,
    more: "it adds more colours that the symbol doesn't name",
    less: "it adds fewer colours that the symbol doesn't name",
  },
  doublings: {
    against: (n) => `${times(n, "guide tone or colour", "guide tones or colours")} in two octaves`,
    more: "it doubles more guide tones or colours",
    less: "it doubles fewer guide tones or colours",
  },
  fullness: {
    against: (n) => `${times(n, "voice")} fewer than the fullest voicing here`,
    more: "it is thinner",
    less: "it is fuller",
  },
};

/** What a term of a voicing's cost counts, in words; `cost` is weighed. */
export const againstWords = (term: Term, cost: number): string => words[term].against(cost / weights[term]);

/** What another voicing does more (above 0) or less by a term. */
export const differenceWords = (term: Term, difference: number): string =>
  difference > 0 ? words[term].more : words[term].less;
