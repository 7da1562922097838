/**
 * The lowest MIDI note on which each interval, 1 to 16 half steps, still sounds clear. The usual table of arrangers
 * (G. Lindsay, Jazz Arranging Techniques; R. Lowell and K. Pullig, Arranging for Large Jazz Ensemble). An octave
 * has no limit.
 */
const lowest: readonly (number | undefined)[] = [
  undefined,
  52, // minor second: E3
  51, // major second: Eb3
  48, // minor third: C3
  46, // major third: Bb2
  46, // fourth: Bb2
  46, // tritone: Bb2
  34, // fifth: Bb1
  43, // minor sixth: G2
  41, // major sixth: F2
  41, // minor seventh: F2
  41, // major seventh: F2
  undefined,
  40, // minor ninth: E2
  39, // major ninth: Eb2
  36, // minor tenth: C2
  34, // major tenth: Bb1
];

/**
 * The lowest clear MIDI note for the lower tone of an interval in half steps. `undefined` where there is no limit:
 * the unison, the octave, and everything wider than a major tenth, where the published table ends.
 */
export const lowestClear = (halfSteps: number): number | undefined => lowest[halfSteps];
