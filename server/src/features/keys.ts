import type { Document } from "../document/document.js";
import { blockMove } from "../edits/move-text.js";
import { keyOfPart, moveOfPart, type Part, partsOfSection, partsTouched } from "../edits/transpose-part.js";
import { type Key, practicalKeys, prettyKey } from "../theory/key.js";
import { nameOf, pitchClass } from "../theory/note-name.js";
import { movePitch, type Pitch, prettyPitch } from "../theory/pitch.js";
import { intervalWords } from "./interval-words.js";
import { signatureNumber } from "./key-words.js";
import type { Scope } from "./scope.js";
import { type Range, singersKeys } from "./singers-keys.js";

/** A key to move to, in words and as it is written. */
export interface KeyChoice {
  /** The tonic, as a chart writes it: `Eb`. */
  readonly key: string;
  /** `E♭ major` */
  readonly name: string;
  /** `3 flats` */
  readonly signature: string;
  /** How far from the present key: `up a minor third`. */
  readonly interval: string;
  readonly halfSteps: number;
  /** The melody's lowest and highest note there: `B♭3`, `E♭5`; `undefined` where there is no melody. */
  readonly lowest: string | undefined;
  readonly highest: string | undefined;
  /** The key that the music is in now: the first of the list. */
  readonly present: boolean;
}

/** The twelve practical keys from the present one up by half steps; none where the scope has no music. */
export function keyChoices(document: Document, scope: Scope): readonly KeyChoice[] {
  if (scope.kind === "chart") {
    return singersKeys(document.chart).map(({ key, halfSteps, melody }, i) =>
      choice(key, halfSteps, melody, i === 0),
    );
  }
  const parts = partsOf(document, scope);
  return moveTargets(document, scope).map(({ key, halfSteps }, i) =>
    choice(key, halfSteps, melodyIn(parts, key.tonic), i === 0),
  );
}

/** A key to move to, with how far the music goes then. */
export interface Target {
  readonly key: Key;
  readonly halfSteps: number;
}

/** As `keyChoices`, without looking for a melody. */
export function moveTargets(document: Document, scope: Scope): readonly Target[] {
  if (scope.kind === "chart") {
    const { header } = document.chart;
    return keysFrom(header.home.key).map((key) => ({
      key,
      halfSteps: blockMove(header, key.tonic).halfSteps,
    }));
  }
  const [first] = partsOf(document, scope);
  if (first === undefined) return [];
  return keysFrom(keyOfPart(first)).map((key) => ({
    key,
    halfSteps: moveOfPart(first, key.tonic).halfSteps,
  }));
}

const partsOf = (document: Document, scope: Exclude<Scope, { kind: "chart" }>): readonly Part[] =>
  scope.kind === "section" ? partsOfSection(scope.placed) : partsTouched(document, scope.span);

/** The practical keys of a key's mode from it on, which itself keeps the name that it has. */
export function keysFrom(now: Key): readonly Key[] {
  const keys = practicalKeys(now.mode);
  const first = keys.findIndex(({ tonic }) => pitchClass(tonic) === pitchClass(now.tonic));
  return keys.map((_, i) => (i === 0 ? now : (keys[(first + i) % keys.length] as Key)));
}

function choice(key: Key, halfSteps: number, melody: Range | undefined, present: boolean): KeyChoice {
  return {
    key: nameOf(key.tonic),
    name: prettyKey(key),
    signature: signatureNumber(key),
    interval: intervalWords(halfSteps),
    halfSteps,
    lowest: melody && prettyPitch(melody.lowest),
    highest: melody && prettyPitch(melody.highest),
    present,
  };
}

/** The melody's range in what moves, brought to a tonic. */
function melodyIn(parts: readonly Part[], tonic: number): Range | undefined {
  let lowest: Pitch | undefined;
  let highest: Pitch | undefined;
  for (const part of parts) {
    const { fifths, halfSteps } = moveOfPart(part, tonic);
    for (const { system, pitch } of part.placed.section.rows.lead.notes) {
      if (system < part.from || system >= part.to) continue;
      const moved = movePitch(pitch, fifths, halfSteps);
      if (lowest === undefined || moved.midi < lowest.midi) lowest = moved;
      if (highest === undefined || moved.midi > highest.midi) highest = moved;
    }
  }
  return lowest === undefined || highest === undefined ? undefined : { lowest, highest };
}
