import type { Chord } from "../theory/chord.js";
import type { Key } from "../theory/key.js";
import type { Pitch } from "../theory/pitch.js";
import type { ToneNumber } from "../theory/tone-number.js";

/** One key of a voicing, with its number in the chord. */
export interface Voice {
  readonly pitch: Pitch;
  readonly number: ToneNumber;
}

/** What both hands hold, each from the lowest key up. */
export interface Voicing {
  readonly left: readonly Voice[];
  readonly right: readonly Voice[];
}

/** One moment of a passage: a chord to be voiced. */
export interface Step {
  readonly chord: Chord;
  readonly key: Key;
  /** The melody there: the right hand's top voice; `undefined` where there is none to keep. */
  readonly melody: Pitch | undefined;
  /** What a hand plays there already and keeps; `undefined` where it is to be found, empty where it rests. */
  readonly left: readonly Voice[] | undefined;
  readonly right: readonly Voice[] | undefined;
  /**
   * Keys, MIDI numbers, that the other hand goes on to while a voicing lasts: the right hand lies above the one, the left
   * below the other. Left out where the other hand does nothing of the kind.
   */
  readonly above?: number | undefined;
  readonly below?: number | undefined;
  /** What a hand plays already is pushed ahead to another chord, or left from one before: no part of this one. */
  readonly isForeign?: boolean;
  /**
   * Third and seventh may be missing where the style finds nothing that has them: the right hand rests over the chord,
   * or they are heard at another moment of it.
   */
  readonly mayBeBare?: boolean;
  /** Milliseconds until the next step; `undefined` where no tempo says. */
  readonly time: number | undefined;
}
