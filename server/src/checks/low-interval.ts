import type { Moved, Note, SlotEvent } from "../chart/model.js";
import type { Fix } from "../problems/problem.js";
import type { Edit } from "../text/edits.js";
import { lowestClear } from "../theory/low-intervals.js";
import { prettyName } from "../theory/note-name.js";
import { type Pitch, prettyPitch } from "../theory/pitch.js";
import type { SectionCheck } from "./check.js";
import { failingKeys } from "./keys-played.js";
import { octaveEdit } from "./octave-edit.js";
import { type KeySet, keySets, laterPlaces, placeIn } from "./sounding-keys.js";

/** Two neighbouring keys of one hand that lie too low to be heard apart. */
export const lowInterval: SectionCheck<"low-interval"> = {
  code: "low-interval",
  run({ section, played }, report) {
    const lowestMove = Math.min(...played.map(({ halfSteps }) => halfSteps));
    const isLow = ({ pitch }: Note): boolean => pitch.midi + lowestMove < highestLimit;
    const isOfConcern = ({ struck, held }: SlotEvent): boolean =>
      struck.length + held.length > 1 && (struck.some(isLow) || held.some(isLow));
    const told = new Set<number>();
    for (const row of ["right", "left", "bass"] as const) {
      for (const set of keySets(section, row, isOfConcern)) {
        const pair = unclearPair(set.notes, played);
        if (pair === undefined) continue;
        const { lower, upper, keys } = pair;
        const places = [placeIn(set.slot, lower), placeIn(set.slot, upper)];
        const span = {
          start: Math.min(...places.map(({ start }) => start)),
          end: Math.max(...places.map(({ end }) => end)),
        };
        // The same text under another chord, by = or %.
        if (told.has(span.start)) continue;
        told.add(span.start);
        const halfSteps = upper.pitch.midi - lower.pitch.midi;
        const facts = {
          lower: prettyPitch(lower.pitch),
          upper: prettyPitch(upper.pitch),
          interval: intervalNames[halfSteps] ?? "it",
          limit: limitName(lowestClear(halfSteps) ?? 0),
          keys,
        };
        report(span, facts, {
          row,
          related: laterPlaces(set),
          fixes: openUp(set, upper, played),
        });
      }
    }
  },
};

/** No interval is unclear from here up: the table's highest limit, that of the minor second. */
const highestLimit = lowestClear(1) ?? 0;

interface UnclearPair {
  readonly lower: Note;
  readonly upper: Note;
  readonly keys: readonly string[];
}

function unclearPair(notes: readonly Note[], played: readonly Moved[]): UnclearPair | undefined {
  for (let i = 1; i < notes.length; i++) {
    const [lower, upper] = [notes[i - 1] as Note, notes[i] as Note];
    const keys = failingKeys(played, (by) => isUnclear(lower.pitch.midi + by, upper.pitch.midi + by));
    if (keys !== undefined) return { lower, upper, keys: keys.names };
  }
  return undefined;
}

/** Whether two keys, MIDI numbers, lie too low to be heard apart. */
export const isUnclear = (lower: number, upper: number): boolean => lower < (lowestClear(upper - lower) ?? 0);

/** In half steps, as the sentence "Keep … from B♭2 up" needs them. */
const intervalNames: Readonly<Record<number, string>> = {
  1: "a half step",
  2: "a whole step",
  3: "a minor third",
  4: "a major third",
  5: "a fourth",
  6: "a tritone",
  7: "a fifth",
  8: "a minor sixth",
  9: "a major sixth",
  10: "a minor seventh",
  11: "a major seventh",
  13: "a minor ninth",
  14: "a major ninth",
  15: "a minor tenth",
  16: "a major tenth",
};

/** The black keys of the table by their flats, as it is printed. */
const flatNames = [0, -5, 2, -3, 4, -1, -6, 1, -4, 3, -2, 5];
const limitName = (midi: number): string =>
  `${prettyName(flatNames[midi % 12] as number)}${Math.floor(midi / 12) - 1}`;

/** The upper tone an octave higher wherever the set stands, with what lies above it in the stack; where that is clear. */
function openUp({ slot, later }: KeySet, { pitch }: Note, played: readonly Moved[]): readonly Fix[] {
  const edits: Edit[] = [];
  for (const place of [slot, ...later]) {
    const edit = opened(place, pitch.midi, played);
    if (edit === undefined) return [];
    edits.push(edit);
  }
  return [{ title: `Move ${prettyPitch(pitch)} up an octave`, edits, silent: false }];
}

function opened({ struck, held }: SlotEvent, midi: number, played: readonly Moved[]): Edit | undefined {
  const notes = struck.filter(({ grace }) => !grace);
  const at = notes.findIndex(({ pitch }) => pitch.midi === midi);
  const upper = notes[at];
  const isFree = notes.every(({ tone }) => tone.name.kind === "number" || tone.name.octave === undefined);
  if (at < 1 || upper === undefined || !isFree || held.length > 0) return undefined;
  const keys: number[] = [];
  notes.forEach(({ pitch, tone }, i) => {
    if (i < at) keys.push(pitch.midi);
    else if (i === at) keys.push(pitch.midi + 12);
    else keys.push(nextAbove(keys[i - 1] as number, pitch) + 12 * Math.max(0, tone.octaves));
  });
  const isClear = keys.every(
    (key, i) =>
      i === 0 || played.every(({ halfSteps: by }) => !isUnclear((keys[i - 1] as number) + by, key + by)),
  );
  return isClear ? octaveEdit(upper, 1) : undefined;
}

/** The next key strictly above another that sounds a pitch's name. */
const nextAbove = (below: number, { midi }: Pitch): number =>
  below + 1 + ((((midi - below - 1) % 12) + 12) % 12);
