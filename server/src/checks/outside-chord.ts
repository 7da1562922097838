import type { Note } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import { shift } from "../text/span.js";
import { type Chord, prettyChord, toneInChord } from "../theory/chord.js";
import { nameOf, pitchClass, prettyName } from "../theory/note-name.js";
import { contradicts, type Quality } from "../theory/quality.js";
import { numberOf, prettyNumber, printNumber, type ToneNumber, upper } from "../theory/tone-number.js";
import type { SectionCheck } from "./check.js";

/** A tone struck by a hand that contradicts the symbol of its chord. What is held over is a suspension, and free. */
export const outsideChord: SectionCheck<"outside-chord"> = {
  code: "outside-chord",
  run({ section }, report) {
    for (const row of ["right", "left"] as const) {
      const told = new Set<number>();
      for (const slot of section.rows[row].slots) {
        const chord = slot.chord?.chord;
        if (chord === undefined) continue;
        for (const note of slot.struck) {
          const { pitch, grace } = note;
          const number = numberIn(note, chord);
          if (grace || number === undefined || !contradicts(chord.quality, number)) continue;
          const { span } = note;
          if (isBass(pitch.fifths, chord) || told.has(span.start)) continue;
          told.add(span.start);
          const instead = insteadOf(number, chord.quality);
          const facts = {
            number: prettyNumber(instead !== undefined && instead.number > 7 ? upper(number) : number),
            note: prettyName(pitch.fifths),
            row,
            chord: prettyChord(chord),
            suspended: isSuspended(chord.quality),
            ...(instead && { instead: named(instead, chord) }),
          };
          const isDoubled = (it: ToneNumber): boolean =>
            slot.struck.some(({ pitch }) => pitchClass(pitch.fifths) === pitchClass(toneInChord(chord, it)));
          const fixes = instead === undefined || isDoubled(instead) ? [] : fixesOf(note, instead, chord);
          report(span, facts, { row, fixes });
        }
      }
    }
  },
};

/** The bass after the slash may stand against the chord above it. */
const isBass = (fifths: number, { bass }: Chord): boolean =>
  bass !== undefined && pitchClass(fifths) === pitchClass(bass);

const named = (number: ToneNumber, chord: Chord) => ({
  number: prettyNumber(number),
  note: prettyName(toneInChord(chord, number)),
});

/** The number as it is written over the chord; of a letter or a number of the key, as it comes out there. */
export function numberIn({ tone, pitch }: Note, chord: Chord): ToneNumber | undefined {
  const { name, counts } = tone;
  if (name.kind === "number" && name.number === 0) return undefined;
  return name.kind === "number" && counts !== "key" ? name : numberOf(chord.root, pitch.fifths);
}

const isSuspended = ({ tones }: Quality): boolean =>
  tones.some(({ number }) => number === 4 || number === 2) && !tones.some(({ number }) => number === 3);

/** What the chord has in place of a tone: its own of that number, or the suspension in place of the third. */
function insteadOf(wanted: ToneNumber, { tones }: Quality): ToneNumber | undefined {
  const own = (number: number): ToneNumber | undefined => tones.find((tone) => tone.number === number);
  const alike = own(wanted.number) ?? own(upper(wanted).number);
  if (alike !== undefined || wanted.number !== 3) return alike;
  return own(4) ?? own(2);
}

function fixesOf({ tone, span }: Note, instead: ToneNumber, chord: Chord): readonly Fix[] {
  const { name, counts } = tone;
  const isExact = name.kind === "pitch" && name.octave !== undefined;
  if (isExact || counts === "key") return [];
  const text = name.kind === "pitch" ? nameOf(toneInChord(chord, instead)) : printNumber(instead);
  const place = shift(tone.nameSpan, span.start - tone.span.start);
  const { number, note } = named(instead, chord);
  return [{ title: `Play the ${number} (${note})`, edits: [{ span: place, text }], silent: false }];
}
