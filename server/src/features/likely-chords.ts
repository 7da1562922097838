import { type Chord, completeOnDegree } from "../theory/chord.js";
import { functionOf } from "../theory/harmonic-function.js";
import { degreeInKey, isRedundantSign, type Key, scaleDegree, scaleOf, triadOn } from "../theory/key.js";
import { plainQuality, type QualityReading, readQuality } from "../theory/quality.js";
import { fifthsAbove, readNumber, type ToneNumber } from "../theory/tone-number.js";
import { usualQualities } from "../theory/usual-qualities.js";

/** A quality on a degree of a key, as the chord row reads it. */
export function chordOn(key: Key, { number, alter }: ToneNumber, reading: QualityReading): Chord {
  const beyond = isRedundantSign(key.mode, number, alter) ? 0 : alter;
  return {
    root: scaleDegree(key, number, alter),
    quality: completeOnDegree(reading, key, number, beyond),
    bass: undefined,
  };
}

/** Which degrees come after one, the likeliest first (common practice, no source). */
const after: Readonly<Record<number, string>> = {
  1: "4562371",
  2: "5416372",
  3: "6421573",
  4: "5126374",
  5: "1642375",
  6: "4253176",
  7: "1365427",
};
/** Where a section starts. */
const first = "1642537";

const sevenths = ["maj7", "7", "m7", "m7b5"].map((text) => readQuality(text) as QualityReading);

const isIn = (key: Key, { root, quality }: Chord): boolean => {
  const scale = scaleOf(key);
  return quality.tones.every((tone) => scale.includes(root + fifthsAbove(tone)));
};

const natural = (number: number): ToneNumber => ({ number, alter: 0 });

/**
 * The chords of a key and those that are usual beside them, the likeliest first after the chord before: plain ones,
 * the dominants, chords over another bass, seventh chords, dominants of other degrees, borrowed ones.
 */
export function likelyChords(key: Key, before: Chord | undefined): readonly Chord[] {
  const { alter, number } = before === undefined ? natural(0) : degreeInKey(key, before.root);
  const target =
    before !== undefined && functionOf(before, key, undefined).kind === "dominant"
      ? degreeInKey(key, before.root - 1)
      : undefined;
  const usual = [...(alter === 0 ? (after[number] ?? first) : first)].map(Number);
  const degrees =
    target?.alter === 0 ? [target.number, ...usual.filter((it) => it !== target.number)] : usual;
  const on = (degree: string, quality: string, bass?: number): Chord => ({
    ...chordOn(key, readNumber(degree) as ToneNumber, readQuality(quality) as QualityReading),
    bass: bass === undefined ? undefined : scaleDegree(key, bass, 0),
  });
  const isMinor = triadOn(key, 1).third === "minor";
  return [
    ...degrees.map((degree) => on(`${degree}`, "")),
    ...(isMinor ? [on("5", "maj")] : []),
    on("5", "7"),
    on("5", "7sus"),
    on("5", "9sus"),
    ...(
      [
        [1, 3],
        [5, 7],
        [4, 6],
        [1, 5],
        [4, 1],
        [2, 4],
      ] as const
    ).map(([degree, bass]) => on(`${degree}`, "", bass)),
    ...degrees.flatMap((degree) => {
      const own = sevenths
        .map((quality) => chordOn(key, natural(degree), quality))
        .find((it) => isIn(key, it));
      return own === undefined ? [] : [own];
    }),
    ...[5, 2, 6, 4, 3].map((degree): Chord => {
      const root = scaleDegree(key, degree, 0) + 1;
      return { root, quality: (readQuality("7") as QualityReading).major, bass: undefined };
    }),
    ...(isMinor
      ? [on("4", "maj"), on("b2", ""), on("#7", "dim7")]
      : [on("4", "m"), on("b7", ""), on("b6", ""), on("b3", ""), on("2", "m7b5"), on("#4", "dim7")]),
  ];
}

/** A spelling of a quality, and the chord that it makes. */
export interface LikelyQuality {
  readonly text: string;
  readonly chord: Chord;
}

/** Every usual quality on a root, the likeliest in this key first; `chordOf` reads a quality on the root. */
export function likelyQualities(
  key: Key,
  chordOf: (reading: QualityReading) => Chord,
): readonly LikelyQuality[] {
  const symbols = new Set<string>();
  const found: { readonly text: string; readonly chord: Chord; readonly rank: number }[] = [];
  for (const text of ["", ...usualQualities]) {
    const reading = text === "" ? plainQuality : readQuality(text);
    if (reading === undefined) continue;
    const chord = chordOf(reading);
    // Of several spellings of one chord the first is the usual one.
    if (symbols.has(chord.quality.symbol)) continue;
    symbols.add(chord.quality.symbol);
    found.push({ text, chord, rank: text === "" ? -1 : rankOf(key, chord) });
  }
  return found.sort((a, b) => a.rank - b.rank);
}

/** The key's own tones, its own chord with other colours, a dominant of another degree, a borrowed chord, another. */
function rankOf(key: Key, chord: Chord): number {
  if (isIn(key, chord)) return 0;
  const { kind } = functionOf(chord, key, undefined);
  return kind === "diatonic" ? 1 : kind === "dominant" ? 2 : kind === "borrowed" ? 3 : 4;
}
