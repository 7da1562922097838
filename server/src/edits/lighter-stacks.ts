import type { Section, SlotEvent } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import { type Chord, toneInChord } from "../theory/chord.js";
import { compare, isEqual } from "../theory/fraction.js";
import { pitchClass } from "../theory/note-name.js";
import { guideTones } from "../theory/quality.js";
import { restacked, type WrittenTone, writtenTones } from "./written-stack.js";

/** What becomes of one tone of a stack. */
export type ToneChange = "left out" | "up" | "down" | "given";

/** A stack with some of its tones changed. */
export interface LighterStack {
  /** The new text of the slot, and of the other hand's where it is given a tone. */
  readonly texts: ReadonlyMap<SlotEvent, string>;
  readonly changes: readonly { readonly tone: WrittenTone; readonly change: ToneChange }[];
  readonly cost: number;
}

/**
 * What a change of one tone costs, beside the number of changed tones, which counts first: a tone that sounds in
 * another octave too is missed least, and the bass is the last to move (chosen here, no source).
 */
const costs = { doubled: 1, octave: 2, given: 3, fifth: 5, other: 8, bass: 4 } as const;

const otherHand = (hand: Hand): Hand => (hand === "left" ? "right" : "left");

/**
 * Every way to change so many tones of a slot that `isHeld` by its hand afterwards (and by the other, where it is given
 * a tone): tones left out, moved an octave or given to the other hand. The chord keeps its third and seventh, the right
 * hand its top voice, and the lowest tone its name. The cheapest stands first.
 */
export function lighterStacks(
  section: Section,
  slot: SlotEvent,
  hand: Hand,
  count: number,
  isHeld: (keys: readonly number[], hand: Hand) => boolean,
): readonly LighterStack[] {
  const { text } = section.source;
  const written = writtenTones(slot, text);
  if (written === undefined) return [];
  // Of equals the tones at the other hand's side change first.
  const tones = hand === "left" ? [...written].reverse() : written;
  const receiver = strikingWith(section, slot, otherHand(hand));
  const others = receiver && writtenTones(receiver, text);
  const beside = keysBeside(section, slot);
  const found: LighterStack[] = [];
  const top = Math.max(...tones.map(({ midi }) => midi));
  const lowest = Math.min(...tones.map(({ midi }) => midi), ...beside);
  const must = guidesAmong([...tones.map(({ midi }) => midi), ...beside], slot.chord?.chord);

  const judge = (changes: ReadonlyMap<WrittenTone, ToneChange>): void => {
    const own = tones.flatMap((tone): readonly WrittenTone[] => {
      const change = changes.get(tone);
      if (change === "up" || change === "down")
        return [{ ...tone, midi: tone.midi + (change === "up" ? 12 : -12) }];
      return change === undefined ? [tone] : [];
    });
    const given = tones.filter((tone) => changes.get(tone) === "given");
    const keys = keysOf(own);
    if (keys.length === 0 || hasTwice(keys) || !isHeld(keys, hand)) return;
    const theirs = given.length === 0 ? beside : keysOf([...(others ?? []), ...given]);
    if (given.length > 0 && (hasTwice(theirs) || !isHeld(theirs, otherHand(hand)))) return;
    const all = [...keys, ...beside, ...theirs];
    const sounding = new Set(all.map(inOctave));
    const isWhole =
      must.every((tone) => sounding.has(tone)) && inOctave(Math.min(...all)) === inOctave(lowest);
    // The melody is on top of the right hand, and the left never rises over it.
    if (!isWhole || (hand === "right" && Math.max(...keys) !== top)) return;
    const texts = new Map<SlotEvent, string>();
    const lighter = restacked(slot, own, text);
    if (lighter === undefined) return;
    texts.set(slot, lighter);
    if (given.length > 0 && receiver !== undefined) {
      const received = restacked(receiver, [...(others ?? []), ...given], text);
      if (received === undefined) return;
      texts.set(receiver, received);
    }
    let cost = 0;
    for (const [tone, change] of changes)
      cost += costOf(tone, change, sounding, slot.chord?.chord) + (tone.midi === lowest ? costs.bass : 0);
    found.push({ texts, changes: [...changes].map(([tone, change]) => ({ tone, change })), cost });
  };

  const choose = (from: number, changes: ReadonlyMap<WrittenTone, ToneChange>): void => {
    if (changes.size === count) {
      judge(changes);
      return;
    }
    for (let i = from; i < tones.length; i++) {
      const tone = tones[i] as WrittenTone;
      // What is held from before lies where it lies.
      if (tone.isHeld) continue;
      for (const change of others === undefined ? kept : changesOf)
        choose(i + 1, new Map([...changes, [tone, change]]));
    }
  };
  choose(0, new Map());
  return found.sort((a, b) => a.cost - b.cost);
}

const changesOf: readonly ToneChange[] = ["left out", "down", "up", "given"];
const kept = changesOf.filter((it) => it !== "given");

const inOctave = (key: number): number => key % 12;
const keysOf = (tones: readonly WrittenTone[]): readonly number[] =>
  tones.map(({ midi }) => midi).sort((a, b) => a - b);
const hasTwice = (keys: readonly number[]): boolean => new Set(keys).size < keys.length;

function costOf(
  { note, midi }: WrittenTone,
  change: ToneChange,
  sounding: ReadonlySet<number>,
  chord: Chord | undefined,
): number {
  if (change === "given") return costs.given;
  if (change !== "left out") return costs.octave;
  if (sounding.has(inOctave(midi))) return costs.doubled;
  return chord !== undefined && note.pitch.fifths === chord.root + 1 ? costs.fifth : costs.other;
}

/** The third and seventh of a chord that are among some keys, each within the octave. */
export function guidesAmong(keys: readonly number[], chord: Chord | undefined): readonly number[] {
  if (chord === undefined) return [];
  const sounding = new Set(keys.map(inOctave));
  return guideTones(chord.quality)
    .map((n) => pitchClass(toneInChord(chord, n)))
    .filter((it) => sounding.has(it));
}

/** The keys that other rows sound at a slot's moment; a melody that somebody else sings isn't among them. */
export function keysBeside({ rows }: Section, { row, bar, pickup, at }: SlotEvent): readonly number[] {
  return Object.values(rows).flatMap(({ slots }) => {
    const now = slots
      .filter((it) => it.row !== row && it.bar === bar && it.pickup === pickup && compare(it.at, at) <= 0)
      .at(-1);
    if (now === undefined || (now.row === "lead" && now.hand === undefined)) return [];
    return [...now.held, ...now.struck].flatMap(({ grace, pitch }) => (grace ? [] : [pitch.midi]));
  });
}

/** The slot of the other hand's own row that is struck at the same moment for as long, under the same chord. */
const strikingWith = ({ rows }: Section, slot: SlotEvent, hand: Hand): SlotEvent | undefined =>
  rows[hand].slots.find(
    (it) =>
      it.bar === slot.bar &&
      it.pickup === slot.pickup &&
      isEqual(it.at, slot.at) &&
      isEqual(it.length, slot.length) &&
      it.kind === "stack" &&
      it.struck.length > 0 &&
      it.chord === slot.chord &&
      it.pushed === slot.pushed &&
      it.rolled === slot.rolled,
  );
