import { inForceAt } from "../chart/in-force.js";
import { prettyChord } from "../theory/chord.js";
import { plainQuality } from "../theory/quality.js";
import { chordNotes, chordText } from "./chord-words.js";
import { type Offer, type TypingPlace, valueSpan } from "./completion-place.js";
import { chordOn } from "./likely-chords.js";

/** Values with what they mean (common practice, no source). */
const values: Readonly<Record<"time" | "tempo" | "feel" | "reach", readonly (readonly [string, string])[]>> =
  {
    time: [
      ["4/4", "four quarters"],
      ["3/4", "three quarters"],
      ["6/8", "two dotted quarters"],
      ["12/8", "four dotted quarters"],
      ["2/4", "two quarters"],
      ["2/2", "two half notes"],
      ["9/8", "three dotted quarters"],
      ["5/4", "five quarters"],
      ["7/8", "seven eighths"],
    ],
    tempo: [
      ["60", "very slow"],
      ["66", "slow"],
      ["72", "slow"],
      ["80", "walking"],
      ["88", "walking"],
      ["96", "in the middle"],
      ["104", "in the middle"],
      ["112", "lively"],
      ["120", "lively"],
      ["132", "fast"],
      ["144", "fast"],
    ],
    feel: [
      ["straight", "even half-beats"],
      ["swing", "long and short half-beats"],
      ["shuffle", "half-beats of two to one"],
    ],
    reach: [
      ["9", "a ninth"],
      ["8", "an octave"],
      ["10", "a tenth"],
      ["left 9 right 9", "each hand for itself"],
      ["left 10 right 9", "the left hand wider"],
      ["left 8 right 8", "an octave each"],
    ],
  };

/** What may stand after `time`, `tempo`, `feel`, `reach` and `lands`. */
export function valueOffers(
  place: TypingPlace,
  wordEnd: number,
  kind: "time" | "tempo" | "feel" | "reach" | "lands",
): readonly Offer[] {
  const span = valueSpan(place, wordEnd);
  if (span === undefined) return [];
  if (kind === "lands") return landings(place, span);
  return values[kind].map(([text, detail]) => ({ label: text, kind: "value", detail, span, text }));
}

function landings({ placed, document, lineIndex }: TypingPlace, span: Offer["span"]): readonly Offer[] {
  const { key } =
    (placed && inForceAt(placed, lineIndex - placed.firstLine))?.home ?? document.chart.header.home;
  return [1, 4, 5, 6, 2, 3, 7].map((degree) => {
    const chord = chordOn(key, { number: degree, alter: 0 }, plainQuality);
    return {
      label: `${degree}`,
      kind: "value",
      detail: `${prettyChord(chord)}: ${chordNotes(chord)}`,
      documentation: () => chordText(chord, key),
      span,
      text: `${degree}`,
    };
  });
}
