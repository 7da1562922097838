import type { Hand } from "../keyboard/hand.js";
import type { Chord } from "../theory/chord.js";
import type { Key } from "../theory/key.js";
import { standsAgainst } from "../theory/stands-against.js";
import type { ToneNumber } from "../theory/tone-number.js";
import type { Asked } from "./asked.js";
import { bitsOf, type ChordTones, chordTones, type KeyBits } from "./chord-tones.js";
import { isClear, isHeld, type Keys, keysOf } from "./playable.js";
import { stacksOf } from "./stack.js";
import type { Part, Style } from "./styles.js";
import type { Step, Voice, Voicing } from "./voicing.js";

/** A voicing that may be taken, with its keys as ascending MIDI numbers. */
export interface Candidate extends Voicing {
  readonly leftKeys: readonly number[];
  readonly rightKeys: readonly number[];
  /** Of both hands, from the lowest up. */
  readonly keys: readonly number[];
}

/** Every voicing of a chord that a style allows where it stands, lower keys first, and what its tones are. */
export interface Served {
  readonly tones: ChordTones;
  /** Empty where the style can't serve the chord. */
  readonly candidates: readonly Candidate[];
}

/** Candidates, each about 1.2 kB with what is weighed of it. */
const mostRemembered = 40_000;
const known = new Map<string, Served>();
let remembered = 0;

/**
 * Every voicing that a style allows for a step: what both hands hold in each key asked for, the left below the right,
 * every interval clear, with the third and seventh that the symbol promises and nothing that contradicts it, the
 * melody on top, a hand that is fixed as it is. `next` is the next chord that is another, which says what this one does.
 */
export function candidatesFor(step: Step, next: Chord | undefined, style: Style, asked: Asked): Served {
  const name = [
    style.name,
    chordKey(step.chord),
    keyName(step.key),
    next === undefined ? "" : chordKey(next),
    step.melody === undefined ? "" : `${step.melody.fifths}:${step.melody.midi}`,
    voicesKey(step.left),
    voicesKey(step.right),
    `${step.above ?? ""},${step.below ?? ""}`,
    `${step.isForeign === true},${step.mayBeBare === true}`,
    `${asked.reach.left},${asked.reach.right}`,
    asked.everyKey,
    asked.moves.join(","),
  ].join(";");
  let served = known.get(name);
  if (served === undefined) {
    const tones = chordTones(step.chord, step.key, next);
    served = { tones, candidates: found(step, tones, style, asked) };
    const more = served.candidates.length + 1;
    if (remembered + more > mostRemembered) {
      known.clear();
      remembered = 0;
    }
    known.set(name, served);
    remembered += more;
  }
  return served;
}

const toneKey = ({ number, alter }: ToneNumber): string => `${number}.${alter}`;
const chordKey = ({ root, bass, quality }: Chord): string =>
  `${root}/${bass ?? ""}/${quality.tones.map(toneKey).join(" ")}`;
const keyName = ({ tonic, mode }: Key): string => `${tonic} ${mode}`;
const voicesKey = (voices: readonly Voice[] | undefined): string =>
  voices === undefined
    ? "?"
    : voices.map(({ pitch, number }) => `${pitch.fifths}:${pitch.midi}:${toneKey(number)}`).join(" ");

function found(step: Step, tones: ChordTones, style: Style, asked: Asked): readonly Candidate[] {
  if (step.left !== undefined && step.right !== undefined)
    return [candidate({ left: step.left, right: step.right })];
  const keys = keysOf(asked.moves, asked.everyKey);
  const isPlayable: IsPlayable = (voices, hand) => {
    const own = voices.map(keyOf);
    return isHeld(own, hand, asked.reach[hand], keys) && areClear(own, keys);
  };
  const voicings = laidOut(step, tones, style, isPlayable);
  const whole = among(voicings, step, tones.guides);
  return whole.length === 0 && step.mayBeBare === true ? among(voicings, step, 0) : whole;
}

/** Of some voicings those that sound what is promised, with the hands apart; each once, lower keys first. */
function among(voicings: readonly Voicing[], step: Step, promised: KeyBits): readonly Candidate[] {
  const all = new Map<string, Candidate>();
  for (const voicing of voicings) {
    const it = candidate(voicing);
    if (!isApart(it) || !isClearOf(it, step) || (heardOf(it, step) & promised) !== promised) continue;
    const name = `${it.leftKeys.join(" ")}/${it.rightKeys.join(" ")}`;
    if (!all.has(name)) all.set(name, it);
  }
  return [...all.values()].sort(byKeys);
}

/** The tones of a voicing that are heard as the chord. */
function heardOf({ leftKeys, rightKeys, keys }: Candidate, { left, right, isForeign }: Step): KeyBits {
  if (isForeign !== true) return bitsOf(keys);
  return (left === undefined ? bitsOf(leftKeys) : 0) | (right === undefined ? bitsOf(rightKeys) : 0);
}

/** Whether a hand holds voices in every key asked for, with no interval too low to be clear. */
type IsPlayable = (voices: readonly Voice[], hand: Hand) => boolean;

/** What a hand goes on to doesn't come into what the other holds meanwhile. */
const isClearOf = ({ leftKeys, rightKeys }: Candidate, { above, below }: Step): boolean =>
  (above === undefined || (rightKeys[0] ?? Number.POSITIVE_INFINITY) > above) &&
  (below === undefined || (leftKeys[leftKeys.length - 1] ?? Number.NEGATIVE_INFINITY) < below);

/** The left hand lies below the right. */
const isApart = ({ leftKeys, rightKeys }: Candidate): boolean =>
  (leftKeys[leftKeys.length - 1] ?? Number.NEGATIVE_INFINITY) < (rightKeys[0] ?? Number.POSITIVE_INFINITY);

const keyOf = ({ pitch }: Voice): number => pitch.midi;
const candidate = ({ left, right }: Voicing): Candidate => {
  const [leftKeys, rightKeys] = [left.map(keyOf), right.map(keyOf)];
  return { left, right, leftKeys, rightKeys, keys: [...leftKeys, ...rightKeys].sort((a, b) => a - b) };
};

/** The order in which equals stand: lower keys first, from the lowest up. */
function byKeys(a: Candidate, b: Candidate): number {
  for (let i = 0; i < Math.max(a.keys.length, b.keys.length); i++) {
    const difference = (a.keys[i] ?? 0) - (b.keys[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return a.leftKeys.length - b.leftKeys.length;
}

function areClear(hand: readonly number[], keys: Keys): boolean {
  for (let i = 1; i < hand.length; i++)
    if (!isClear(hand[i - 1] as number, hand[i] as number, keys)) return false;
  return true;
}

/** Every layout of a style over the hands that are to be found. */
function laidOut(
  { left, right, melody, isForeign }: Step,
  tones: ChordTones,
  style: Style,
  isPlayable: IsPlayable,
): readonly Voicing[] {
  const rights = (part: Part): readonly (readonly Voice[])[] =>
    stacksOf(part, tones, melody).filter((it) => isPlayable(it, "right"));
  const lefts = (part: Part): readonly (readonly Voice[])[] =>
    stacksOf(part, tones, undefined).filter((it) => isPlayable(it, "left"));
  if (left !== undefined) return style.right.flatMap(rights).map((it) => ({ left, right: it }));
  if (right !== undefined) {
    const top = right[right.length - 1];
    const mayDouble = top !== undefined && isForeign !== true && !standsAgainst(top.pitch, tones.chord);
    if (style.leftDoubles && mayDouble)
      return [{ left: [octaveBelow(top)], right }].filter((it) => isPlayable(it.left, "left"));
    return style.left.flatMap(lefts).map((it) => ({ left: it, right }));
  }
  return style.both.flatMap((layout): readonly Voicing[] => {
    if (layout.kind === "doubled")
      return rights(layout.right).map((it) => ({ left: it.slice(-1).map(octaveBelow), right: it }));
    if (layout.kind === "apart") {
      const all = rights(layout.right);
      return lefts(layout.left).flatMap((it) => all.map((other) => ({ left: it, right: other })));
    }
    return stacksOf(layout.part, tones, melody)
      .map((it) => ({ left: it.slice(0, layout.left), right: it.slice(layout.left) }))
      .filter((it) => isPlayable(it.left, "left") && isPlayable(it.right, "right"));
  });
}

const octaveBelow = ({ pitch, number }: Voice): Voice => ({
  pitch: { fifths: pitch.fifths, midi: pitch.midi - 12 },
  number,
});
