import type { Hand } from "../keyboard/hand.js";
import type { PlayedNote } from "./performance.js";
import type { SoundingChord } from "./play-chords.js";

export const compedNotes = (
  _chords: readonly SoundingChord[],
  _reach: Readonly<Record<Hand, number>>,
): readonly PlayedNote[] => [];
