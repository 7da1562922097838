import { barLength, beatLength, beatsInBar } from "../chart/bar-time.js";
import type { Meter } from "../chart/model.js";
import { compare, divide, type Fraction, minus, over, plus, times, zero } from "../theory/fraction.js";
import { textElement } from "./musicxml-element.js";
import type { Piece } from "./musicxml-rhythm.js";

export interface Beaming {
  readonly meter: Meter;
  /** Where in a whole bar of this meter the printed one starts. */
  readonly from: Fraction;
  readonly pieces: readonly Piece[];
  /** Whether notes with stems stand there, and no rest. */
  readonly isNote: (piece: Piece) => boolean;
}

/** By the type's name: how many beams a note has. */
const levels: Readonly<Record<string, number>> = {
  eighth: 1,
  "16th": 2,
  "32nd": 3,
  "64th": 4,
  "128th": 5,
  "256th": 6,
  "512th": 7,
  "1024th": 8,
};

/**
 * The beams of a voice in a bar, for each of its pieces; "" where it has none. Neighbours are under one beam within a
 * beat, and within a tuplet wherever the beats fall (E. Gould, Behind Bars, 2011, "Beaming").
 */
export function beamsOf(beaming: Beaming): readonly string[] {
  const { pieces } = beaming;
  const groups = groupsOf(beaming);
  const beams = pieces.map(() => "");
  for (const { first, count } of groups) {
    const group = pieces.slice(first, first + count);
    group.forEach((piece, i) => {
      beams[first + i] = beamsIn(group, piece, i);
    });
  }
  return beams;
}

const levelOf = ({ value }: Piece): number => (value === undefined ? 0 : (levels[value.type] ?? 0));

/** Neighbours under one beam: the index of the first and how many they are, two at least. */
interface Group {
  readonly first: number;
  readonly count: number;
}

function groupsOf({ meter, from, pieces, isNote }: Beaming): readonly Group[] {
  const starts = groupStarts(meter);
  const whole = barLength(meter);
  const placeOf = ({ at }: Piece): Fraction => {
    const { n, d } = divide(plus(from, at), whole);
    return minus(plus(from, at), times(whole, Math.floor(n / d)));
  };
  const isTogether = (a: Piece, b: Piece, starts: readonly Fraction[]): boolean => {
    const [here, there] = [placeOf(a), placeOf(b)];
    const groupOf = (place: Fraction): number => starts.filter((it) => compare(it, place) <= 0).length;
    return compare(here, there) < 0 && groupOf(here) === groupOf(there);
  };
  const groups: Group[] = [];
  const add = (group: Group, goesOn: (a: Piece, b: Piece, last: Group) => boolean): void => {
    const last = groups[groups.length - 1];
    const [before, piece] = [pieces[group.first - 1], pieces[group.first] as Piece];
    const isNext = last !== undefined && last.first + last.count === group.first;
    if (isNext && before !== undefined && goesOn(before, piece, last))
      groups[groups.length - 1] = { first: last.first, count: last.count + group.count };
    else groups.push(group);
  };
  pieces.forEach((piece, first) => {
    if (levelOf(piece) === 0 || !isNote(piece)) return;
    add({ first, count: 1 }, (before) => {
      const tuplet = before.tuplets[0];
      return (tuplet !== undefined && tuplet === piece.tuplets[0]) || isTogether(before, piece, starts);
    });
  });
  const byBeat = groups.filter(({ count }) => count > 1);
  if (meter.beats !== 4 || meter.unit !== 4) return byBeat;
  // Half a bar of eighths is one group.
  const halves = [zero, over(whole, 2)];
  const areEighths = ({ first, count }: Group): boolean =>
    pieces
      .slice(first, first + count)
      .every((it) => levelOf(it) === 1 && it.value?.dots === 0 && it.tuplets.length === 0);
  groups.length = 0;
  for (const group of byBeat)
    add(
      group,
      (before, piece, last) => areEighths(last) && areEighths(group) && isTogether(before, piece, halves),
    );
  return groups;
}

/** Where in a bar the groups start under whose beams notes may stand together. */
function groupStarts(meter: Meter): readonly Fraction[] {
  const { beats, unit } = meter;
  const beat = beatLength(meter);
  if (unit < 8 || beat.n !== 1) return Array.from({ length: beatsInBar(meter) }, (_, i) => times(beat, i));
  // Of eighths and shorter beats three make a group where they are odd in number, then two (chosen here, no source).
  const starts = [zero];
  for (let at = beats % 2 === 1 ? 3 : 2; at < beats; at += 2) starts.push(times(beat, at));
  return starts;
}

function beamsIn(group: readonly Piece[], piece: Piece, index: number): string {
  let text = "";
  for (let level = 1; level <= levelOf(piece); level++) {
    const has = (other: Piece | undefined): boolean => other !== undefined && levelOf(other) >= level;
    const [before, after] = [has(group[index - 1]), has(group[index + 1])];
    text += textElement(
      "beam",
      before ? (after ? "continue" : "end") : after ? "begin" : hook(group, index),
      {
        number: level,
      },
    );
  }
  return text;
}

/** A short note's own beam points to the note that it fills a longer value with. */
function hook(group: readonly Piece[], index: number): string {
  if (index === 0) return "forward hook";
  if (index === group.length - 1) return "backward hook";
  const { at, length } = group[index] as Piece;
  const start = (group[0] as Piece).at;
  return divide(minus(at, start), times(length, 2)).d === 1 ? "forward hook" : "backward hook";
}
