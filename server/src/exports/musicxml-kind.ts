import { chordOfKind, kindsWithTones } from "../theory/musicxml-kinds.js";
import type { Quality } from "../theory/quality.js";
import { isSameNumber, type ToneNumber } from "../theory/tone-number.js";

/** What a chord has beside its kind, less than it, or otherwise (MusicXML 4.0, `degree`). */
export interface Degree {
  readonly value: number;
  /** Half steps: of an added tone from what a dominant chord would have, of an altered one from what the kind has. */
  readonly alter: number;
  readonly type: "add" | "alter" | "subtract";
}

/** A chord's quality as MusicXML says it: a kind, and what differs from it. */
export interface KindReading {
  readonly kind: string;
  readonly degrees: readonly Degree[];
}

const kinds = kindsWithTones.map((kind) => ({ kind, tones: chordOfKind(kind)?.tones ?? [] }));

/** C7♯9 is a dominant chord with a ♯9 added, as no dominant has a 9 (the editor of the standard, w3c-cg/musicxml#369). */
const costOf = ({ type, value }: Degree): number =>
  type === "add" ? 3 : type === "alter" && value <= 7 ? 2 : 4;

/** They say more than their tones: an open fifth, and one chord of one opera. */
const exactOnly: ReadonlySet<string> = new Set(["power", "Tristan"]);

const known = new WeakMap<Quality, KindReading>();

/** The kind that leaves least to say, and what is left; of two the one that the standard lists first. */
export function kindOf(quality: Quality): KindReading {
  const before = known.get(quality);
  if (before !== undefined) return before;
  let best: KindReading = { kind: "other", degrees: quality.tones.map(added) };
  let least = Number.POSITIVE_INFINITY;
  for (const { kind, tones } of kinds) {
    const degrees = differences(tones, quality.tones);
    const cost = degrees.reduce((sum, degree) => sum + costOf(degree), 0);
    if (cost >= least || (cost > 0 && exactOnly.has(kind)) || losesMinorThird(tones, degrees)) continue;
    best = { kind, degrees };
    least = cost;
  }
  known.set(quality, best);
  return best;
}

/** What has no third is read as what has a major one. */
const losesMinorThird = (has: readonly ToneNumber[], degrees: readonly Degree[]): boolean =>
  has.some(({ number, alter }) => number === 3 && alter < 0) &&
  degrees.some(({ type, value }) => type === "subtract" && value === 3);

/** A dominant chord has a minor seventh; all else of it is major or perfect. */
const added = ({ number, alter }: ToneNumber): Degree => ({
  value: number,
  alter: number === 7 ? alter + 1 : alter,
  type: "add",
});

function differences(has: readonly ToneNumber[], wanted: readonly ToneNumber[]): readonly Degree[] {
  const missing = has.filter((tone) => !wanted.some((it) => isSameNumber(it, tone)));
  const degrees: Degree[] = [];
  for (const tone of wanted) {
    if (has.some((it) => isSameNumber(it, tone))) continue;
    const at = missing.findIndex(({ number }) => number === tone.number);
    const altered = missing[at];
    if (altered === undefined) degrees.push(added(tone));
    else {
      degrees.push({ value: tone.number, alter: tone.alter - altered.alter, type: "alter" });
      missing.splice(at, 1);
    }
  }
  for (const { number } of missing) degrees.push({ value: number, alter: 0, type: "subtract" });
  return degrees;
}
