import type { Located, LocatedAs } from "../chart/located.js";
import type { PitchedRow, RowLine, ToneText } from "../syntax/tree.js";
import type { Span } from "../text/span.js";
import { type Chord, toneInChord } from "../theory/chord.js";
import { tensionsOf } from "../theory/chord-scales.js";
import { type Key, scaleDegree } from "../theory/key.js";
import { nameOf, pitchClass } from "../theory/note-name.js";
import { type Pitch, pitchAt, pitchName } from "../theory/pitch.js";
import { contradicts, guideTones, type Quality } from "../theory/quality.js";
import { isSameNumber, keyAbove, printNumber, readNumber, type ToneNumber } from "../theory/tone-number.js";
import { barOffers } from "./completion-bars.js";
import { locatedWith, type Offer, type TypingPlace } from "./completion-place.js";
import { noteSigns } from "./completion-signs.js";
import { slotAround } from "./completion-slot.js";
import { saying } from "./hover-text.js";
import { rowHome } from "./row-home.js";
import { isOwn, toneRole } from "./tone-names.js";
import { toneDetail } from "./tone-words.js";

/** Tones with the keys on which they would sound, and the signs that may stand for one. */
export function toneOffers(place: TypingPlace, row: RowLine, name: PitchedRow): readonly Offer[] {
  const from = fromOffers(place, row, name);
  if (from !== undefined) return from;
  const slot = slotAround(place, row);
  if (slot === undefined) return [];
  const tone = toneAround(slot.whole, slot.typed.length);
  if (tone === undefined) return [];
  const span = { start: slot.span.start + tone.start, end: slot.span.start + tone.end };
  const here = locatedWith(place, span, "1");
  if (here.kind !== "tone" && here.kind !== "grace") return barOffers(place, row, span);
  const written = slot.whole.slice(tone.start, tone.end);
  const isAlone = here.kind === "tone" && span.start === slot.span.start && span.end === slot.span.end;
  return [
    ...tonesFor(here, name, span, tone.counts, /^[A-G]/.test(written) || usesLetters(here)),
    ...(isAlone ? noteSigns(here, span) : []),
    ...barOffers(place, row, span),
  ];
}

interface ToneAround {
  /** The name without its signs, in the slot. */
  readonly start: number;
  readonly end: number;
  readonly counts: "key" | "chord" | undefined;
}

/** The name of the tone that the cursor is in; `undefined` among its signs. */
function toneAround(whole: string, at: number): ToneAround | undefined {
  const before = /[^+~]*$/.exec(whole.slice(0, at))?.[0] ?? "";
  const after = /^[^+~]*/.exec(whole.slice(at))?.[0] ?? "";
  const start = at - before.length;
  const signs = /^[!_<>]*(?:[kc][_<>]*)?/.exec(before + after)?.[0] ?? "";
  if (before.length < signs.length) return undefined;
  const counts = signs.includes("k") ? "key" : signs.includes("c") ? "chord" : undefined;
  return { start: start + signs.length, end: at + after.length, counts };
}

type TonePlace = LocatedAs<"tone" | "grace">;

/** Whether the row writes letters and no numbers. */
function usesLetters({ placed, row: { start, line }, tone }: TonePlace): boolean {
  const end = start + (line.bars.at(-1)?.span.end ?? 0);
  const others = placed.section.rows[line.row as PitchedRow].notes.filter(
    (it) => it.span.start >= start && it.span.end <= end && it.tone !== tone,
  );
  return others.length > 0 && others.every((it) => it.tone.name.kind === "pitch");
}

function tonesFor(
  here: TonePlace,
  row: PitchedRow,
  span: Span,
  said: ToneText["counts"],
  letters: boolean,
): readonly Offer[] {
  const { key } = here.system.home;
  const chord = here.event?.chord?.chord;
  const byRow = row === "lead" || row === "bass" ? "key" : "chord";
  const counts = said ?? (chord === undefined && here.kind === "tone" ? "key" : byRow);
  const numbers =
    counts === "key" ? inKey(key, chord) : chord === undefined ? [] : inChord(chord.quality, row);
  const sign = counts !== (said ?? byRow) && !letters ? "k" : "";
  const fifthsOf = (number: ToneNumber): number => {
    if (counts === "key" && number.number !== 0) return scaleDegree(key, number.number, number.alter);
    return chord === undefined ? key.tonic : toneInChord(chord, number);
  };
  // What the stack has already is seldom wanted twice.
  const there = new Set(
    (here.event?.struck ?? [])
      .filter(({ tone, grace }) => tone !== here.tone && !grace)
      .map(({ pitch }) => pitchClass(pitch.fifths)),
  );
  const isThere = (number: ToneNumber): boolean => there.has(pitchClass(fifthsOf(number)));
  const inOrder = [...numbers.filter((it) => !isThere(it)), ...numbers.filter(isThere)];
  return inOrder.map((number): Offer => {
    const isBass = number.number === 0;
    const fifths = fifthsOf(number);
    const text = letters ? nameOf(fifths) : sign + printNumber(number);
    const sounding = here.kind === "tone" ? pitchOf(here, row, fifths) : undefined;
    const as = counts === "chord" && !isBass ? number : undefined;
    const numberOf = chord === undefined ? undefined : (as ?? undefined);
    const role = chord !== undefined && counts === "chord" ? toneRole(chord.quality, number) : undefined;
    return {
      label: text,
      kind: "tone",
      detail: toneDetail(sounding ?? fifths, chord, key, { as: numberOf, first: counts }),
      ...(role === undefined
        ? {}
        : { documentation: saying(role.slice(0, 1).toUpperCase() + role.slice(1)) }),
      span,
      text,
    };
  });
}

/** The degrees of the key, those first that the chord has, and its bass. */
function inKey(key: Key, chord: Chord | undefined): readonly ToneNumber[] {
  const degrees = [1, 2, 3, 4, 5, 6, 7].map((number): ToneNumber => ({ number, alter: 0 }));
  if (chord === undefined) return degrees;
  const sounds = new Set(chord.quality.tones.map((tone) => pitchClass(toneInChord(chord, tone))));
  const isChordTone = ({ number }: ToneNumber): boolean =>
    sounds.has(pitchClass(scaleDegree(key, number, 0)));
  return [
    ...degrees.filter(isChordTone),
    ...degrees.filter((it) => !isChordTone(it)),
    { number: 0, alter: 0 },
  ];
}

/** Tones that players add to any chord. */
const others = "2 4 6 b7 7 9 11 13 b3 3 5 b5 #5 b9 #9 #11 b13"
  .split(" ")
  .map((it) => readNumber(it) as ToneNumber);

/** A chord's own tones, its bass, its colours, and what else doesn't contradict it. The left hand starts from the root. */
function inChord(quality: Quality, row: PitchedRow): readonly ToneNumber[] {
  const { tones } = quality;
  const guides = guideTones(quality);
  const isGuide = (it: ToneNumber): boolean => guides.some((guide) => isSameNumber(guide, it));
  const own =
    row === "left"
      ? [...tones.filter((it) => !isGuide(it)), ...guides]
      : [...guides, ...tones.filter((it) => !isGuide(it))];
  const colours = tensionsOf(quality);
  const more = others.filter((it) => !contradicts(quality, it) && !isOwn(quality, it));
  const all = [...own, { number: 0, alter: 0 }, ...colours, ...more];
  return all.filter((it, i) => all.findIndex((one) => isSameNumber(one, it)) === i && keyAbove(it) >= 0);
}

/** Where a name would sound in the place of this tone; `undefined` where what is below it is unknown. */
function pitchOf(
  { event, stack, tone, placed, system, row }: TonePlace,
  name: PitchedRow,
  fifths: number,
): Pitch | undefined {
  if (event === undefined) return undefined;
  const index = stack.tones.indexOf(tone);
  const lowestFrom = (from: number): number => from + ((((pitchClass(fifths) - from) % 12) + 12) % 12);
  if (index === 0) {
    const { lowest } = rowHome(placed, system, name, row.start);
    return { fifths, midi: lowestFrom(lowest) + 12 * (tone.octaves + event.groupOctaves) };
  }
  const below = event.struck.find((it) => it.tone === stack.tones[index - 1] && !it.grace);
  if (below === undefined) return undefined;
  return { fifths, midi: lowestFrom(below.pitch.midi + 1) + 12 * Math.max(0, tone.octaves) };
}

/** `from` behind a row's name, and the pitches behind it. */
function fromOffers(place: TypingPlace, row: RowLine, name: PitchedRow): readonly Offer[] | undefined {
  const { body, at } = place;
  const head = body.slice(row.nameSpan.end, at);
  const behind = body.slice(at);
  const pitch = /^[ \t]+from[ \t]+([^ \t|()]*)$/.exec(head);
  if (pitch !== null) {
    const end = at + (/^[^ \t|()]*/.exec(behind)?.[0].length ?? 0);
    return homesOf(place, name, { start: at - (pitch[1] ?? "").length, end });
  }
  const word = /^[ \t]+(f[rom]*)$/.exec(head)?.[1];
  if (word === undefined) return undefined;
  const end = at + (/^[^ \t|()]*/.exec(behind)?.[0].length ?? 0);
  if (/^[ \t]*[A-G]/.test(body.slice(end))) return [];
  const span = { start: at - word.length, end };
  return homesOf(place, name, span).map((it) => ({
    ...it,
    label: `from ${it.label}`,
    text: `from ${it.text}`,
  }));
}

/** Octaves in which a row may be at home. */
const octaves: Readonly<Record<PitchedRow, readonly number[]>> = {
  lead: [4, 3, 5],
  right: [4, 3],
  left: [2, 3],
  bass: [1, 2],
};

function homesOf(place: TypingPlace, name: PitchedRow, span: Span): readonly Offer[] {
  const here: Located | undefined =
    place.placed && locatedWith(place, { start: place.body.length, end: place.body.length }, "");
  const key =
    here !== undefined && "system" in here ? here.system.home.key : place.document.chart.header.home.key;
  return octaves[name].flatMap((octave) =>
    [key.tonic, key.tonic + 1, key.tonic - 1].map((fifths): Offer => {
      const text = pitchName(pitchAt(fifths, octave));
      return { label: text, kind: "value", detail: `the twelve keys from there up`, span, text };
    }),
  );
}
