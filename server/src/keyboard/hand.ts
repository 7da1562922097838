export type Hand = "left" | "right";

/** From the thumb, 1, to the little finger, 5. */
export type Finger = 1 | 2 | 3 | 4 | 5;

/** The widest white-key interval that a hand is taken to hold where nobody says: a ninth. */
export const usualReach = 9;
