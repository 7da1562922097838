import type { Hand } from "../keyboard/hand.js";
import type { StyleName } from "./styles.js";

/** What a passage is to be voiced for. */
export interface Asked {
  readonly style: StyleName;
  /** White keys that each hand reaches, 5 to 15; 8 is an octave. */
  readonly reach: Readonly<Record<Hand, number>>;
  /** Half steps from where it is written to the other keys that it is played in. */
  readonly moves: readonly number[];
  /** It has to be playable in each of the twelve keys, moved as one block. */
  readonly everyKey: boolean;
}
