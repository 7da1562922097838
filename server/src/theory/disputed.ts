/** A spelling that players and books read in more than one way, how it is read here, and why. */
export interface Disputed {
  /** After a letter root. */
  readonly symbols: readonly string[];
  /** The tone numbers over a letter root. */
  readonly tones: string;
  readonly reason: string;
}

/** Decided once. The tests hold the reader to this table and the reference prints it. */
export const disputed: readonly Disputed[] = [
  {
    symbols: ["2", "add2"],
    tones: "1 2 3 5",
    reason: "A 2 beside the third, as church charts mean it. Without the third it is written sus2.",
  },
  {
    symbols: ["4", "sus", "sus4"],
    tones: "1 4 5",
    reason: "A fourth alone is a suspension. Beside the third it is written add4.",
  },
  {
    symbols: ["add9"],
    tones: "1 3 5 9",
    reason: "The same tone as add2, an octave higher: the symbol says where.",
  },
  {
    symbols: ["maj", "M"],
    tones: "1 3 5",
    reason: "The triad with its third said. The seventh needs its 7.",
  },
  {
    symbols: ["Δ", "^"],
    tones: "1 3 5 7",
    reason: "The triangle alone stands for the major seventh chord in most charts.",
  },
  { symbols: ["M7", "maj7", "7M"], tones: "1 3 5 7", reason: "A capital M is major; a small m is minor." },
  { symbols: ["-7"], tones: "1 b3 5 b7", reason: "A minus right after the root is minor." },
  {
    symbols: ["-9"],
    tones: "1 b3 5 b7 9",
    reason: "A minus right after the root is minor; 7-9 has the flat ninth.",
  },
  {
    symbols: ["-5"],
    tones: "1 3 b5",
    reason: "A minor chord needs no 5 said, so here the minus is a flat.",
  },
  {
    symbols: ["m-5", "m(b5)"],
    tones: "1 b3 b5",
    reason: "After m the minus is a flat: the diminished triad.",
  },
  {
    symbols: ["+9"],
    tones: "1 3 #5 b7 9",
    reason:
      "A plus right after the root is the augmented chord, as in +7; 7+9 has the sharp ninth, add9 adds.",
  },
  { symbols: ["7+", "7+5"], tones: "1 3 #5 b7", reason: "A plus after the number raises the fifth." },
  { symbols: ["7+9"], tones: "1 3 5 b7 #9", reason: "A plus between numbers raises the second one." },
  {
    symbols: ["m+7", "m#7", "m(maj7)"],
    tones: "1 b3 5 7",
    reason: "Raised from the flat seventh that minor has.",
  },
  {
    symbols: ["6/9", "69"],
    tones: "1 3 5 6 9",
    reason: "No degree and no letter is called 9, so this is no bass.",
  },
  {
    symbols: ["11"],
    tones: "1 3 5 b7 9 11",
    reason:
      "With its third, as MusicXML and the academic tables have it. Without the third it is written 9sus.",
  },
  {
    symbols: ["m11"],
    tones: "1 b3 5 b7 9 11",
    reason: "All sources agree; the eleventh suits a minor third.",
  },
  {
    symbols: ["13"],
    tones: "1 3 5 b7 9 13",
    reason: "Players leave the 11 out against a major third; MusicXML's kind includes it. 13add11 has it.",
  },
  { symbols: ["maj13"], tones: "1 3 5 7 9 13", reason: "As in 13, without the 11." },
  {
    symbols: ["m13"],
    tones: "1 b3 5 b7 9 11 13",
    reason: "Over a minor third the 11 stays. m9add13 leaves it out.",
  },
  {
    symbols: ["7alt", "alt"],
    tones: "1 3 b5 #5 b7 b9 #9",
    reason:
      "All altered fifths and ninths are meant to be free to use, so all are the chord's; 3 and b7 carry it.",
  },
  {
    symbols: ["b9", "7b9"],
    tones: "1 3 5 b7 b9",
    reason: "An altered ninth or thirteenth alone implies the dominant seventh.",
  },
  { symbols: ["#11", "add#11"], tones: "1 3 5 #11", reason: "A sharp eleventh alone colours the triad." },
  {
    symbols: ["maj#11"],
    tones: "1 3 5 #11",
    reason: "maj says the triad; maj7#11 and maj9#11 say their seventh.",
  },
  {
    symbols: ["7(13)", "7add13"],
    tones: "1 3 5 b7 13",
    reason: "A number in parentheses adds that tone alone.",
  },
  { symbols: ["dim", "°", "o"], tones: "1 b3 b5", reason: "The triad; the seventh chord says its 7." },
  { symbols: ["ø", "h", "m7b5"], tones: "1 b3 b5 b7", reason: "Half-diminished always has its seventh." },
  { symbols: ["5"], tones: "1 5", reason: "No third and none understood." },
];
