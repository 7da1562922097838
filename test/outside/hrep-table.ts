// pmcharrison/hrep (MIT), inst/chord-qualities.csv: pitch classes, spelled degrees and aliases of 74 chord qualities
// (P. Harrison and M. Pearce). All rows, in the file's order; an alias is what may stand after a root.
type Row = readonly [pitchClasses: string, degrees: string, aliases: readonly string[]];

/** Pitch classes, degrees and aliases, as in the file. */
export const rows: readonly Row[] = [
  ["0", "1", ["1"]], // unison
  ["0 4 7", "1 3 5", ["major", "maj"]],
  ["0 3 7", "1 b3 5", ["minor", "m", "min", "min(C7/B-)D7"]],
  ["0 3 6", "1 b3 b5", ["diminished", "dim", "o"]],
  ["0 4 8", "1 3 #5", ["augmented", "+", "aug"]],
  ["0 8", "1 #5", ["1(#5)"]], // augmented, no third
  ["0 4 7 10", "1 3 5 b7", ["7"]], // dominant seventh; seventh
  ["0 7 10", "1 5 b7", ["5(b7)"]], // seventh, no third
  ["0 10", "1 b7", ["1(b7)"]], // seventh, no third, no fifth
  ["0 4 6 10", "1 3 b5 b7", ["7b5", "1(b5,b7,3)"]], // seventh, flat fifth
  ["0 4 8 10", "1 3 #5 b7", ["7#5", "aug(b7)"]], // seventh, sharp fifth
  ["0 1 4 7 10", "1 3 5 b7 b9", ["7b9", "7(b9)"]], // seventh, flat ninth
  ["0 3 4 7 10", "1 3 5 b7 #9", ["7#9", "7(#9)"]], // seventh, sharp ninth
  ["0 1 3 4 7 10", "1 3 5 b7 b9 #9", ["7b9#9"]], // seventh, flat ninth, sharp ninth
  ["0 4 6 7 10", "1 3 5 b7 #11", ["7#11"]], // seventh, sharp eleventh
  ["0 3 4 6 7 10", "1 3 5 b7 #9 #11", ["7#9#11"]], // seventh, sharp ninth, sharp eleventh
  ["0 3 4 6 7 11", "1 3 5 7 #9 #11", ["maj7#9#11"]], // major seventh, sharp ninth, sharp eleventh
  ["0 4 7 8 10", "1 3 5 b7 b13", ["7b13"]], // seventh, flat thirteenth
  ["0 5 7 8 10", "1 4 5 b7 b13", ["7b13sus4", "7b13sus"]], // seventh, flat thirteenth, suspended fourth
  ["0 1 4 6 10", "1 3 b5 b7 b9", ["7b9b5"]], // seventh, flat ninth, flat fifth
  ["0 1 4 8 10", "1 3 #5 b7 b9", ["7b9#5"]], // seventh, flat ninth, sharp fifth
  ["0 3 4 6 10", "1 3 b5 b7 #9", ["7#9b5"]], // seventh, sharp ninth, flat fifth
  ["0 3 4 8 10", "1 3 #5 b7 #9", ["7#9#5"]], // seventh, sharp ninth, sharp fifth
  ["0 4 7 11", "1 3 5 7", ["maj7", "^"]], // major seventh
  ["0 4 6 11", "1 3 b5 7", ["maj7b5"]], // major seventh, flat fifth
  ["0 4 8 11", "1 3 #5 7", ["maj7#5"]], // major seventh, sharp fifth
  ["0 4 6 7 11", "1 3 5 7 #11", ["maj7#11"]], // major seventh, sharp eleventh; Lydian chord
  ["0 3 7 10", "1 b3 5 b7", ["m7", "min7"]], // minor seventh
  ["0 3 6 10", "1 b3 b5 b7", ["m7b5", "min7b5", "hdim7", "h7", "h"]], // minor seventh, flat fifth; half diminished seventh
  ["0 3 7 11", "1 b3 5 7", ["m(maj7)", "m/M7", "minmaj7", "min:maj7"]], // minor, major seventh
  ["0 3 6 9", "1 b3 b5 bb7", ["dim7", "o7"]], // diminished seventh
  ["0 2 4 7 10", "1 3 5 b7 9", ["9", "^9"]], // ninth
  ["0 2 4 6 10", "1 3 b5 b7 9", ["9b5"]], // ninth, flat fifth
  ["0 2 4 8 10", "1 3 #5 b7 9", ["9#5", "aug(b7,9)"]], // ninth, sharp fifth
  ["0 2 4 7 11", "1 3 5 7 9", ["maj9"]], // major ninth
  ["0 2 3 7 10", "1 b3 5 b7 9", ["m9", "min9", "min(9)"]], // minor ninth
  ["0 2 3 7 11", "1 b3 5 7 9", ["m(maj9)", "m/M9", "minmaj9"]], // minor, major ninth
  ["0 1 4 6 7 10", "1 3 5 b7 b9 #11", ["b9#11", "7b9#11"]], // flat ninth, sharp eleventh
  ["0 2 4 5 7 10", "1 3 5 b7 9 11", ["11"]], // eleventh
  ["0 2 4 6 7 10", "1 3 5 b7 9 #11", ["9#11"]], // ninth, sharp eleventh
  ["0 2 4 6 7 11", "1 3 5 7 9 #11", ["maj9#11", "^9#11", "maj#11"]], // major ninth, sharp eleventh
  ["0 2 3 5 7 10", "1 b3 5 b7 9 11", ["m11", "min11", "min(11)", "min7(11)", "1(b3,b7,11,9)"]], // minor eleventh
  ["0 2 4 5 7 11", "1 3 5 7 9 11", ["maj11", "maj(11)"]], // major eleventh
  ["0 2 4 7 9 10", "1 3 5 b7 9 13", ["13"]], // thirteenth
  ["0 2 5 7 9 10", "1 4 5 b7 9 13", ["13sus", "sus4(b7,9,13)"]], // thirteenth, suspended fourth
  ["0 1 4 7 9 10", "1 3 5 b7 b9 13", ["13b9"]], // thirteenth, flat ninth
  ["0 2 4 6 7 9 10", "1 3 5 b7 9 #11 13", ["13#11", "9(13,#11)"]], // thirteenth, sharp eleventh
  ["0 2 4 7 8 10", "1 3 5 b7 9 b13", ["9b13", "9(b13)"]], // ninth, flat thirteenth
  ["0 1 4 7 8 10", "1 3 5 b7 b9 b13", ["7b9b13"]], // seventh, flat ninth, flat thirteenth
  ["0 2 4 7 9 11", "1 3 5 7 9 13", ["maj13"]], // major thirteenth
  ["0 2 3 5 7 9 10", "1 b3 5 b7 9 11 13", ["m13", "min13"]], // minor thirteenth
  ["0 4 7 9", "1 3 5 6", ["6", "maj6"]], // sixth
  ["0 7 9", "1 5 6", ["5(13)"]], // sixth, no third
  ["0 4 7 9 10", "1 3 5 6 b7", ["6b7", "maj6(b7)"]], // sixth, flat seventh
  ["0 4 5 7 9 10", "1 3 5 6 b7 11", ["6b711", "maj6(b711)", "maj6(b7,11)"]], // sixth, flat seventh, eleventh
  ["0 3 7 8", "1 b3 5 b6", ["minb6"]], // minor, flat sixth
  ["0 2 4 7 9", "1 3 5 6 9", ["69", "maj6(9)"]], // six-nine
  ["0 2 4 7 9 10", "1 3 5 6 b7 9", ["769"]], // seven-six-nine
  ["0 3 7 9", "1 b3 5 6", ["m6", "min6"]], // minor sixth
  ["0 2 3 7 9", "1 b3 5 6 9", ["m69", "min69"]], // minor six-nine
  ["0 7", "1 5", ["5"]], // fifth (power chord)
  ["0 2 7", "1 2 5", ["sus2"]], // suspended second
  ["0 2 7 10", "1 2 5 b7", ["sus2b7", "sus2(b7)"]], // suspended second, flat seventh
  ["0 5 7", "1 4 5", ["sus4", "sus"]], // suspended fourth
  ["0 5 7 10", "1 4 5 b7", ["7sus4", "7sus", "7u", "sus4(b7)"]], // seventh, suspended fourth
  ["0 4 5 7 10", "1 3 4 5 b7", ["7sus4add3", "7susadd3"]], // seventh, suspended fourth, added third
  ["0 2 5 7 10", "1 4 5 b7 9", ["9sus4", "9sus", "sus4(b7,9)"]], // ninth, suspended fourth
  ["0 1 5 7 10", "1 4 5 b7 b9", ["b9sus4", "b9sus", "7b9sus"]], // flat ninth, suspended fourth
  ["0 4 5 7", "1 3 4 5", ["add4", "maj(4)"]], // add fourth
  ["0 2 4 7", "1 3 5 9", ["add9", "maj(9)"]], // add ninth
  ["0 2 3 7", "1 b3 5 9", ["m(add9)", "minadd9"]], // minor, add ninth
  ["0 1 4 6 8 10", "1 3 b5 b7 b9 b13", ["alt", "7alt", "*7+*"]], // altered chord
  ["0 2 5", "1 9 11", ["1(11,9)"]], // eleven-nine chord
  ["0 9", "1 13", ["1(13)"]], // thirteenth dyad
];

/** Academic labels that list their degrees one by one or belong to that table alone: no spelling of the trade. */
export const notOfTheTrade: readonly string[] = [
  "1",
  "min(C7/B-)D7",
  "1(#5)",
  "1(b7)",
  "1(b5,b7,3)",
  "min:maj7",
  "1(b3,b7,11,9)",
  "7u",
  "*7+*",
  "1(11,9)",
  "1(13)",
];

/** Where the table and this reader differ: alias, what is read here, and why. */
export const differences: ReadonlyMap<string, readonly [tones: string, reason: string]> = new Map([
  [
    "^9",
    [
      "1 3 5 7 9",
      "the triangle is a major seventh chord wherever it stands, as in the table's own ^ and ^9#11",
    ],
  ],
  ["min(9)", ["1 b3 5 9", "a number in parentheses adds that tone alone, as in the table's own maj(9)"]],
  ["maj#11", ["1 3 5 #11", "maj says the triad; the seventh needs its number"]],
  ["min(11)", ["1 b3 5 11", "a number in parentheses adds that tone alone"]],
  ["min7(11)", ["1 b3 5 b7 11", "a number in parentheses adds that tone alone"]],
  ["maj(11)", ["1 3 5 11", "a number in parentheses adds that tone alone"]],
  ["5(13)", ["1 5 13", "a thirteenth stays where the symbol puts it; the table folds it to a sixth"]],
  ["alt", ["1 3 b5 #5 b7 b9 #9", "both fifths and both ninths; the table keeps one of each and a b13"]],
  ["7alt", ["1 3 b5 #5 b7 b9 #9", "as alt"]],
]);

/** Each alias with its degrees. */
export const aliases = rows.flatMap(([, degrees, names]) => names.map((alias) => [alias, degrees] as const));
/** Aliases that are read here as in the table. */
export const shared = aliases.filter(([alias]) => !notOfTheTrade.includes(alias) && !differences.has(alias));
