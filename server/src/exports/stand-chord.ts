import { chordInNumbers } from "../chart/chord-summary.js";
import type { ChordEvent } from "../chart/model.js";
import { prettyQuality, splitSlash } from "../theory/chord.js";
import { prettyName } from "../theory/note-name.js";
import type { Shape } from "./drawing.js";
import { type SheetOptions, sizes, widthOf, write } from "./stand-sheet.js";

/** A chord as it is printed: its root large, its quality smaller and a little higher, its bass after a slash. */
interface ChordFace {
  readonly root: string;
  readonly quality: string;
  readonly bass: string;
}

/** Something that is printed with its left edge and its baseline at 0. */
export interface Mark {
  readonly width: number;
  readonly shapes: (x: number, y: number) => readonly Shape[];
}

/** What a chord shows on its line, and on the line under it where letters and numbers are both wanted. */
export function chordMarks(
  event: ChordEvent,
  chords: SheetOptions["chords"],
): { readonly main: Mark; readonly below: Mark | undefined } {
  const isNumber = /^[b♭#♯]*[1-7/]/u.test(event.text) && !/^\/[A-G]/u.test(event.text);
  const wanted = chords ?? (isNumber ? "numbers" : "letters");
  const main = markOf(wanted === "numbers" ? inNumbers(event) : inLetters(event), sizes.chord);
  return {
    main,
    below: wanted === "both" ? markOf(inNumbers(event), sizes.numberBelow) : undefined,
  };
}

const inLetters = ({ chord: { root, quality, bass } }: ChordEvent): ChordFace => ({
  root: prettyName(root),
  quality: prettyQuality(quality.symbol),
  bass: bass === undefined ? "" : `/${prettyName(bass)}`,
});

/** `♭7`, `maj7` of `♭7maj7`; the colon of the text parts what its size parts here. */
function inNumbers(event: ChordEvent): ChordFace {
  const text = chordInNumbers(event);
  const [over, bass] = splitSlash(text, (after) => /^[b♭𝄫#♯x𝄪]*[1-7]$/u.test(after));
  const [, signs = "", degree = "", quality = ""] = /^([b♭𝄫#♯x𝄪]*)([1-7]?):?(.*)$/su.exec(over) ?? [];
  return {
    root: pretty(signs) + degree,
    quality: prettyQuality(quality),
    bass: bass === undefined ? "" : `/${pretty(bass)}`,
  };
}

const pretty = (text: string): string => text.replace(/b/g, "♭").replace(/[#]/g, "♯");

const [smaller, higher] = [0.72, 0.2];

function markOf({ root, quality, bass }: ChordFace, size: number): Mark {
  const small = size * smaller;
  const rootWidth = widthOf(root, size, true);
  const qualityWidth = quality === "" ? 0 : widthOf(quality, small, true) + size * 0.04;
  const bassSize = root === "" ? size : size * 0.85;
  return {
    width: rootWidth + qualityWidth + (bass === "" ? 0 : widthOf(bass, bassSize, true)),
    shapes: (x, y) => [
      ...(root === "" ? [] : [write(x, y, root, size, { bold: true })]),
      ...(quality === ""
        ? []
        : [write(x + rootWidth + size * 0.04, y - size * higher, quality, small, { bold: true })]),
      ...(bass === "" ? [] : [write(x + rootWidth + qualityWidth, y, bass, bassSize, { bold: true })]),
    ],
  };
}
