import { beatLength } from "../chart/bar-time.js";
import { rowIn } from "../chart/layout.js";
import type { Chart } from "../chart/model.js";
import { compare, type Fraction, minus } from "../theory/fraction.js";
import { compingOf } from "./comping-voices.js";
import { evenLoudness, shade } from "./loudness.js";
import type { PlayedNote } from "./performance.js";
import { type ChordStretch, isComped, type SoundingChord } from "./play-chords.js";

/** One touch of a comped chord. */
interface Touch {
  readonly at: Fraction;
  readonly end: Fraction;
  /** A `bass` row stands there and plays the lowest tone. */
  readonly hasBass: boolean;
}

/**
 * A plain accompaniment where a system gives chords and neither hand has a row: each chord struck where it is written
 * and anew at every bar line, with its bass below. It is nobody's hand: it stands in for what a player would make up.
 */
export function compedNotes(
  { header }: Chart,
  chords: readonly SoundingChord[],
  balance: boolean,
): readonly PlayedNote[] {
  const notes: PlayedNote[] = [];
  const comped = chords.flatMap((it) => {
    const touches = touchesOf(it.stretches);
    return touches.length === 0 ? [] : [{ ...it, touches }];
  });
  const loudness = balance ? evenLoudness - shade : evenLoudness;
  compingOf(comped, header.home).forEach(({ bass, voices }, i) => {
    const { touches, source } = comped[i] as (typeof comped)[number];
    for (const { at, end, hasBass } of touches)
      for (const pitch of hasBass ? voices : [bass, ...voices])
        notes.push({ at, length: minus(end, at), pitch, hand: undefined, grace: false, loudness, source });
  });
  return notes;
}

/** A tone dies away, so a chord is struck anew at a bar line, but not one that came early, less than a beat before it. */
function touchesOf(stretches: readonly ChordStretch[]): readonly Touch[] {
  const touches: Touch[] = [];
  for (const { at, end, bar } of stretches) {
    if (!isComped(bar)) continue;
    const last = touches.at(-1);
    const goesOn =
      last !== undefined &&
      compare(last.end, at) === 0 &&
      compare(minus(at, last.at), beatLength(bar.played.bar.meter)) < 0;
    const system = bar.played.section.section.systems[bar.played.bar.system];
    if (goesOn) touches[touches.length - 1] = { ...last, end };
    else touches.push({ at, end, hasBass: system !== undefined && rowIn(system, "bass") !== undefined });
  }
  return touches;
}
