import type { Chord } from "../theory/chord.js";
import type { Key } from "../theory/key.js";
import type { Pitch } from "../theory/pitch.js";
import type { ToneNumber } from "../theory/tone-number.js";
import type { Asked } from "./asked.js";
import { bitOf, type ChordTones, chordTones } from "./chord-tones.js";
import { isClear, isHeld, type Keys, keysOf } from "./playable.js";
import { stacksOf } from "./stack.js";
import type { Layout, Style } from "./styles.js";
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

const mostRemembered = 4_096;
const known = new Map<string, Served>();

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
    `${asked.reach.left},${asked.reach.right}`,
    asked.everyKey,
    asked.moves.join(","),
  ].join(";");
  let served = known.get(name);
  if (served === undefined) {
    if (known.size >= mostRemembered) known.clear();
    const tones = chordTones(step.chord, step.key, next);
    served = { tones, candidates: found(step, tones, style, asked) };
    known.set(name, served);
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
  const keys = keysOf(asked.moves, asked.everyKey);
  if (step.left !== undefined && step.right !== undefined)
    return [candidate({ left: step.left, right: step.right })];
  const isPlayable = judge(step, tones, asked, keys);
  const all = new Map<string, Candidate>();
  for (const voicing of laidOut(step, tones, style)) {
    const it = candidate(voicing);
    const name = `${it.leftKeys.join(" ")}/${it.rightKeys.join(" ")}`;
    if (!all.has(name) && isPlayable(it)) all.set(name, it);
  }
  return [...all.values()].sort(byKeys);
}

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

/** Whether a voicing may be proposed at all. */
function judge(
  { left, right }: Step,
  { guides }: ChordTones,
  asked: Asked,
  keys: Keys,
): (it: Candidate) => boolean {
  const { reach } = asked;
  // Where the right hand rests, somebody else says what the chord is.
  const promised = right?.length === 0 ? 0 : guides;
  return ({ leftKeys, rightKeys, keys: all }) => {
    if (left === undefined && !isHeld(leftKeys, "left", reach.left, keys)) return false;
    if (right === undefined && !isHeld(rightKeys, "right", reach.right, keys)) return false;
    const [top, bottom] = [leftKeys[leftKeys.length - 1], rightKeys[0]];
    if (top !== undefined && bottom !== undefined && top >= bottom) return false;
    let sounding = 0;
    for (const key of all) sounding |= bitOf(key);
    if ((sounding & promised) !== promised) return false;
    return (
      (left !== undefined || areClear(leftKeys, keys)) && (right !== undefined || areClear(rightKeys, keys))
    );
  };
}

function areClear(hand: readonly number[], keys: Keys): boolean {
  for (let i = 1; i < hand.length; i++)
    if (!isClear(hand[i - 1] as number, hand[i] as number, keys)) return false;
  return true;
}

/** Every layout of a style over the hands that are to be found. */
function laidOut({ left, right, melody }: Step, tones: ChordTones, style: Style): readonly Voicing[] {
  if (left === undefined && right === undefined)
    return style.both.flatMap((layout) => overBoth(layout, tones, melody));
  if (left !== undefined)
    return style.right.flatMap((part) => stacksOf(part, tones, melody)).map((it) => ({ left, right: it }));
  const fixed = right as readonly Voice[];
  const top = fixed[fixed.length - 1];
  if (style.leftDoubles && top !== undefined) return [{ left: [octaveBelow(top)], right: fixed }];
  return style.left
    .flatMap((part) => stacksOf(part, tones, undefined))
    .map((it) => ({ left: it, right: fixed }));
}

function overBoth(layout: Layout, tones: ChordTones, melody: Pitch | undefined): readonly Voicing[] {
  if (layout.kind === "split")
    return stacksOf(layout.part, tones, melody).map((it) => ({
      left: it.slice(0, layout.left),
      right: it.slice(layout.left),
    }));
  if (layout.kind === "doubled")
    return stacksOf(layout.right, tones, melody).map((right) => ({
      left: right.slice(-1).map(octaveBelow),
      right,
    }));
  const lefts = stacksOf(layout.left, tones, undefined);
  const rights = stacksOf(layout.right, tones, melody);
  return lefts.flatMap((left) => rights.map((right) => ({ left, right })));
}

const octaveBelow = ({ pitch, number }: Voice): Voice => ({
  pitch: { fifths: pitch.fifths, midi: pitch.midi - 12 },
  number,
});
