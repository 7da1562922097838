import { widestShape } from "../keyboard/grip-shape.js";
import type { PitchedRow, StackText, ToneName, ToneText } from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import type { Chord } from "../theory/chord.js";
import { isRedundantSign, type Key, scaleDegree } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import { type Pitch, pitchAt } from "../theory/pitch.js";
import { fifthsAbove } from "../theory/tone-number.js";
import type { Under } from "./counting-chord.js";
import type { Displacement, Mark, OctaveSignMark } from "./model.js";

/** What the tones of a stack are placed by. */
export interface StackPlace {
  readonly row: PitchedRow;
  readonly key: Key;
  /** The lowest key of the row's home octave, a MIDI number. */
  readonly home: number;
  /** The sum of the octave signs of the groups around the slot. */
  readonly groupOctaves: number;
  readonly under: Under;
  readonly pushed: boolean;
  /** How many chords have been struck before it. */
  readonly stretch: number;
  readonly displacement: Displacement;
  /** The section's text, and where the slot starts in it. */
  readonly text: string;
  readonly start: number;
}

export interface PlacedTone {
  readonly tone: ToneText;
  readonly pitch: Pitch;
  readonly grace: Pitch | undefined;
  /** Nothing of its stack sounds below it, so a sign may move it either way. */
  readonly lowest: boolean;
}

/** The tones of a stack with their keys. Equal texts in equal places share it. */
export interface PlacedStack {
  /** Lowest first as written. */
  readonly tones: readonly PlacedTone[];
  /** Of its tones, grace notes aside; `undefined` where there is none. */
  readonly lowest: Pitch | undefined;
  readonly highest: Pitch | undefined;
  /** The lowest and the highest key that it strikes, grace notes among them: MIDI numbers, 0 where there is none. */
  readonly least: number;
  readonly most: number;
  /** A bit for each half step above its lowest key, as if it were not rolled; `undefined` where it is wider than any hand. */
  readonly shape: number | undefined;
  /** Which of the twelve sound, grace notes among them: a bit for each from C up. */
  readonly classes: number;
  /** Whether a tone would hold what sounds before. */
  readonly holds: boolean;
}

/** A stack as it was placed, and where. */
interface KnownStack {
  readonly row: PitchedRow;
  readonly home: number;
  readonly groupOctaves: number;
  readonly key: Key;
  readonly placed: PlacedStack;
}

/** Equal slot texts share their `StackText`, and a chart repeats a few hundred of them thousands of times. */
const known = new WeakMap<StackText, WeakMap<Chord | Key, KnownStack[]>>();
/** Places a stack is remembered in, under one chord. */
const mostPlaces = 16;

/**
 * A stack as it was placed before in an equal place, counting from an equal chord; `undefined` where it has not been,
 * or has to be placed anew since there is something to say of it.
 */
export function placedBefore(
  stack: StackText,
  chord: Chord | undefined,
  { row, home, key }: Pick<KnownStack, "row" | "home" | "key">,
  groupOctaves: number,
): PlacedStack | undefined {
  const from = countsFromKeyAlone(stack, row) ? key : chord;
  const there = from && known.get(stack)?.get(from);
  if (there === undefined) return undefined;
  for (let i = 0; i < there.length; i++) {
    const it = there[i] as KnownStack;
    if (it.home === home && it.groupOctaves === groupOctaves && it.row === row && isSameKey(it.key, key))
      return it.placed;
  }
  return undefined;
}

/**
 * The tones of a stack with their keys, from the text alone: never from the slot before. Those without a chord are left
 * out. Asked where it was not placed before, and remembered.
 */
export function placeStack(stack: StackText, place: StackPlace, marks: Mark[]): PlacedStack {
  const marked = marks.length;
  const placed = placeAnew(stack, place, marks);
  const { row, home, groupOctaves, key, under, displacement } = place;
  const from = countsFromKeyAlone(stack, row) ? key : under.event?.chord;
  // What is wrong there has to be said at each place.
  if (
    from === undefined ||
    marks.length > marked ||
    displacement.fifths !== 0 ||
    displacement.halfSteps !== 0
  )
    return placed;
  let inPlaces = known.get(stack);
  if (inPlaces === undefined) {
    inPlaces = new WeakMap();
    known.set(stack, inPlaces);
  }
  const it = { row, home, groupOctaves, key, placed };
  const there = inPlaces.get(from);
  if (there === undefined) inPlaces.set(from, [it]);
  else if (there.length < mostPlaces) there.push(it);
  return placed;
}

const isSameKey = (a: Key, b: Key): boolean => a === b || (a.tonic === b.tonic && a.mode === b.mode);

/** Whether no tone hangs on the chord, as far as one look can tell. */
function countsFromKeyAlone({ tones }: StackText, row: PitchedRow): boolean {
  const tone = tones[0];
  if (tone === undefined || tones.length > 1 || tone.grace !== undefined) return false;
  return tone.name.kind === "number" && tone.name.number !== 0 && countsFromKey(tone.counts, row);
}

function placeAnew({ tones }: StackText, place: StackPlace, marks: Mark[]): PlacedStack {
  const placed: PlacedTone[] = [];
  let [below, lowest, highest]: (Pitch | undefined)[] = [];
  let least = 0;
  let most = 0;
  let classes = 0;
  let holds = false;
  for (const tone of tones) {
    const fifths = readName(tone.name, tone.counts, tone.nameSpan, place, marks);
    if (fifths === undefined) continue;
    const pitch = placeTone(tone, fifths, below?.midi, place, marks);
    const grace = graceOf(tone, pitch, place, marks);
    placed.push({ tone, pitch, grace, lowest: below === undefined });
    if (lowest === undefined || pitch.midi < lowest.midi) lowest = pitch;
    if (highest === undefined || pitch.midi > highest.midi) highest = pitch;
    classes |= 1 << pitchClass(fifths);
    if (grace !== undefined) classes |= 1 << pitchClass(grace.fifths);
    const other = grace?.midi ?? pitch.midi;
    least = Math.min(below === undefined ? pitch.midi : least, pitch.midi, other);
    most = Math.max(below === undefined ? pitch.midi : most, pitch.midi, other);
    holds ||= tone.held !== undefined;
    below = pitch;
  }
  const shape = shapeOf(placed, lowest?.midi ?? 0);
  // A copy has no room for more, which a list that has grown keeps.
  return { tones: placed.slice(), lowest, highest, least, most, shape, classes, holds };
}

function shapeOf(tones: readonly PlacedTone[], lowest: number): number | undefined {
  let shape = 0;
  for (const { pitch } of tones) {
    const above = pitch.midi - lowest;
    if (above === 0) continue;
    if (above > widestShape) return undefined;
    shape |= 1 << above;
  }
  return shape;
}

/** Whether a number counts from the key, by its sign or by its row. */
const countsFromKey = (counts: ToneText["counts"], row: PitchedRow): boolean =>
  counts === "key" || (counts === undefined && (row === "lead" || row === "bass"));

/** The name of a tone as a letter or number gives it, before any displacement; `undefined` where it lacks its chord. */
export function nameOfTone(
  name: ToneName,
  counts: ToneText["counts"],
  row: PitchedRow,
  key: Key,
  chord: Chord | undefined,
): number | undefined {
  if (name.kind === "pitch") return name.fifths;
  if (name.number !== 0 && countsFromKey(counts, row)) {
    return scaleDegree(key, ((name.number - 1) % 7) + 1, name.alter);
  }
  if (chord === undefined) return undefined;
  return name.number === 0 ? (chord.bass ?? chord.root) : chord.root + fifthsAbove(name);
}

/** The same with what is wrong marked: no chord to count from, a sign that the mode has already. */
function readName(
  name: ToneName,
  counts: ToneText["counts"],
  inSlot: Span,
  place: StackPlace,
  marks: Mark[],
): number | undefined {
  const { row, key, under, displacement, stretch, pushed, text } = place;
  const fifths = nameOfTone(name, counts, row, key, under.event?.chord);
  if (name.kind === "pitch") return (fifths as number) + displacement.fifths;
  if (fifths === undefined) {
    const span = shift(inSlot, place.start);
    if (!under.unknown)
      marks.push({ kind: "no-chord", row, span, text: sliceOf(text, span), stretch, pushed });
  } else if (name.alter !== 0 && name.number !== 0 && countsFromKey(counts, row)) {
    const { number, alter } = name;
    if (isRedundantSign(key.mode, ((number - 1) % 7) + 1, alter)) {
      marks.push({
        kind: "minor-degree",
        row,
        span: shift(inSlot, place.start),
        degree: number,
        alter,
        key,
        fifths,
      });
    }
  }
  return fifths;
}

/** The lowest key at or above `from` that sounds this name. */
const lowestFrom = (from: number, fifths: number): number =>
  from + ((((pitchClass(fifths) - from) % 12) + 12) % 12);

function placeTone(
  tone: ToneText,
  fifths: number,
  below: number | undefined,
  place: StackPlace,
  marks: Mark[],
): Pitch {
  if (tone.name.kind === "pitch" && tone.name.octave !== undefined) {
    if (tone.octaveSigns !== undefined) markSigns(tone, "exact", place, marks);
    if (below === undefined && place.groupOctaves !== 0) markSigns(tone, "group", place, marks);
    const { midi } = pitchAt(tone.name.fifths, tone.name.octave);
    return { fifths, midi: midi + place.displacement.halfSteps };
  }
  if (below === undefined) {
    return { fifths, midi: lowestFrom(place.home, fifths) + 12 * (tone.octaves + place.groupOctaves) };
  }
  if (tone.octaves < 0) markSigns(tone, "inside-stack", place, marks);
  return { fifths, midi: lowestFrom(below + 1, fifths) + 12 * Math.max(0, tone.octaves) };
}

function markSigns(
  tone: ToneText,
  why: OctaveSignMark["why"],
  { row, start }: StackPlace,
  marks: Mark[],
): void {
  const toneSpan = shift(tone.span, start);
  const span = why === "group" || tone.octaveSigns === undefined ? toneSpan : shift(tone.octaveSigns, start);
  marks.push({ kind: "octave-sign", row, span, toneSpan, why });
}

/** The grace note of a tone: the nearest of its name below or above, below where both are as near. */
function graceOf(tone: ToneText, { midi }: Pitch, place: StackPlace, marks: Mark[]): Pitch | undefined {
  const { grace, graceSpan } = tone;
  if (grace === undefined || graceSpan === undefined) return undefined;
  const fifths = readName(grace, tone.counts, graceSpan, place, marks);
  if (fifths === undefined) return undefined;
  if (grace.kind === "pitch" && grace.octave !== undefined) {
    return { fifths, midi: pitchAt(grace.fifths, grace.octave).midi + place.displacement.halfSteps };
  }
  const above = (((pitchClass(fifths) - midi) % 12) + 12) % 12;
  return { fifths, midi: above === 0 || above >= 6 ? midi + above - 12 : midi + above };
}
