import { beatsInBar } from "../chart/bar-time.js";
import { meterText } from "../chart/beat-name.js";
import type { LocatedAs } from "../chart/located.js";
import type { Meter } from "../chart/model.js";
import { andList } from "../text/and-list.js";
import { count } from "../text/count.js";
import { pitchAt, prettyPitch } from "../theory/pitch.js";
import { clipped } from "./clipped.js";
import { type HoverText, saying } from "./hover-text.js";

const noteNames: Readonly<Record<number, string>> = {
  1: "whole note",
  2: "half note",
  4: "quarter",
  8: "eighth",
  16: "sixteenth",
};

const noteName = (unit: number): string => noteNames[unit] ?? `1/${unit} note`;

const isCompound = (meter: Meter): boolean => beatsInBar(meter) !== meter.beats;

const beatNote = (meter: Meter): string => (isCompound(meter) ? "dotted quarter" : noteName(meter.unit));

const article = (noun: string): string => (/^[aeiou]/.test(noun) ? `an ${noun}` : `a ${noun}`);

export function timeWords({ meter }: LocatedAs<"time">): HoverText {
  const beats = beatsInBar(meter);
  const slots = isCompound(meter)
    ? `${count(beats, "slot")} in a bar are its beats, ${meter.beats} are eighths.`
    : `${count(beats, "slot")} in a bar ${beats === 1 ? "is its beat" : "are its beats"}, ${2 * beats} are ${noteName(2 * meter.unit)}s.`;
  return saying(
    `${meterText(meter)}: ${count(beats, "beat")} in a bar, each ${article(beatNote(meter))}`,
    slots,
  );
}

export function tempoWords({ tempo, inForce: { meter } }: LocatedAs<"tempo">): HoverText {
  const seconds = Math.round((beatsInBar(meter) * 600) / tempo) / 10;
  return saying(
    `${tempo} beats a minute`,
    `In ${meterText(meter)} the beat is ${article(beatNote(meter))}, and a bar takes ${seconds} ${seconds === 1 ? "second" : "seconds"}.`,
  );
}

const feels = {
  straight: ["straight: the half-beats are even", ""],
  swing: [
    "swing: the first half of a beat is longer than the second",
    "It changes the sound, not what is written.",
  ],
  shuffle: [
    "shuffle: the first half of a beat is twice as long as the second",
    "Two to one, like a triplet with its first two joined. It changes the sound, not what is written.",
  ],
} as const;

export function feelWords({ feel }: LocatedAs<"feel">): HoverText {
  const [title, more] = feels[feel];
  return saying(title, more);
}

const intervals: Readonly<Record<number, string>> = {
  5: "a fifth",
  6: "a sixth",
  7: "a seventh",
  8: "an octave",
  9: "a ninth",
  10: "a tenth",
  11: "an eleventh",
  12: "a twelfth",
  13: "a thirteenth",
  14: "a fourteenth",
  15: "two octaves",
};

/** A stretch in white keys, 8 for an octave. */
const stretch = (keys: number): string => intervals[keys] ?? `${keys} white keys`;

export function reachWords({ left, right }: LocatedAs<"reach">): HoverText {
  const more =
    "The widest interval of white keys that a hand holds down. The settings plagal.reach.left and plagal.reach.right say it for all your charts, and win over it.";
  const care = "What is wider is shown as a problem. A small hand is no fault; stop at pain, and take rests.";
  const title =
    left === right && left !== undefined
      ? `Each hand reaches ${stretch(left)}`
      : andList([
          ...(left === undefined ? [] : [`the left hand reaches ${stretch(left)}`]),
          ...(right === undefined ? [] : [`the right hand reaches ${stretch(right)}`]),
        ]) || "How far a hand reaches";
  return saying(title.slice(0, 1).toUpperCase() + title.slice(1), more, care);
}

const notFound = {
  missing: "There is no such file.",
  outside: "It lies outside the folder of this chart and the workspace.",
  unreadable: "It can't be read.",
  itself: "That is this chart itself.",
} as const;

export function useWords({ used, path }: LocatedAs<"use">): HoverText {
  const title = `The sections of ${clipped(path)}`;
  if (used === undefined) return saying(title, "A use line stands in the head, before the first section.");
  if (used.found !== "chart") return saying(title, notFound[used.found]);
  const names = used.names.slice(0, 20).map(clipped);
  const more = used.names.length - names.length;
  return saying(
    title,
    names.length === 0
      ? "It has no section with a name."
      : `It brings in ${andList(more > 0 ? [...names, `${more} more`] : names)}.`,
    used.taken.length === 0
      ? ""
      : `An earlier use line has ${andList(used.taken.slice(0, 20).map(clipped))} already.`,
    "They sound as if they stood here: in this chart's key, home octaves and tempo.",
  );
}

export function fromWords({ from, row }: LocatedAs<"from">): HoverText {
  if (from?.pitch.octave === undefined) {
    return saying(
      "from: where the row's home octave starts",
      "Write a note with its octave after it: from C3.",
    );
  }
  const lowest = pitchAt(from.pitch.fifths, from.pitch.octave);
  return saying(
    `The ${row} row is at home from ${prettyPitch(lowest)}`,
    "The twelve keys from there up are its home octave, until its next from or the section's end.",
    "A move takes it along; a key line in the section doesn't.",
  );
}

export const cueWords = ({ cue, bar }: LocatedAs<"cue">): HoverText =>
  saying(
    `Cue: ${clipped(cue)}`,
    bar === undefined ? "" : `For the player, over bar ${bar.index + 1}. It changes no sound.`,
  );
