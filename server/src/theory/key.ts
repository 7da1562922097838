import { nameOf, pitchClass, prettyStrict, readName } from "./note-name.js";
import { fifthsAbove, numberOf, type ToneNumber } from "./tone-number.js";

/**
 * `ionian` and `aeolian` are kept as the writer wrote them and printed so; in all else they are major and minor.
 */
export type ModeName =
  | "major"
  | "minor"
  | "dorian"
  | "phrygian"
  | "lydian"
  | "mixolydian"
  | "locrian"
  | "ionian"
  | "aeolian";

/** A tonic (line of fifths) and a mode. */
export interface Key {
  readonly tonic: number;
  readonly mode: ModeName;
}

interface Mode {
  /** Sharps (or flats, negative) more than the major key on the same tonic has. */
  readonly signs: number;
  /** What each degree, 1 to 7, has against the major scale. */
  readonly alters: readonly number[];
}

/** Each mode against the major scale on its tonic (common knowledge; Aeolian is the natural minor scale). */
const major: Mode = { signs: 0, alters: [0, 0, 0, 0, 0, 0, 0] };
const minor: Mode = { signs: -3, alters: [0, 0, -1, 0, 0, -1, -1] };
const modes: Readonly<Record<ModeName, Mode>> = {
  major,
  minor,
  dorian: { signs: -2, alters: [0, 0, -1, 0, 0, 0, -1] },
  phrygian: { signs: -4, alters: [0, -1, -1, 0, 0, -1, -1] },
  lydian: { signs: 1, alters: [0, 0, 0, 1, 0, 0, 0] },
  mixolydian: { signs: -1, alters: [0, 0, 0, 0, 0, 0, -1] },
  locrian: { signs: -5, alters: [0, -1, -1, 0, -1, -1, -1] },
  ionian: major,
  aeolian: minor,
};

export const modeNames: readonly ModeName[] = Object.keys(modes) as ModeName[];

/** What the mode's own degree has against the major scale: -1 for 3 in minor. */
const ownAlter = (mode: ModeName, degree: number): number => modes[mode].alters[(degree - 1) % 7] as number;

/** How far a written sign moves the mode's own degree: b3 in minor gives 0, bb3 gives -1, #3 gives 1. */
const signBeyond = (own: number, alter: number): number => (own * alter > 0 ? alter - own : alter);

/**
 * The tone of a degree, 1 to 7, counted along the mode's own scale (natural minor in minor). A sign for what the
 * mode already has changes nothing (b3 in minor is 3), and one more of the same kind moves it once (bb3).
 */
export function scaleDegree(key: Key, degree: number, alter: number): number {
  const own = ownAlter(key.mode, degree);
  return key.tonic + fifthsAbove({ number: degree, alter: own + signBeyond(own, alter) });
}

/** Whether the sign says only what the mode already has: b3, b6, b7 in minor, #4 in lydian. */
export const isRedundantSign = (mode: ModeName, degree: number, alter: number): boolean =>
  alter !== 0 && alter === ownAlter(mode, degree);

/**
 * The degree of a tone along the key's own scale, so that `scaleDegree` gives the tone back: Eb in C minor is 3,
 * E in C minor is #3, Ebb in C minor is bb3.
 */
export function degreeInKey(key: Key, fifths: number): ToneNumber {
  const { number, alter } = numberOf(key.tonic, fifths);
  const own = ownAlter(key.mode, number);
  const beyond = alter - own;
  return { number, alter: own * beyond > 0 ? beyond + own : beyond };
}

/** The tones of the key's own scale, from the tonic up (line of fifths). */
export const scaleOf = (key: Key): readonly number[] =>
  modes[key.mode].alters.map((alter, index) => key.tonic + fifthsAbove({ number: index + 1, alter }));

/** Sharps of the key signature, flats negative: Eb major -3. Beyond 7 no signature is printed in practice. */
export const signature = (key: Key): number => key.tonic + modes[key.mode].signs;

const isMajor = (mode: ModeName): boolean => mode === "major" || mode === "ionian";

/**
 * Whether players write this key: up to six flats, and up to five sharps, six in major (both Gb and F# are in use;
 * of D# and Eb minor only Eb is). Counts of published collections: Billboard, Lieder and Distant Listening
 * corpora; for the church modes, which they don't count, the rule of minor is taken.
 */
export function isPractical(key: Key): boolean {
  const sharps = signature(key);
  return sharps >= -6 && sharps <= (isMajor(key.mode) ? 6 : 5);
}

/**
 * The practical name of a key. Where Gb and F# both serve, the one nearer to `near` (a tonic on the line of fifths)
 * and Gb on a tie; without `near` a practical key stays as it is.
 */
export function practical(key: Key, near?: number): Key {
  if (near === undefined && isPractical(key)) return key;
  const lowest = -6 - modes[key.mode].signs;
  const wanted = pitchClass(key.tonic);
  let best: Key | undefined;
  for (let tonic = lowest; tonic <= lowest + 12; tonic++) {
    const candidate: Key = { tonic, mode: key.mode };
    if (pitchClass(tonic) !== wanted || !isPractical(candidate)) continue;
    if (best === undefined || Math.abs(tonic - (near ?? 0)) < Math.abs(best.tonic - (near ?? 0)))
      best = candidate;
  }
  return best ?? key;
}

/** The twelve practical keys of a mode, from C up by half steps (Gb of Gb and F#). */
export const practicalKeys = (mode: ModeName): Key[] =>
  Array.from({ length: 12 }, (_, halfSteps) => practical({ tonic: (halfSteps * 7) % 12, mode }, 0));

export interface Triad {
  readonly third: "major" | "minor";
  readonly fifth: "perfect" | "diminished" | "augmented";
}

const fifthKinds: Readonly<Record<number, Triad["fifth"]>> = {
  [-6]: "diminished",
  1: "perfect",
  8: "augmented",
};

/** The triad that the key's own scale has on a degree, 1 to 7. */
export function triadOn(key: Key, degree: number): Triad {
  const at = (above: number): number => scaleDegree(key, ((degree - 1 + above) % 7) + 1, 0);
  const root = at(0);
  return { third: at(2) - root === 4 ? "major" : "minor", fifth: fifthKinds[at(4) - root] ?? "perfect" };
}

/** In ASCII, as a key line has it: `"Eb major"`. */
export const keyName = (key: Key): string => `${nameOf(key.tonic)} ${key.mode}`;

/** For people: `"E♭ major"`. Strict, since a key is named as it is written. */
export const prettyKey = (key: Key): string => `${prettyStrict(key.tonic)} ${key.mode}`;

/** A mode's name or its usual short form: `maj`, `M`, `min`, `m`. Capitals don't matter but in `m` and `M`. */
export function readMode(text: string): ModeName | undefined {
  if (text === "M") return "major";
  if (text === "m") return "minor";
  const lower = text.toLowerCase();
  if (lower === "maj") return "major";
  if (lower === "min") return "minor";
  return modeNames.find((name) => name === lower);
}

const keyText = /^([A-G][b#♭♯x𝄫𝄪]*)[ \t]*([A-Za-z]*)$/u;

/** A key as a key line writes it: `"Eb major"`, `"F# minor"`, `"Ab"` (major is understood), `"Cm"`. */
export function readKey(text: string): Key | undefined {
  const found = keyText.exec(text.trim());
  const tonic = found?.[1] === undefined ? undefined : readName(found[1]);
  const mode = found?.[2] === "" ? "major" : readMode(found?.[2] ?? "");
  return tonic === undefined || mode === undefined ? undefined : { tonic, mode };
}
