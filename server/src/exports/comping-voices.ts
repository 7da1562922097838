import type { HomeKey } from "../chart/model.js";
import { usualReach } from "../keyboard/hand.js";
import type { Chord } from "../theory/chord.js";
import type { Key } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import type { Pitch } from "../theory/pitch.js";
import type { Asked } from "../voicing/asked.js";
import { voicePassage } from "../voicing/search.js";
import type { Step, Voice } from "../voicing/voicing.js";

/** A chord as it sounds, to be comped. */
export interface CompedChord {
  readonly chord: Chord;
  readonly key: Key;
}

/** What a chord is comped with. */
export interface Comping {
  /** Its lowest tone: the one after the slash, or its root. */
  readonly bass: Pitch;
  /** From the lowest up; empty where nothing can be held above the bass. */
  readonly voices: readonly Pitch[];
}

/** In half steps from the chart's 1: the lowest key that a voice may have. The bass lies below (chosen here, no source). */
export const lowestVoice = -8;

/** Chords are voiced as in C, where the home octave's 1 is C4, and then moved as one block. */
const oneInC = 60;
/** A plain accompaniment: nothing but the chord's own tones, near one another, for any hands in any key. */
const asked: Asked = {
  style: "close",
  reach: { left: usualReach, right: usualReach },
  moves: [],
  everyKey: true,
};

/** How chords that follow one another are comped: in close position, with the least movement from first to last. */
export function compingOf(chords: readonly CompedChord[], home: HomeKey): readonly Comping[] {
  const steps = chords.map((it) => stepInC(it, home));
  return voicePassage(steps, asked).steps.map(({ voicing }, i): Comping => {
    const { chord } = chords[i] as CompedChord;
    const fifths = chord.root - (steps[i] as Step).chord.root;
    const pitchOf = ({ pitch }: Voice): Pitch => ({
      fifths: pitch.fifths + fifths,
      midi: pitch.midi - oneInC + home.one,
    });
    const [bass] = voicing?.left ?? [];
    return {
      bass: bass === undefined ? lowBass(chord, home) : pitchOf(bass),
      voices: voicing?.right.map(pitchOf) ?? [],
    };
  });
}

/** As it would be in C, spelled the plainest way, so that a chart which moves is comped as it was. */
function stepInC({ chord, key }: CompedChord, home: HomeKey): Step {
  const tonic = nearest(key.tonic - home.key.tonic, 0);
  const root = nearest(chord.root - home.key.tonic, tonic);
  return {
    chord: { ...chord, root, bass: chord.bass === undefined ? undefined : chord.bass + root - chord.root },
    key: { ...key, tonic },
    melody: undefined,
    left: undefined,
    right: undefined,
    above: oneInC + lowestVoice - 1,
    below: oneInC + lowestVoice,
    time: undefined,
  };
}

/** The name of the same key on the keyboard that is at most six fifths from another. */
const nearest = (fifths: number, to: number): number => fifths - 12 * Math.round((fifths - to) / 12);

/** In the octave that begins two below the home octave's 1. */
function lowBass({ root, bass = root }: Chord, home: HomeKey): Pitch {
  const above = (((pitchClass(bass) - pitchClass(home.key.tonic)) % 12) + 12) % 12;
  return { fifths: bass, midi: home.one - 24 + above };
}
