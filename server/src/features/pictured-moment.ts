import { handGrip } from "../chart/hand-grips.js";
import { slotsIn } from "../chart/in-bar.js";
import { locate } from "../chart/locate.js";
import type { BarPlace, Located } from "../chart/located.js";
import type { ChordEvent, Note, PlacedSection, Section, SlotEvent } from "../chart/model.js";
import { numberInChord } from "../chart/number-in-chord.js";
import { type Document, reachInForce } from "../document/document.js";
import type { PicturedKey } from "../exports/keyboard-picture.js";
import { type Finger, type Hand, usualReach } from "../keyboard/hand.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import { prettyChord } from "../theory/chord.js";
import { compare, type Fraction } from "../theory/fraction.js";
import { prettyPitch } from "../theory/pitch.js";
import { fingeringOf } from "./fingering.js";
import { chordNow, type Moment, type SoundingRow, soundingAt } from "./moment.js";

/** What both hands hold at a moment, to be drawn as a keyboard. */
export interface PicturedMoment {
  /** A key that a hand holds twice stands once. There is one at least. */
  readonly keys: readonly PicturedKey[];
  /** The chord that sounds, for reading: `Cm9`; `undefined` where there is none. */
  readonly chord: string | undefined;
  /** The hands that play in this section: pictures of its moments have room for all of them. */
  readonly hands: readonly Hand[];
}

/**
 * The moment that a tone, a stack, a chord or a sign that goes on with one stands for; `undefined` elsewhere, and where
 * no hand holds a key of the piano.
 */
export function picturedMoment(document: Document, offset: number): PicturedMoment | undefined {
  const found = momentAt(locate(document, offset));
  if (found === undefined) return undefined;
  const { moment, chord } = found;
  const keys = soundingAt(moment).flatMap((row) => keysOf(document, moment.placed, row, chord));
  if (keys.length === 0) return undefined;
  return { keys, chord: chord && prettyChord(chord.chord), hands: handsIn(moment.placed.section) };
}

/** What the hands hold in words: `Left hand: F2 A♭3 (held). Right hand: E♭4 A♭4.` */
export const momentWords = ({ keys }: PicturedMoment): string =>
  (["left", "right"] as const)
    .flatMap((hand) => {
      const own = keys.filter((key) => key.hand === hand);
      const areHeld = own.every(({ isHeldOver }) => isHeldOver);
      const names = own.map(
        ({ pitch, isHeldOver }) => `${prettyPitch(pitch)}${isHeldOver && !areHeld ? " (held)" : ""}`,
      );
      const words = `${hand === "left" ? "Left" : "Right"} hand: ${names.join(" ")}${areHeld ? " (held)" : ""}.`;
      return own.length === 0 ? [] : [words];
    })
    .join(" ");

interface Found {
  readonly moment: Moment;
  /** What the numbers are told from. */
  readonly chord: ChordEvent | undefined;
}

function momentAt(place: Located): Found | undefined {
  switch (place.kind) {
    case "tone":
    case "grace":
    case "stack":
    case "note-sign": {
      const { event } = place;
      // A `%` stands for a whole bar.
      if (event === undefined || (place.kind === "note-sign" && place.sign === "%")) return undefined;
      const moment = momentOf(place, event);
      return moment && { moment, chord: event.chord ?? chordNow(moment) };
    }
    case "chord": {
      const { event } = place;
      const moment = event && momentOf(place, event);
      return moment && { moment, chord: event };
    }
    case "chord-sign": {
      const { at, pickup, sign, events } = place;
      const [chord] = events;
      if (chord === undefined || at === undefined || !goesOn.has(sign)) return undefined;
      const moment = momentOf(place, { at, pickup });
      return moment && { moment, chord };
    }
    default:
      return undefined;
  }
}

/** Signs of the chord row with which a chord goes on. */
const goesOn: ReadonlySet<string> = new Set(["/", "-", "="]);

function momentOf(
  { placed, bar }: BarPlace,
  { at, pickup }: { readonly at: Fraction; readonly pickup: boolean },
): Moment | undefined {
  return bar && { placed, bar, pickup, at };
}

function keysOf(
  document: Document,
  placed: PlacedSection,
  { slot, notes }: SoundingRow,
  chord: ChordEvent | undefined,
): readonly PicturedKey[] {
  const { hand } = slot;
  if (hand === undefined) return [];
  const fingers = fingersOn(
    document,
    placed,
    slot,
    notes.map(({ note }) => note),
  );
  const keys = new Map<number, PicturedKey>();
  for (const { note, held } of notes) {
    const { midi } = note.pitch;
    if (keys.has(midi) || !isOnKeyboard(midi)) continue;
    keys.set(midi, {
      pitch: note.pitch,
      hand,
      number: chord && numberInChord(chord.chord, note),
      finger: fingers.get(midi),
      isHeldOver: held,
    });
  }
  return [...keys.values()];
}

/** The fingers that play what a hand holds, by their keys: those of the grip that it struck last. */
function fingersOn(
  document: Document,
  placed: PlacedSection,
  slot: SlotEvent,
  notes: readonly Note[],
): ReadonlyMap<number, Finger> {
  const { hand } = slot;
  const struck = slot.struck.some(({ grace }) => !grace) ? slot : lastStruck(placed, notes);
  if (hand === undefined || struck === undefined) return new Map();
  const reach = reachInForce(document)[hand] ?? usualReach;
  const fingers = fingeringOf(placed.section, hand, reach).get(struck) ?? [];
  const { keys } = handGrip(struck);
  return new Map(fingers.map((finger, i) => [keys[i] as number, finger]));
}

/** The slot in which the latest of these notes was struck. */
function lastStruck(placed: PlacedSection, notes: readonly Note[]): SlotEvent | undefined {
  const [first, ...others] = notes;
  if (first === undefined) return undefined;
  const last = others.reduce((latest, note) => (compare(note.at, latest.at) > 0 ? note : latest), first);
  return slotsIn(placed, last.row, last.bar, last.pickup).find(({ struck }) => struck.includes(last));
}

function handsIn({ rows }: Section): readonly Hand[] {
  const plays = (hand: Hand): boolean =>
    [...rows[hand].notes.slice(0, 1), ...rows[hand === "right" ? "lead" : "bass"].notes].some(
      (note) => note.hand === hand,
    );
  return (["right", "left"] as const).filter(plays);
}
