/**
 * The middle of each key from the middle of C, in micrometres along the keyboard: an octave is 164.5 mm, and C–E and
 * F–B are each evenly wide at the back (the same widths: quadibloc.com, The Size of the Piano Keyboard).
 */
const fromC = [0, 9_400, 23_500, 37_600, 47_000, 70_500, 78_893, 94_000, 105_750, 117_500, 132_607, 141_000];
const octave = 164_500;
const whiteKey = 23_500;
/**
 * A hand that holds an interval of white keys, and not the next, has its limit somewhere between the two: the middle,
 * and a little more, so that no pair of keys lies on the edge (chosen here, no source).
 */
const slack = 12_500;
/** The reach that is taken where nobody says: a ninth. */
const usualReach = 9;

const placeOf = (midi: number): number => Math.floor(midi / 12) * octave + (fromC[midi % 12] as number);

/** Whether a hand that reaches so many white keys (8 is an octave) spans two keys, MIDI numbers, at once. */
export const isInReach = (lowest: number, highest: number, reach = usualReach): boolean =>
  placeOf(highest) - placeOf(lowest) <= (reach - 1) * whiteKey + slack;
