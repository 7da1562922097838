import { shorterWay } from "../chart/home-octave.js";
import type { LocatedAs } from "../chart/located.js";
import type { Chart, PlacedSection } from "../chart/model.js";
import { count } from "../text/count.js";
import { type Key, prettyKey, scaleOf, signature } from "../theory/key.js";
import { prettyName, prettyStrict } from "../theory/note-name.js";
import { prettyPitch } from "../theory/pitch.js";
import { type Block, type HoverText, linesOf } from "./hover-text.js";
import { melodyRange, type Range, sectionRange, singersKeys } from "./singers-keys.js";

/** A key line: signature, relative key, tones; where the chart was written; and the singer's keys. */
export function keyWords(
  chart: Chart,
  { inForce, counts, placed }: LocatedAs<"key" | "original">,
): HoverText {
  const { key } = inForce.home;
  if (!counts) {
    return [
      { kind: "title", text: `The chart is in ${prettyKey(key)}` },
      ...linesOf(["The first key line of the head counts, and this is a later one."]),
    ];
  }
  return [
    { kind: "title", text: keyTitle(key) },
    ...linesOf([
      tonesWords(key),
      placed === undefined ? originalWords(chart) : "It holds from here to the section's end.",
    ]),
    ...(placed === undefined ? singersBlocks(chart) : linesOf([sectionMelody(placed)])),
  ];
}

/** `E♭ major: 3 flats (B♭ E♭ A♭), relative minor C minor` */
export const keyTitle = (key: Key): string =>
  `${prettyKey(key)}: ${signatureWords(key)}, ${relativeWords(key)}`;

/** `3 flats`, `1 sharp`, `no sharps or flats` */
export function signatureNumber(key: Key): string {
  const signs = signature(key);
  return signs === 0 ? "no sharps or flats" : count(Math.abs(signs), signs > 0 ? "sharp" : "flat");
}

/** `3 flats (B♭ E♭ A♭)`, `no sharps or flats` */
export function signatureWords(key: Key): string {
  const signs = signature(key);
  const words = signatureNumber(key);
  if (signs === 0) return words;
  const number = Math.abs(signs);
  if (number > 7) return `${words}, more than a signature has`;
  // Sharps come from F# up the line of fifths, flats from Bb down.
  const names = Array.from({ length: number }, (_, i) => prettyStrict(signs > 0 ? 6 + i : -2 - i));
  return `${words} (${names.join(" ")})`;
}

/** `2♯`, `3♭`, and a dash for none. */
export const shortSignature = (signs: number): string =>
  signs === 0 ? "–" : `${Math.abs(signs)}${signs > 0 ? "♯" : "♭"}`;

function relativeWords(key: Key): string {
  const { mode, tonic } = key;
  if (mode === "major" || mode === "ionian") return `relative minor ${prettyStrict(tonic + 3)} minor`;
  if (mode === "minor" || mode === "aeolian") return `relative major ${prettyStrict(tonic - 3)} major`;
  // The major key with the same signature has its tonic as many fifths from C.
  return `the notes of ${prettyStrict(signature(key))} major`;
}

const tonesWords = (key: Key): string => `Its tones, 1 to 7: ${scaleOf(key).map(prettyName).join(" ")}.`;

function originalWords({ header: { home, original } }: Chart): string | undefined {
  if (original === undefined) return undefined;
  return `Written in ${prettyStrict(original)}; here the whole chart sounds ${stepsWords(shorterWay(original, home.key.tonic))}.`;
}

/** `3 half steps up`, `a half step down`, `where it is` */
export function stepsWords(halfSteps: number): string {
  if (halfSteps === 0) return "where it is";
  const number = Math.abs(halfSteps);
  const size = number === 1 ? "a half step" : number === 2 ? "a whole step" : `${number} half steps`;
  return `${size} ${halfSteps > 0 ? "up" : "down"}`;
}

/** `from B♭3 to E♭5` */
export const rangeWords = ({ lowest, highest }: Range): string =>
  lowest.midi === highest.midi
    ? `on ${prettyPitch(lowest)} alone`
    : `from ${prettyPitch(lowest)} to ${prettyPitch(highest)}`;

function sectionMelody(placed: PlacedSection): string | undefined {
  const range = sectionRange(placed);
  return range && `The melody of this section goes ${rangeWords(range)}.`;
}

/** Every key that the chart can be moved to, with the melody's lowest and highest note: how a singer's key is chosen. */
function singersBlocks(chart: Chart): readonly Block[] {
  const melody = melodyRange(chart);
  if (melody === undefined) return linesOf(["There is no lead row, so no melody to choose a key by."]);
  const rows = singersKeys(chart).map(({ key, signature: signs, halfSteps, melody: there }) => [
    prettyKey(key),
    shortSignature(signs),
    halfSteps === 0 ? "here" : `${Math.abs(halfSteps)} ${halfSteps > 0 ? "up" : "down"}`,
    there === undefined ? "" : prettyPitch(there.lowest),
    there === undefined ? "" : prettyPitch(there.highest),
  ]);
  return [
    ...linesOf([`The melody goes ${rangeWords(melody)}. In other keys:`]),
    { kind: "table", head: ["key", "signs", "half steps", "lowest", "highest"], rows },
  ];
}
