import type { PitchedRow, StackText, ToneName, ToneText } from "../syntax/tree.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import type { Chord } from "../theory/chord.js";
import { isRedundantSign, type Key, scaleDegree } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import { type Pitch, pitchAt } from "../theory/pitch.js";
import { fifthsAbove } from "../theory/tone-number.js";
import type { Under } from "./counting-chord.js";
import type { Displacement, Mark } from "./model.js";

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
  readonly grace: { readonly pitch: Pitch; readonly span: Span } | undefined;
  /** Nothing of its stack sounds below it, so a sign may move it either way. */
  readonly lowest: boolean;
  readonly span: Span;
}

/** The tones of a stack with their keys, from the text alone: never from the slot before. Those without a chord are left out. */
export function placeStack({ tones }: StackText, place: StackPlace, marks: Mark[]): readonly PlacedTone[] {
  const placed: PlacedTone[] = [];
  let below: number | undefined;
  for (const tone of tones) {
    const span = shift(tone.span, place.start);
    const nameSpan = shift(tone.nameSpan, place.start);
    const fifths = readName(tone.name, tone.counts, nameSpan, place, marks);
    if (fifths === undefined) continue;
    const pitch = placeTone(tone, fifths, below, span, place, marks);
    placed.push({
      tone,
      pitch,
      grace: graceOf(tone, pitch, place, marks),
      lowest: below === undefined,
      span,
    });
    below = pitch.midi;
  }
  return placed;
}

/** Whether a number counts from the key, by its sign or by its row. */
const countsFromKey = ({ counts, row }: Pick<ToneText, "counts"> & { readonly row: PitchedRow }): boolean =>
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
  if (name.number !== 0 && countsFromKey({ counts, row })) {
    return scaleDegree(key, ((name.number - 1) % 7) + 1, name.alter);
  }
  if (chord === undefined) return undefined;
  return name.number === 0 ? (chord.bass ?? chord.root) : chord.root + fifthsAbove(name);
}

/** The same with what is wrong marked: no chord to count from, a sign that the mode has already. */
function readName(
  name: ToneName,
  counts: ToneText["counts"],
  span: Span,
  { row, key, under, displacement, stretch, pushed, text }: StackPlace,
  marks: Mark[],
): number | undefined {
  const fifths = nameOfTone(name, counts, row, key, under.event?.chord);
  if (name.kind === "pitch") return (fifths as number) + displacement.fifths;
  if (fifths === undefined) {
    if (!under.unknown)
      marks.push({ kind: "no-chord", row, span, text: sliceOf(text, span), stretch, pushed });
  } else if (
    name.number !== 0 &&
    countsFromKey({ counts, row }) &&
    isRedundantSign(key.mode, ((name.number - 1) % 7) + 1, name.alter)
  ) {
    marks.push({ kind: "minor-degree", row, span, degree: name.number, alter: name.alter, key, fifths });
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
  span: Span,
  { row, home, groupOctaves, displacement, start }: StackPlace,
  marks: Mark[],
): Pitch {
  const mark = (why: "exact" | "inside-stack" | "group"): void => {
    const signs = why === "group" || tone.octaveSigns === undefined ? span : shift(tone.octaveSigns, start);
    marks.push({ kind: "octave-sign", row, span: signs, toneSpan: span, why });
  };
  if (tone.name.kind === "pitch" && tone.name.octave !== undefined) {
    if (tone.octaveSigns !== undefined) mark("exact");
    else if (below === undefined && groupOctaves !== 0) mark("group");
    return { fifths, midi: pitchAt(tone.name.fifths, tone.name.octave).midi + displacement.halfSteps };
  }
  if (below === undefined)
    return { fifths, midi: lowestFrom(home, fifths) + 12 * (tone.octaves + groupOctaves) };
  if (tone.octaves < 0) mark("inside-stack");
  return { fifths, midi: lowestFrom(below + 1, fifths) + 12 * Math.max(0, tone.octaves) };
}

/** The grace note of a tone: the nearest of its name below or above, below where both are as near. */
function graceOf(tone: ToneText, { midi }: Pitch, place: StackPlace, marks: Mark[]): PlacedTone["grace"] {
  const { grace, graceSpan } = tone;
  if (grace === undefined || graceSpan === undefined) return undefined;
  const span = shift(graceSpan, place.start);
  const fifths = readName(grace, tone.counts, span, place, marks);
  if (fifths === undefined) return undefined;
  if (grace.kind === "pitch" && grace.octave !== undefined) {
    const exact = pitchAt(grace.fifths, grace.octave).midi + place.displacement.halfSteps;
    return { pitch: { fifths, midi: exact }, span };
  }
  const above = (((pitchClass(fifths) - midi) % 12) + 12) % 12;
  return { pitch: { fifths, midi: above === 0 || above >= 6 ? midi + above - 12 : midi + above }, span };
}
