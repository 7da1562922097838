import { chordAt, slotsIn } from "../chart/in-bar.js";
import type { LocatedAs } from "../chart/located.js";
import { compare, plus } from "../theory/fraction.js";
import { degreeInKey } from "../theory/key.js";
import { prettyPitch } from "../theory/pitch.js";
import { prettyNumber } from "../theory/tone-number.js";
import { chordLabel } from "./chord-words.js";
import { clipped } from "./clipped.js";
import { type HoverText, saying } from "./hover-text.js";
import { placeWords } from "./moment.js";
import { capital } from "./tone-words.js";

/** A syllable: the notes that it is sung on, and the chord there. */
export function syllableWords({ word, bar, placed, pickup, system }: LocatedAs<"syllable">): HoverText {
  if (word === undefined || bar === undefined) {
    return saying("No note for this syllable", "The bar has more syllables than the lead has notes.");
  }
  const verses = system.rows.filter(({ row }) => row === "words").length;
  const verse = verses > 1 ? ` · verse ${word.verse}` : "";
  const end = plus(word.at, word.length);
  const notes = slotsIn(placed, "lead", bar.index, pickup)
    .filter(({ at }) => compare(at, word.at) >= 0 && compare(at, end) < 0)
    .flatMap(({ struck }) => struck.filter(({ grace }) => !grace));
  if (notes.length === 0) {
    return saying(
      `“${clipped(word.text)}”${verse}`,
      `Under bar ${bar.index + 1}: no lead row says on which notes.`,
    );
  }
  const shown = notes.slice(0, 16);
  const numbers = shown.map(({ key, pitch }) => prettyNumber(degreeInKey(key, pitch.fifths))).join(" ");
  const chord = pickup ? undefined : chordAt(placed, bar, word.at);
  const over = chord?.sounds ? `Over ${chordLabel(chord.event)}.` : "";
  const where = placeWords({ placed, bar, pickup, at: word.at });
  return saying(
    `“${clipped(word.text)}” on ${shown.map(({ pitch }) => prettyPitch(pitch)).join(" ")}, the ${numbers} of the key${verse}`,
    over,
    `${capital(where)}.`,
  );
}
