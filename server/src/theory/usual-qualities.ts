/** Spellings that players use, the usual before the rare: what “did you mean” offers, and what completion may list. */
export const usualQualities: readonly string[] = (
  "m 7 maj7 m7 sus sus4 sus2 7sus 9sus 13sus 6 m6 69 m69 9 maj9 m9 add2 add9 madd9 add4 11 m11 maj11 13 maj13 m13 " +
  "dim dim7 m7b5 aug 7#5 maj7#5 7b5 7b9 7#9 7#11 7b13 9#11 13#11 13b9 maj7#11 maj9#11 7b9sus 7sus4 9sus4 13sus4 " +
  "7#5#9 7#9b13 7b9b13 7#5b9 7b5b9 7alt alt m(maj7) m(maj9) 5 no3 no5 7no3 7no5 maj min m7b9 m9b5 m11b5 maj7b5 " +
  "maj7sus 7add4 7add13 Δ Δ7 M7 min7 -7 ø ø7 ° °7 + +7 maj6 min6 maj69 sus24 majb5 add#11"
).split(" ");
