import { nameOfTone } from "../chart/stack.js";
import type { PitchedRow, StackText, ToneName, ToneText } from "../syntax/tree.js";
import { type Chord, chordNumber } from "../theory/chord.js";
import { degreeInKey, type Key } from "../theory/key.js";
import { nameOf } from "../theory/note-name.js";
import { isSameNumber, printNumber, type ToneNumber, upper } from "../theory/tone-number.js";

export type Notation = "numbers" | "letters";

/** What a tone's text depends on beside itself. */
export interface ToneContext {
  readonly row: PitchedRow;
  readonly key: Key;
  readonly chord: Chord | undefined;
}

/** A tone in the other notation, with all its signs; `undefined` where it stays as it is written. */
export function writtenTone(
  tone: ToneText,
  text: string,
  to: Notation,
  context: ToneContext,
): string | undefined {
  const name = otherName(tone.name, tone.counts, to, context);
  const counts = name?.counts ?? countSign(tone.counts);
  // A grace number counts as its tone does, so one that stays must still mean the same.
  if (tone.grace?.kind === "number" && to === "numbers" && counts !== countSign(tone.counts))
    return undefined;
  const grace =
    tone.grace === undefined ? undefined : otherGrace(tone.grace, tone.counts, counts, to, context);
  if (name === undefined && grace === undefined) return undefined;
  const own = text.slice(tone.nameSpan.start - tone.span.start, tone.nameSpan.end - tone.span.start);
  const before =
    tone.graceSpan === undefined
      ? ""
      : `${grace ?? text.slice(tone.graceSpan.start - tone.span.start, tone.graceSpan.end - tone.span.start)}~`;
  const signs = tone.octaves < 0 ? "<".repeat(-tone.octaves) : ">".repeat(tone.octaves);
  return `${before}${tone.held === undefined ? "" : "_"}${signs}${counts}${name?.text ?? own}`;
}

/** A stack in the other notation; with `strikeAll` without its `_`. */
export function writtenStack(
  stack: StackText,
  text: string,
  to: Notation,
  context: ToneContext,
  strikeAll: boolean,
): string {
  const tones = stack.tones.map((tone) => {
    const own = text.slice(tone.span.start, tone.span.end);
    const written = writtenTone(tone, own, to, context) ?? own;
    return strikeAll ? written.replace("_", "") : written;
  });
  return `${stack.pushed === undefined ? "" : "!"}${stack.rolled === undefined ? "" : "~"}${tones.join("+")}`;
}

const countSign = (counts: ToneText["counts"]): string => {
  if (counts === undefined) return "";
  return counts === "key" ? "k" : "c";
};

function otherName(
  name: ToneName,
  counts: ToneText["counts"],
  to: Notation,
  { row, key, chord }: ToneContext,
): { readonly text: string; readonly counts: string } | undefined {
  if (to === "letters") {
    const fifths = name.kind === "number" ? nameOfTone(name, counts, row, key, chord) : undefined;
    return fifths === undefined ? undefined : { text: nameOf(fifths), counts: "" };
  }
  // An exact pitch says more than a number can.
  if (name.kind !== "pitch" || name.octave !== undefined) return undefined;
  return numberInRow(name.fifths, { row, key, chord });
}

/** A tone's number as its row writes it, with the sign that it counts by; `undefined` where none can say it. */
export function numberInRow(
  fifths: number,
  { row, key, chord }: ToneContext,
): { readonly text: string; readonly counts: string } | undefined {
  const byKey = row === "lead" || row === "bass";
  if (!byKey && chord !== undefined) return legal(playedNumber(chord, fifths), "");
  return legal(degreeInKey(key, fifths), byKey ? "" : "k");
}

/** A grace note in the other notation; as a number it counts by the sign of its tone. */
function otherGrace(
  grace: ToneName,
  counts: ToneText["counts"],
  sign: string,
  to: Notation,
  context: ToneContext,
): string | undefined {
  if (to === "letters") return otherName(grace, counts, to, context)?.text;
  if (grace.kind !== "pitch" || grace.octave !== undefined) return undefined;
  const { row, key, chord } = context;
  const byKey = sign === "k" || (sign === "" && (row === "lead" || row === "bass"));
  if (byKey) return legal(degreeInKey(key, grace.fifths), sign)?.text;
  return chord === undefined ? undefined : legal(playedNumber(chord, grace.fifths), sign)?.text;
}

/** A tone's number as a player names it over a chord: beside a third the second is a 9, beside a seventh the sixth a 13. */
function playedNumber(chord: Chord, fifths: number): ToneNumber {
  const number = chordNumber(chord, fifths);
  const has = (wanted: number): boolean => chord.quality.tones.some((tone) => tone.number === wanted);
  if (number.number > 7 || chord.quality.tones.some((tone) => isSameNumber(tone, number))) return number;
  const isColour = number.number === 6 ? has(7) : (number.number === 2 || number.number === 4) && has(3);
  return isColour ? upper(number) : number;
}

/** Numbers carry two signs at most; beyond that a letter reads better. */
const legal = (number: ToneNumber, counts: string): { text: string; counts: string } | undefined =>
  Math.abs(number.alter) > 2 ? undefined : { text: printNumber(number), counts };
