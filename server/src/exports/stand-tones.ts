import type { Note, SlotEvent } from "../chart/model.js";
import { numberInChord } from "../chart/number-in-chord.js";
import { degreeInKey } from "../theory/key.js";
import { prettyName } from "../theory/note-name.js";
import { octaveOf } from "../theory/pitch.js";
import { prettyNumber } from "../theory/tone-number.js";
import type { Point, Shape } from "./drawing.js";
import { capital, dot, ink, type SheetOptions, sizes, widthOf, write } from "./stand-sheet.js";

/** The distance of two lines of tones. */
export const toneLine = 14.5;

/** A stack of tones, one over the other as in engraved music: the lowest at the bottom. */
export interface StackMark {
  readonly width: number;
  /** What stands left of the column: a roll, a grace note, the sign of a push. */
  readonly before: number;
  /** How many lines high it is. */
  readonly lines: number;
  /** A tone stands an octave away from where its row or the tone below puts it. */
  readonly hasDots: boolean;
  /** A tone is a number. */
  readonly counts: boolean;
  /** `y` is the top of its first line. */
  readonly shapes: (x: number, y: number) => readonly Shape[];
}

interface ToneMark {
  readonly text: string;
  /** Of a name, `undefined` where the octave goes without saying. */
  readonly octave: string | undefined;
  /** Of a number, how many octaves above (or below 0) where it is looked for. */
  readonly dots: number;
  readonly isHeld: boolean;
  readonly isName: boolean;
  readonly grace: string | undefined;
}

/** How a slot's tones are printed; `undefined` where none sounds. */
export function stackMark(slot: SlotEvent, hands: SheetOptions["hands"]): StackMark | undefined {
  const tones = tonesOf(slot, hands);
  if (tones.length === 0) return undefined;
  const graces = Math.max(0, ...tones.map(({ grace }) => (grace === undefined ? 0 : widthOf(grace, small))));
  const push = slot.pushed ? widthOf("←", small) + 1 : 0;
  const roll = slot.rolled ? 6 : 0;
  return {
    width: Math.max(...tones.map(toneWidth)),
    before: push + roll + (graces > 0 ? graces + 2 : 0),
    lines: tones.length,
    hasDots: tones.some(({ dots }) => dots !== 0),
    counts: tones.some(({ isName }) => !isName),
    shapes(x, y) {
      const shapes: Shape[] = [];
      tones.forEach((tone, i) => {
        const baseline = y + (tones.length - 1 - i) * toneLine + toneBaseline;
        shapes.push(...toneShapes(tone, x, baseline));
        if (tone.grace !== undefined)
          shapes.push(write(x - 2, baseline - 2, tone.grace, small, { anchor: "end" }));
      });
      const bottom = y + tones.length * toneLine;
      if (slot.pushed) shapes.push(write(x - graces - roll - push - 1, y + toneHeight + 1, "←", small));
      if (slot.rolled) shapes.push(wave(x - graces - 5, y + 1, bottom));
      return shapes;
    },
  };
}

const small = 9;
const toneHeight = sizes.tone * capital;
/** From a line's top to where its tones stand. */
export const toneBaseline = toneHeight + 2;
const octaveSize = 8;

function tonesOf({ held, struck, home }: SlotEvent, hands: SheetOptions["hands"]): readonly ToneMark[] {
  const notes = [...held, ...struck.filter(({ grace }) => !grace)].sort(
    (a, b) => a.pitch.midi - b.pitch.midi,
  );
  let before: number | undefined;
  return notes.map((note) => {
    const { midi } = note.pitch;
    const octaves =
      before === undefined
        ? Math.floor((midi - home) / 12)
        : Math.max(0, Math.floor((midi - before - 1) / 12));
    const isLowest = before === undefined;
    before = midi;
    const isName = (hands ?? (note.tone.name.kind === "pitch" ? "names" : "numbers")) === "names";
    const grace = struck[struck.indexOf(note) - 1];
    return {
      text: isName ? prettyName(note.pitch.fifths) : numberText(note),
      octave: isName && (isLowest || octaves > 0) ? String(octaveOf(note.pitch)) : undefined,
      dots: isName ? 0 : octaves,
      isName,
      isHeld: struck.length > 0 && held.includes(note),
      grace: grace?.grace ? (isName ? prettyName(grace.pitch.fifths) : numberText(grace)) : undefined,
    };
  });
}

/** In the hands the number in the chord, in lead and bass that in the key. */
function numberText(note: Note): string {
  const { row, chord, key, pitch } = note;
  const inKey = row === "lead" || row === "bass" || chord === undefined;
  return prettyNumber(inKey ? degreeInKey(key, pitch.fifths) : numberInChord(chord.chord, note));
}

const shown = ({ text, isHeld }: ToneMark): string => (isHeld ? `(${text})` : text);

const toneWidth = (tone: ToneMark): number =>
  widthOf(shown(tone), sizes.tone) + (tone.octave === undefined ? 0 : widthOf(tone.octave, octaveSize));

const mostDots = 3;

function toneShapes(tone: ToneMark, x: number, baseline: number): readonly Shape[] {
  const text = shown(tone);
  const shapes: Shape[] = [write(x, baseline, text, sizes.tone)];
  const end = x + widthOf(text, sizes.tone);
  if (tone.octave !== undefined) shapes.push(write(end, baseline + 2.5, tone.octave, octaveSize));
  // Over or under the number, as handwritten numbers have them. Only the lowest of a stack has them under it, so none
  // is read with its neighbour.
  const count = Math.min(mostDots, Math.abs(tone.dots));
  const y = tone.dots > 0 ? baseline - toneHeight - 2.4 : baseline + 2.9;
  for (let i = 0; i < count; i++) shapes.push(dot((x + end) / 2 + 3 * (i - (count - 1) / 2), y, 1.15));
  return shapes;
}

/** The waved line before a rolled chord. */
function wave(x: number, top: number, bottom: number): Shape {
  const points: Point[] = [];
  for (let y = top; y <= bottom; y += 1.5)
    points.push([x + Math.sin(((y - top) / 6) * 2 * Math.PI) * 1.3, y]);
  return { kind: "path", lines: [points], closed: false, stroke: ink, strokeWidth: 1 };
}
