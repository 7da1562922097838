import { beatLength, leavesOf } from "../chart/bar-time.js";
import { rowIn } from "../chart/layout.js";
import type { Bar, Leaf, Section } from "../chart/model.js";
import type { Chord } from "../theory/chord.js";
import { compare, divide, type Fraction, isEqual, minus, plus, times } from "../theory/fraction.js";
import type { Key } from "../theory/key.js";
import type { VoiceItem } from "./musicxml-voice.js";
import { isComped, type SoundingChord } from "./play-chords.js";
import type { TimedBar } from "./timeline.js";

/** What stands over a staff at a time: a chord, or that none sounds from there on. */
export type ChordMark =
  | {
      readonly kind: "chord";
      readonly at: Fraction;
      readonly chord: Chord;
      readonly key: Key;
      /** As it is written. */
      readonly text: string;
      /** It is written as a degree of the key. */
      readonly isNumber: boolean;
    }
  | {
      readonly kind: "silence";
      readonly at: Fraction;
      /** `NC` is written there, not `r`. */
      readonly noChord: boolean;
    };

/** The chord row as it stands over the score, in order. `end` is where the music ends. */
export function chordMarks(
  chords: readonly SoundingChord[],
  bars: readonly TimedBar[],
  end: Fraction,
): readonly ChordMark[] {
  const marks: ChordMark[] = [];
  const noChords = noChordPlaces(bars);
  let nextNoChord = 0;
  /** Where no chord sounds, from one place to another. */
  const silent = (from: Fraction, to: Fraction, ends: boolean): void => {
    if (compare(from, to) >= 0) return;
    const written: Fraction[] = [];
    for (
      let place = noChords[nextNoChord];
      place !== undefined && compare(place, to) < 0;
      place = noChords[++nextNoChord]
    )
      if (compare(place, from) >= 0) written.push(place);
    const first = written[0];
    if (ends && (first === undefined || !isEqual(first, from)))
      marks.push({ kind: "silence", at: from, noChord: false });
    if (first !== undefined) marks.push({ kind: "silence", at: first, noChord: true });
  };
  let last: Fraction = { n: Number.MIN_SAFE_INTEGER, d: 1 };
  for (const { at, length, chord, key, event } of chords) {
    silent(last, at, marks.length > 0);
    const { text } = event;
    marks.push({ kind: "chord", at, chord, key, text, isNumber: !/^\/?[A-G]/.test(text) });
    last = plus(at, length);
  }
  silent(last, end, marks.length > 0);
  return marks;
}

/** Where `NC` is written in the chord row, in order. */
function noChordPlaces(bars: readonly TimedBar[]): readonly Fraction[] {
  const known = new Map<Section, readonly (readonly Fraction[])[]>();
  const places: Fraction[] = [];
  for (const { at, played } of bars) {
    const { section } = played.section;
    const written = known.get(section) ?? section.bars.map((bar) => noChordsIn(section, bar));
    known.set(section, written);
    for (const place of written[played.bar.index] ?? []) places.push(plus(at, place));
  }
  return places;
}

function noChordsIn(section: Section, { system, index, length }: Bar): readonly Fraction[] {
  const row = section.systems[system] && rowIn(section.systems[system], "chords");
  const slots = row?.line.bars[index - (section.systems[system]?.firstBar ?? 0)]?.slots ?? [];
  return (leavesOf(slots, length) ?? [])
    .filter(({ content }: Leaf) => content.kind === "noChord")
    .map(({ at }) => at);
}

/**
 * A stroke for each beat of a chord where a system gives chords and neither hand has a row: that there is something
 * to play there, and when, is written; what, is the player's own.
 */
export function slashItems(
  chords: readonly SoundingChord[],
  written: readonly VoiceItem[],
): readonly VoiceItem[] {
  const items: VoiceItem[] = [];
  let next = 0;
  for (const { stretches } of chords) {
    for (const { at, end, bar } of stretches) {
      if (!isComped(bar)) continue;
      const beat = beatLength(bar.played.bar.meter);
      let from = at;
      while (compare(from, end) < 0) {
        const { n, d } = divide(minus(from, bar.at), beat);
        const onBeat = plus(bar.at, times(beat, Math.floor(n / d) + 1));
        const to = compare(onBeat, end) < 0 ? onBeat : end;
        // A pickup that a hand plays over it is written out.
        while (next < written.length && compare((written[next] as VoiceItem).end, from) <= 0) next++;
        const hand = written[next];
        if (hand === undefined || compare(hand.at, to) >= 0)
          items.push({ at: from, end: to, pitch: undefined, grace: undefined, roll: undefined, held: false });
        from = to;
      }
    }
  }
  return items;
}
