import type { Moved, Note, Reach, Section, SlotEvent } from "../chart/model.js";
import type { PlacedStack, PlacedTone } from "../chart/stack.js";
import { movedGrip } from "../keyboard/grip.js";
import { usualReach } from "../keyboard/hand.js";
import type { Fix } from "../problems/problem.js";
import type { Edit } from "../text/edits.js";
import { lowestClear } from "../theory/low-intervals.js";
import { prettyName } from "../theory/note-name.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { failingKeys } from "./keys-played.js";
import { type Opening, opened } from "./open-voicing.js";
import { type KeySet, keySets, laterPlaces, placeIn, soundingIn } from "./sounding-keys.js";
import { mendingTrial } from "./trial.js";
import { timesOf } from "./written-out.js";

/** Two neighbouring keys of one hand that lie too low to be heard apart. */
export const lowInterval: SectionCheck<"low-interval"> = {
  code: "low-interval",
  run(judged, report) {
    const found = unclearSets(judged);
    if (found.length === 0) return;
    const isMended = mendingTrial(judged, (section) => unclearSets({ ...judged, section }).length);
    const told = new Set<number>();
    for (const { row, set, pair } of found) {
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
      const ways = waysOut(set, upper, judged, isMended);
      const facts = {
        lower: prettyPitch(lower.pitch),
        upper: prettyPitch(upper.pitch),
        interval: intervalNames[halfSteps] ?? "it",
        limit: limitName(lowestClear(halfSteps) ?? 0),
        keys,
        advice: ways[0]?.how ?? adviceFor(set, upper, judged),
        tones: set.notes.length,
      };
      report(span, facts, {
        row,
        related: laterPlaces(set),
        fixes: ways.map(({ fix }) => fix),
      });
    }
  },
};

/** A set of keys of a hand, and two neighbours of it that blur. */
interface UnclearSet {
  readonly row: "right" | "left" | "bass";
  readonly set: KeySet;
  readonly pair: UnclearPair;
}

/** Each set of keys with two neighbours that lie too low, once. */
export function unclearSets({ section, played }: JudgedSection): readonly UnclearSet[] {
  const found: UnclearSet[] = [];
  const lowestMove = Math.min(...played.map(({ halfSteps }) => halfSteps));
  const isOfConcern = (placed: PlacedStack): boolean => mayBlur(placed, lowestMove);
  for (const row of ["right", "left", "bass"] as const) {
    if (section.rows[row].lowest + lowestMove >= highestLimit) continue;
    for (const set of keySets(section, row, isOfConcern)) {
      const pair = unclearPair(set.notes, played);
      if (pair !== undefined) found.push({ row, set, pair });
    }
  }
  return found;
}

/** Whether two tones of a stack, or what it may hold beside them, lie too low after a move. */
function mayBlur({ tones, lowest, holds }: PlacedStack, by: number): boolean {
  if (tones.length < 2 || lowest === undefined || lowest.midi + by >= highestLimit) return false;
  if (holds) return true;
  for (let i = 1; i < tones.length; i++) {
    const one = (tones[i] as PlacedTone).pitch.midi;
    for (let j = 0; j < i; j++) {
      const other = (tones[j] as PlacedTone).pitch.midi;
      if (isUnclear(Math.min(one, other) + by, Math.max(one, other) + by)) return true;
    }
  }
  return false;
}

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

interface Way {
  readonly how: Opening;
  readonly fix: Fix;
}

/** The ways to make a set clear wherever it stands, the one that changes least first: none that the hand can't reach. */
function waysOut(
  { slot, notes, later }: KeySet,
  upper: Note,
  { section, played, reach }: JudgedSection,
  isMended: (edits: readonly Edit[]) => boolean,
): Way[] {
  const name = prettyPitch(upper.pitch);
  const titles: Readonly<Record<Opening, string>> = {
    open: `Move ${name} up an octave`,
    raise: notes.length === 2 ? "Move both up an octave" : "Move the whole stack up an octave",
    drop: `Leave ${name} out`,
  };
  return (["open", "raise", "drop"] as const).flatMap((how): Way[] => {
    const edits: Edit[] = [];
    let isFree = true;
    for (const place of [slot, ...later]) {
      const tone = soundingIn(place).find(({ pitch }) => pitch.midi === upper.pitch.midi)?.tone;
      // Under another chord the text that is changed must be clear as well.
      for (const it of timesOf(section, place)) {
        const after = tone && opened(it, tone, how, section.source.text);
        if (after === undefined || !isClear(after.keys, played)) return [];
        if (!isHeld(after.keys, it, soundingIn(it), reach, played)) return [];
        if (it === place) edits.push(...after.edits);
        isFree &&= !it.rolled && isAlone(after.keys, it, section);
      }
    }
    // What may come into the other hand's way is tried.
    if (!isFree && !isMended(edits)) return [];
    return [{ how, fix: { title: titles[how], edits, silent: false } }];
  });
}

/** Whether keys lie where the other hand never comes in the section. */
function isAlone(keys: readonly number[], { hand }: SlotEvent, { rows }: Section): boolean {
  const [lowest = 0, highest = 0] = [keys[0], keys.at(-1)];
  if (hand === "right") return lowest > Math.max(rows.left.highest, rows.bass.highest);
  return hand === undefined || highest < Math.min(rows.right.lowest, rows.lead.lowest);
}

/** What to advise where the text offers no way, by the keys alone. */
function adviceFor({ slot, notes }: KeySet, upper: Note, { played, reach }: JudgedSection): Opening {
  const keys = notes.map(({ pitch }) => pitch.midi);
  const open = keys.map((key) => (key >= upper.pitch.midi ? key + 12 : key));
  const raised = keys.map((key) => key + 12);
  if (isClear(open, played) && isHeld(open, slot, notes, reach, played)) return "open";
  return isClear(raised, played) ? "raise" : "drop";
}

const isClear = (keys: readonly number[], played: readonly Moved[]): boolean =>
  keys.every(
    (key, i) =>
      i === 0 || played.every(({ halfSteps: by }) => !isUnclear((keys[i - 1] as number) + by, key + by)),
  );

/** Whether the hand reaches from the lowest key to the highest, or had to reach as far before. A roll has no width. */
function isHeld(
  keys: readonly number[],
  { hand, rolled }: SlotEvent,
  before: readonly Note[],
  reach: Reach,
  played: readonly Moved[],
): boolean {
  const [lowest = 0, highest = 0] = [keys[0], keys.at(-1)];
  const distinct = [...new Set(keys)];
  const width = (before.at(-1)?.pitch.midi ?? 0) - (before[0]?.pitch.midi ?? 0);
  if (hand === undefined || rolled || highest - lowest <= width) return true;
  return played.every(({ halfSteps: by }) => movedGrip(distinct, by, hand, reach[hand] ?? usualReach).holds);
}
