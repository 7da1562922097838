import type { LocatedAs } from "../chart/located.js";
import type { ChordEvent } from "../chart/model.js";
import type { RowLine } from "../syntax/tree.js";
import type { Span } from "../text/span.js";
import { type Chord, degreeText, letterText, prettyChord, splitSlash } from "../theory/chord.js";
import { degreeInKey, type Key, scaleOf } from "../theory/key.js";
import { nameOf, readName } from "../theory/note-name.js";
import { complete, type QualityReading, readQuality } from "../theory/quality.js";
import { fifthsAbove, printNumber, readNumber, type ToneNumber } from "../theory/tone-number.js";
import { chordNotes, chordText } from "./chord-words.js";
import { barOffers } from "./completion-bars.js";
import { locatedWith, type Offer, type TypingPlace } from "./completion-place.js";
import { chordSigns } from "./completion-signs.js";
import { slotAround } from "./completion-slot.js";
import { chordOn, likelyChords, likelyQualities } from "./likely-chords.js";

/** Chords, and after a root its qualities and basses, in the row's own writing. */
export function chordOffers(place: TypingPlace, row: RowLine): readonly Offer[] {
  const slot = slotAround(place, row);
  if (slot === undefined) return [];
  const { span, typed, whole } = slot;
  const here = locatedWith(place, span, "1");
  if (here.kind !== "chord") return barOffers(place, row, span);
  const { key } = here.system.home;
  const before = here.event && chordBefore(here, here.event);
  if (typed === "") {
    return [
      ...writtenChords(key, before, span, usesLetters(here)),
      ...chordSigns(here, span),
      ...barOffers(place, row, span),
    ];
  }
  if (/^[/]/.test(typed)) {
    const basses = before === undefined ? [] : bassOffers(before, key, "", span, usesLetters(here));
    return [...basses, ...chordSigns(here, span)];
  }
  const root = readRoot(typed, key);
  if (root === undefined) {
    return [...writtenChords(key, before, span, /^[A-G]/.test(typed)), ...chordSigns(here, span)];
  }
  const longer = writtenChords(key, before, span, root.isLetter).filter(({ text }) => text.startsWith(typed));
  const [over, bass] = splitSlash(typed, (it) => isBass(it) || it === "");
  if (bass !== undefined) {
    const chord = chordFrom(root, over.slice(root.text.length));
    return chord === undefined ? longer : [...bassOffers(chord, key, over, span, root.isLetter), ...longer];
  }
  const [, wholeBass] = splitSlash(whole, isBass);
  const after = wholeBass === undefined ? "" : `/${wholeBass}`;
  const plain = chordFrom(root, typed.slice(root.text.length));
  return [
    ...qualityOffers(root, key, typed, after, span),
    ...(plain === undefined || after !== "" ? [] : bassOffers(plain, key, typed, span, root.isLetter)),
    ...longer,
  ];
}

const isBass = (text: string): boolean => readName(text) !== undefined || degreeOf(text) !== undefined;

function degreeOf(text: string): ToneNumber | undefined {
  const number = readNumber(text);
  return number === undefined || number.number < 1 || number.number > 7 ? undefined : number;
}

/** The chord that sounds last before this one in its section. */
function chordBefore({ placed }: LocatedAs<"chord">, event: ChordEvent): Chord | undefined {
  return placed.section.chords[event.index - 1]?.chord;
}

/** Whether the row writes letters; where it has no chord but this one, whether its section does. */
function usesLetters({ placed, row, event }: LocatedAs<"chord">): boolean {
  const others = placed.section.chords.filter(
    (it) => it !== event && it.repeatedBy === undefined && !it.bassAlone,
  );
  const end = row.start + row.line.nameSpan.start;
  const inRow = others.filter(
    ({ span }) => span.start > end && span.start < row.start + lineLength(row.line),
  );
  const asked = inRow.length > 0 ? inRow : others;
  const letters = asked.filter(({ text }) => /^[A-G]/.test(text)).length;
  return letters * 2 > asked.length;
}

const lineLength = ({ bars, nameSpan }: RowLine): number => bars.at(-1)?.span.end ?? nameSpan.end;

const chordOffer = (chord: Chord, key: Key, text: string, kind: Offer["kind"], span: Span): Offer => ({
  label: text,
  kind,
  detail: `${prettyChord(chord)}: ${chordNotes(chord)}`,
  documentation: () => chordText(chord, key),
  span,
  text,
});

const writtenChords = (key: Key, before: Chord | undefined, span: Span, letters: boolean): readonly Offer[] =>
  likelyChords(key, before).map((chord) =>
    chordOffer(chord, key, letters ? letterText(chord) : degreeText(chord, key), "chord", span),
  );

interface Root {
  /** As it is typed. */
  readonly text: string;
  readonly isLetter: boolean;
  readonly chordOf: (reading: QualityReading) => Chord;
}

function readRoot(typed: string, key: Key): Root | undefined {
  const letter = /^[A-G](?:[b♭]+|[#♯x]+)?/u.exec(typed)?.[0];
  const fifths = letter === undefined ? undefined : readName(letter);
  if (letter !== undefined && fifths !== undefined) {
    const chordOf = (reading: QualityReading): Chord => ({
      root: fifths,
      quality: complete(reading, "major", "perfect"),
      bass: undefined,
    });
    return { text: letter, isLetter: true, chordOf };
  }
  const text = /^(?:[b♭]+|[#♯]+)?[1-7]/u.exec(typed)?.[0];
  const degree = text === undefined ? undefined : degreeOf(text);
  if (text === undefined || degree === undefined) return undefined;
  return { text, isLetter: false, chordOf: (reading) => chordOn(key, degree, reading) };
}

/** What stands behind a root, as a chord without its bass; `undefined` where it is no quality. */
function chordFrom(root: Root, behind: string): Chord | undefined {
  const reading = readQuality(behind.replace(/^:/, ""));
  return reading === undefined || behind === ":" ? undefined : root.chordOf(reading);
}

function qualityOffers(root: Root, key: Key, typed: string, bass: string, span: Span): readonly Offer[] {
  const hasColon = typed[root.text.length] === ":";
  return likelyQualities(key, root.chordOf).flatMap(({ text, chord }) => {
    if (hasColon && text === "") return [];
    const needsColon = !root.isLetter && /^[0-9]/.test(text);
    const written = root.text + (hasColon || needsColon ? ":" : "") + text + bass;
    return [chordOffer(chord, key, written, "quality", span)];
  });
}

/** Basses under a chord: its own tones, then the others of the key. */
function bassOffers(chord: Chord, key: Key, over: string, span: Span, letters: boolean): readonly Offer[] {
  const own = chord.quality.tones.map((tone) => chord.root + fifthsAbove(tone)).slice(1);
  return [...new Set([...own, ...scaleOf(key), chord.root])].map((bass) => {
    const text = `${over}/${letters ? nameOf(bass) : printNumber(degreeInKey(key, bass))}`;
    return chordOffer({ ...chord, bass }, key, text, "chord", span);
  });
}
