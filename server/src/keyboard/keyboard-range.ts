/** The piano's lowest and highest key, A0 and C8, as MIDI numbers (common practice, 88 keys). */
export const lowestKey = 21;
export const highestKey = 108;

export const isOnKeyboard = (midi: number): boolean => midi >= lowestKey && midi <= highestKey;
