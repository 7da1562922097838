import { readChord } from "../../server/src/theory/chord.js";
import { readKey } from "../../server/src/theory/key.js";
import { voicePassage } from "../../server/src/voicing/search.js";
import { styles } from "../../server/src/voicing/styles.js";
import type { Step } from "../../server/src/voicing/voicing.js";

export interface VoicingRow {
  readonly name: string;
  readonly milliseconds: readonly number[];
  /** Milliseconds. */
  readonly goal: number;
}

/** Two bars of a made-up passage a line: 32 bars, two chords in most of them. */
const bars = `
  Cmaj9 A7b9 | Dm9 G13      Em7 A7 | D9 G7sus      Cmaj7 C7/E | Fmaj7 Bb9      C/G A7alt | Dm7 G7b9
  C6/9 Am7 | Fmaj7 F#dim7   C/G E7/G# | Am7 D7     Dm7 Dm7/C | Bm7b5 E7b9     Am7 Ab7 | G7sus G7
  Fmaj9 Em7 | Dm7 C6        F/A Abdim7 | C/G Gbmaj7  Fm6 Bb13 | Ebmaj7 Abmaj7  Dm7b5 G7b13 | Cm7 F9
  Bbmaj7 Gm7 | Cm9 F7b9     Ebmaj7 Ab9#11 | Dm7 Db9  Cmaj7 Bm7b5 | E7#9 Am9    D13 Dm11 | G9sus C6
`;

/**
 * Each bar's chords so many fifths away: a passage whose chords were not voiced before, so that nothing is looked up.
 */
function passage(fifths: number): readonly Step[] {
  const key = readKey("C major");
  if (key === undefined) throw new Error("C major can't be read");
  return bars
    .trim()
    .split(/[\s|]+/)
    .map((symbol) => {
      const chord = readChord(symbol);
      if (chord === undefined) throw new Error(`${symbol} can't be read`);
      const bass = chord.bass === undefined ? undefined : chord.bass + fifths;
      return {
        chord: { ...chord, root: chord.root + fifths, bass },
        key: { ...key, tonic: key.tonic + fifths },
        melody: undefined,
        left: undefined,
        right: undefined,
        time: undefined,
      };
    });
}

/** Voicing 32 bars in each style; the dearest style of a round counts. Two rounds warm the engine up. */
export function measureVoicing(): { readonly rows: readonly VoicingRow[]; readonly sum: number } {
  let sum = 0;
  const rows = [
    { name: "voicing 32 bars, dearest style", everyKey: false, goal: 200 },
    { name: "the same for every key", everyKey: true, goal: 1000 },
  ].map(({ name, everyKey, goal }) => {
    const milliseconds: number[] = [];
    for (let round = -2; round < 9; round++) {
      let dearest = 0;
      for (const { name: style } of styles) {
        const steps = passage(round - 3);
        const start = performance.now();
        const { cost } = voicePassage(steps, { style, reach: { left: 9, right: 9 }, moves: [], everyKey });
        dearest = Math.max(dearest, performance.now() - start);
        sum += cost;
      }
      if (round >= 0) milliseconds.push(dearest);
    }
    return { name, milliseconds, goal };
  });
  return { rows, sum };
}
