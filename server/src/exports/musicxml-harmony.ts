import { type Chord, degreeText, prettyQuality } from "../theory/chord.js";
import { degreeInKey, type Key, signature } from "../theory/key.js";
import { alterOf, letterOf } from "../theory/note-name.js";
import { numberOf, prettyNumber, printNumber } from "../theory/tone-number.js";
import { element, textElement } from "./musicxml-element.js";
import { kindOf } from "./musicxml-kind.js";

/** The chord in letters, as everybody reads it. `after` stands behind the chord: its offset and staff. */
export function letterHarmony({ root, quality, bass }: Chord, after: string): string {
  const text = prettyQuality(quality.symbol);
  return element(
    "harmony",
    element("root", step("root", root)) +
      kind(quality, text) +
      (bass === undefined ? "" : element("bass", step("bass", bass))) +
      degrees(quality) +
      after,
    { placement: "above" },
  );
}

const step = (of: "root" | "bass", fifths: number): string =>
  textElement(`${of}-step`, letterOf(fifths)) + alter(of, fifths);

const alter = (of: "root" | "bass", fifths: number): string =>
  alterOf(fifths) === 0 ? "" : textElement(`${of}-alter`, alterOf(fifths));

const kind = (quality: Chord["quality"], text: string): string =>
  textElement("kind", kindOf(quality).kind, { text });

/** The kind's text says them too, so they are not to be printed again (MusicXML 4.0, `kind`). */
const degrees = (quality: Chord["quality"]): string =>
  kindOf(quality)
    .degrees.map(({ value, alter, type }) =>
      element(
        "degree",
        textElement("degree-value", value) +
          textElement("degree-alter", alter) +
          textElement("degree-type", type),
        { "print-object": "no" },
      ),
    )
    .join("");

/** The chord in numbers, as the chart has it, counted in the key of its place. */
export function numberHarmony(chord: Chord, key: Key, after: string): string {
  const { root, quality, bass } = chord;
  const shown = degreeInKey(key, root);
  const text = degreeText({ ...chord, bass: undefined }, key).slice(printNumber(shown).length);
  const numeral = numeralOf(root, key);
  return element(
    "harmony",
    element(
      "numeral",
      textElement("numeral-root", numeral.degree, { text: String(shown.number) }) +
        numeralAlter(numeral.alter, shown.alter) +
        element(
          "numeral-key",
          textElement("numeral-fifths", numeral.fifths) + textElement("numeral-mode", numeral.mode),
          { "print-object": "no" },
        ),
    ) +
      kind(quality, prettyQuality(text)) +
      (bass === undefined ? "" : element("bass", numberBass(bass, key))) +
      degrees(quality) +
      after,
    { placement: "below" },
  );
}

/** What the numeral's own scale has already is no sign that a player writes. */
const numeralAlter = (alter: number, shown: number): string =>
  alter === 0 ? "" : textElement("numeral-alter", alter, { "print-object": shown === 0 ? "no" : undefined });

/** MusicXML 4.0 names a bass by its letter alone; its text says the number. */
const numberBass = (bass: number, key: Key): string =>
  textElement("bass-step", letterOf(bass), { text: prettyNumber(degreeInKey(key, bass)) }) +
  (alterOf(bass) === 0 ? "" : textElement("bass-alter", alterOf(bass), { "print-object": "no" }));

interface Numeral {
  readonly degree: number;
  /** Half steps from the tone of the scale of `fifths` and `mode`. */
  readonly alter: number;
  readonly fifths: number;
  readonly mode: "major" | "natural minor";
}

/** MusicXML 4.0 counts along major and minor scales; a church mode is counted along the major scale on its tonic. */
function numeralOf(root: number, key: Key): Numeral {
  const { number, alter } = numberOf(key.tonic, root);
  if (key.mode !== "minor" && key.mode !== "aeolian")
    return { degree: number, alter, fifths: key.tonic, mode: "major" };
  const isLow = number === 3 || number === 6 || number === 7;
  return { degree: number, alter: isLow ? alter + 1 : alter, fifths: signature(key), mode: "natural minor" };
}

/** From here on no chord sounds; it is not printed, so that the words beside it say why. */
export const noHarmony = (after: string): string =>
  element(
    "harmony",
    element("numeral", textElement("numeral-root", 1, { text: "" })) +
      textElement("kind", "none", { text: "" }) +
      after,
  );
