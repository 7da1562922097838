import { compare, type Fraction, fraction } from "../theory/fraction.js";
import { beamsOf } from "./musicxml-beams.js";
import { element, textElement } from "./musicxml-element.js";
import type { BarFrame } from "./musicxml-frames.js";
import { type Engraving, printVoice } from "./musicxml-note.js";
import { type Piece, rhythmOf } from "./musicxml-rhythm.js";
import type { Score, ScorePart } from "./musicxml-score.js";
import type { Segment, VoiceBar } from "./musicxml-voice.js";

/** The bars of a part, printed. */
export interface PrintedPart {
  /** The notes of each bar, with what stands at their places. */
  readonly contents: readonly string[];
  /** Of a quarter note, for each bar. */
  readonly divisions: readonly number[];
}

/** So fine can a whole note be parted in a file; beyond it places are rounded, each from its bar's start. */
const [mostParts, roundedParts] = [2 ** 22, 2 ** 18];

/**
 * The bars of a part. For an engraver, with their beams, `pictures` says at which of them another picture starts;
 * without it they are for a reader of whole scores.
 */
export function printBars(
  { voices, lyrics, marks }: ScorePart,
  { frames, isRolled }: Score,
  pictures?: ReadonlySet<number>,
): PrintedPart {
  const piecesOf = rhythms();
  const pieces = frames.map((frame, i) => voices.map((bars) => piecesOf(bars[i] as VoiceBar, frame)));
  const own = frames.map(({ length }, i) => {
    const places = (pieces[i] ?? []).flatMap((voice) => (voice ?? []).map((it) => it.at));
    const withMarks = commonParts([length, ...places, ...(marks[i] ?? []).map(({ at }) => at)]);
    return withMarks ?? commonParts([length, ...places]) ?? roundedParts;
  });
  // One number for the whole part is what readers are used to.
  const shared = commonParts(own.map((d) => ({ n: 1, d })));
  const contents = frames.map((frame, i) => {
    const { length, bar } = frame;
    const parts = shared ?? (own[i] as number);
    const ticksOf = ({ n, d }: Fraction): number => Math.round((n * parts) / d);
    const isGrand = voices.length > 1;
    const engravingOf = (v: number): Engraving | undefined =>
      pictures && {
        beams: beamsOf({
          meter: frame.meter,
          from: frame.from,
          pieces: pieces[i]?.[v] ?? [],
          isNote: ({ at }) => soundingIn(voices[v]?.[i], at),
        }),
        cutBefore: pictures.has(i),
        cutAfter: pictures.has(i + 1),
      };
    return voices
      .map((bars, v) =>
        printVoice({
          bar: bars[i] as VoiceBar,
          pieces: pieces[i]?.[v],
          voice: v + 1,
          staff: isGrand ? v + 1 : undefined,
          key: bar.key,
          ticksOf,
          length,
          lyrics: lyrics[i] ?? [],
          marks: v === 0 ? (marks[i] ?? []) : [],
          isRolled,
          engraving: engravingOf(v),
        }),
      )
      .join(element("backup", textElement("duration", ticksOf(length))));
  });
  return { contents, divisions: own.map((parts) => (shared ?? parts) / 4) };
}

/** Whether a tone sounds in a voice at a place of its bar. */
const soundingIn = (bar: VoiceBar | undefined, place: Fraction): boolean =>
  (bar?.segments.findLast(({ at }) => compare(at, place) <= 0)?.tones.length ?? 0) > 0;

/** How many equal parts of a whole note all these places need; at least four. */
function commonParts(places: readonly Fraction[]): number | undefined {
  let parts = 4;
  for (const { d } of places) {
    if (parts % d !== 0) parts *= fraction(parts, d).d;
    if (parts > mostParts) return undefined;
  }
  return parts;
}

/** Gives the printed values of a voice in a bar; `undefined` where it rests all through. */
function rhythms(): (bar: VoiceBar, frame: BarFrame) => readonly Piece[] | undefined {
  // Most bars of a chart share a few rhythms.
  const known = new Map<string, readonly Piece[]>();
  return ({ segments, slots }, { meter, length, from }) => {
    if (segments.every(isSilent)) return undefined;
    let name = `${meter.beats}/${meter.unit} ${length.n}/${length.d} ${from.n}/${from.d}`;
    for (const it of segments) name += `${isSilent(it) ? "r" : "|"}${it.at.n}/${it.at.d}`;
    for (const { n, d } of slots) name += `,${n}/${d}`;
    const before = known.get(name);
    if (before !== undefined) return before;
    let last = 0;
    const isRest = (at: Fraction): boolean => {
      // Asked in order.
      while (segments[last + 1] !== undefined && compare((segments[last + 1] as Segment).at, at) <= 0) last++;
      return isSilent(segments[last] as Segment);
    };
    const changes = segments.slice(1).map(({ at }) => at);
    const pieces = rhythmOf({ meter, length, from, changes, slots, isRest });
    known.set(name, pieces);
    return pieces;
  };
}

const isSilent = ({ tones, slash }: Segment): boolean => tones.length === 0 && !slash;
