/**
 * The middle of each key where a finger strikes it, from the middle of C, in micrometres along the keyboard. White
 * keys are 23.5 mm apart. C–E and F–B are each evenly wide at the back, which moves the black keys from the borders of
 * their white neighbours (the same widths: quadibloc.com, The Size of the Piano Keyboard).
 */
const fromC: readonly number[] = [
  0, 9_400, 23_500, 37_600, 47_000, 70_500, 78_893, 94_000, 105_750, 117_500, 132_607, 141_000,
];

/** Seven white keys, in micrometres. */
export const octaveWidth = 164_500;
/** From the middle of a white key to that of the next, in micrometres. */
export const whiteKeyWidth = 23_500;

const octave = (midi: number): number => Math.floor(midi / 12);
const inOctave = (midi: number): number => midi - 12 * octave(midi);

/** Where a key, a MIDI number, lies: micrometres from the middle of MIDI 0 to its own, along the keyboard. */
export const placeOf = (midi: number): number =>
  octave(midi) * octaveWidth + (fromC[inOctave(midi)] as number);

/** Whether a key, a MIDI number, is a black one. */
export const isBlack = (midi: number): boolean => ((1 << inOctave(midi)) & blackKeys) !== 0;

/** C♯, D♯, F♯, G♯ and A♯, a bit each. */
const blackKeys = 0b0101_0100_1010;
