/**
 * What a player is told of a chord. Completion documents a chord with `chordText` (any chord in a key), a tone with
 * `toneDetail` (tone-words.ts); both print through markup.ts.
 */
import { chordInNumbers, chordSummary } from "../chart/chord-summary.js";
import type { Ahead } from "../chart/chords-ahead.js";
import { functionAt, waysAhead } from "../chart/harmony.js";
import type { Chart, ChordEvent, PlacedSection } from "../chart/model.js";
import { andList } from "../text/and-list.js";
import { type Chord, degreeText, prettyChord, prettyQuality } from "../theory/chord.js";
import { type ChordScale, scalesFor, tensionsOf } from "../theory/chord-scales.js";
import { functionOf, type HarmonicFunction } from "../theory/harmonic-function.js";
import { degreeInKey, type Key } from "../theory/key.js";
import { pitchClass, prettyName, prettyStrict } from "../theory/note-name.js";
import { fifthsAbove, keyAbove, prettyNumber, type ToneNumber } from "../theory/tone-number.js";
import { type Block, type HoverText, linesOf } from "./hover-text.js";
import { toneName, toneRole } from "./tone-names.js";

export interface ChordOptions {
  /** Whether scales and colours to add are named too. */
  readonly scales: boolean;
}

/** A chord of the chart where it stands: its name, tones, what it does, where it goes, its scales. */
export function chordWords(
  chart: Chart,
  placed: PlacedSection,
  event: ChordEvent,
  options: ChordOptions,
): HoverText {
  const role = roleOf(chart, placed, event);
  return [
    { kind: "title", text: chordSummary(event, role) },
    ...tonesBlocks(event.chord, event.key),
    ...linesOf([
      goesWords(chart, placed, event),
      ...(options.scales ? colourLines(event.chord, event.key, role) : []),
    ]),
  ];
}

/** Any chord in a key, as if it stood there alone. */
export function chordText(chord: Chord, key: Key, options: ChordOptions = { scales: true }): HoverText {
  const role = functionOf(chord, key, undefined);
  return [
    { kind: "title", text: chordSummary({ chord, key, text: degreeText(chord, key) }, role) },
    ...tonesBlocks(chord, key),
    ...linesOf(options.scales ? colourLines(chord, key, role) : []),
  ];
}

/** The notes of a chord from its root up, in one line: `G B D F`, with its bass `D: G B D F`. */
export const chordNotes = ({ root, quality, bass }: Chord): string =>
  `${bass === undefined ? "" : `${prettyName(bass)}: `}${quality.tones
    .map((tone) => prettyName(root + fifthsAbove(tone)))
    .join(" ")}`;

/** What a chord does where it stands; the landing that a push leads to has no place in the section. */
export const roleOf = (chart: Chart, placed: PlacedSection, event: ChordEvent): HarmonicFunction =>
  placed.section.chords[event.index] === event
    ? functionAt(chart, placed, event)
    : functionOf(event.chord, event.key, undefined);

/** `G7 (5:7), the 5, and goes to the 1` */
export const doesWords = (chart: Chart, placed: PlacedSection, event: ChordEvent): string =>
  chordSummary(event, roleOf(chart, placed, event));

function tonesBlocks(chord: Chord, key: Key): readonly Block[] {
  const { root, quality, bass } = chord;
  const rows = quality.tones.map((tone) => {
    const fifths = root + fifthsAbove(tone);
    return [
      prettyName(fifths),
      prettyNumber(tone),
      prettyNumber(degreeInKey(key, fifths)),
      toneRole(quality, tone),
    ];
  });
  const under =
    bass === undefined
      ? []
      : [[prettyName(bass), bassNumber(chord, bass), prettyNumber(degreeInKey(key, bass)), "bass"]];
  return [
    { kind: "table", head: ["tone", "in the chord", "in the key", "what it is"], rows: [...under, ...rows] },
    ...linesOf([strictWords(chord)]),
  ];
}

/** A bass that is no tone of the chord is counted all the same. */
const bassNumber = ({ root }: Chord, bass: number): string =>
  prettyNumber(degreeInKey({ tonic: root, mode: "major" }, bass));

/** The strict spelling of a chord that has tones with two accidentals, which are shown plainly. */
function strictWords({ root, quality, bass }: Chord): string | undefined {
  const tones = [
    root,
    ...(bass === undefined ? [] : [bass]),
    ...quality.tones.map((tone) => root + fifthsAbove(tone)),
  ];
  const strict = [...new Set(tones)].filter((fifths) => prettyStrict(fifths) !== prettyName(fifths));
  if (strict.length === 0) return undefined;
  return `Strictly spelled ${andList(strict.map((fifths) => `${prettyStrict(fifths)} (${prettyName(fifths)})`))}.`;
}

/** Where a chord goes, on each way that repeats and endings lead: `Then F (4).` */
function goesWords(chart: Chart, placed: PlacedSection, event: ChordEvent): string | undefined {
  if (placed.section.chords[event.index] !== event) return undefined;
  const ways = waysAhead(chart, placed)[event.index] ?? [];
  const known = ways.filter((way): way is Ahead & { chord: Chord } => way.chord !== undefined);
  const words = [...new Set(known.map((way) => wayWords(way, event.key)))].slice(0, mostWays);
  return words.length === 0 ? undefined : `Then ${andList(words)}.`;
}

const mostWays = 4;

function wayWords({ chord, where }: Ahead & { chord: Chord }, key: Key): string {
  const place = where === undefined ? "" : where === "after the repeat" ? " after the repeat" : ` (${where})`;
  const number = chordInNumbers({ chord, key, text: "" });
  return `${prettyChord(chord)}, the ${prettyQuality(number)}${place}`;
}

function colourLines(chord: Chord, key: Key, role: HarmonicFunction): (string | undefined)[] {
  const scales = scalesFor(chord, key, role);
  const colours = coloursToAdd(chord, hasTritone(chord) ? scales : scales.slice(0, 1));
  return [
    colours.length === 0
      ? undefined
      : `Colours to add: ${colours.map((n) => `${toneName(n)} (${prettyName(chord.root + fifthsAbove(n))})`).join(", ")}.`,
    ...scales.map(
      ({ name, tones }, i) =>
        `${i === 0 ? "Scale" : "or"}: ${prettyScale(name)}, ${tones.map(prettyName).join(" ")}`,
    ),
  ];
}

/** A chord with a tritone takes the colours of all its scales; another keeps to its best one (common practice, no source). */
const hasTritone = ({ quality }: Chord): boolean => {
  const keys = quality.tones.map(keyAbove);
  return keys.some((key) => keys.includes((key + 6) % 12));
};

/** The tensions of a chord that its scales have. */
function coloursToAdd({ root, quality }: Chord, scales: readonly ChordScale[]): readonly ToneNumber[] {
  const inScales = new Set(scales.flatMap(({ tones }) => tones.map(pitchClass)));
  return tensionsOf(quality).filter((n) => inScales.has(pitchClass(root + fifthsAbove(n))));
}

/** `D mixolydian ♭6` for `D mixolydian b6`: signs stand before a number, or behind the root's letter. */
const prettyScale = (name: string): string => {
  const [root = "", ...rest] = name.split(" ");
  const signs = (text: string): string => text.replace(/b/g, "♭").replace(/#/g, "♯");
  const words = rest.map((word) => word.replace(/^b(?=[0-9])/, "♭").replace(/^#(?=[0-9])/, "♯"));
  return [root.slice(0, 1) + signs(root.slice(1)), ...words].join(" ");
};

/** A chord's name for a list, with its number: `B♭7 (5:7)`; in ASCII where it can't be shown otherwise. */
export const chordLabel = (event: Pick<ChordEvent, "chord" | "key" | "text">): string =>
  `${prettyChord(event.chord)} (${prettyQuality(chordInNumbers(event))})`;
