import type { ChordText, RootText } from "../syntax/tree.js";
import { shift } from "../text/span.js";
import { type Chord, completeOnDegree } from "../theory/chord.js";
import { isRedundantSign, type Key, type ModeName, scaleDegree } from "../theory/key.js";
import { complete } from "../theory/quality.js";
import type { Displacement, Mark } from "./model.js";

interface KnownChord {
  readonly tonic: number;
  readonly mode: ModeName;
  readonly chord: Chord;
}

/** Equal slot texts share their `ChordText`, nearly always in one key. */
const known = new WeakMap<ChordText, KnownChord>();

/** The chord that a text means in a key. `start` is where its slot starts; a sign that the mode has already is marked. */
export function chordOf(
  text: ChordText,
  key: Key,
  displacement: Displacement,
  start: number,
  marks: Mark[],
): Chord {
  const before = known.get(text);
  if (before?.tonic === key.tonic && before.mode === key.mode && displacement.fifths === 0)
    return before.chord;
  const marked = marks.length;
  const chord = read(text, key, displacement, start, marks);
  if (marks.length === marked && displacement.fifths === 0) {
    known.set(text, { tonic: key.tonic, mode: key.mode, chord });
  }
  return chord;
}

function read(text: ChordText, key: Key, displacement: Displacement, start: number, marks: Mark[]): Chord {
  const { root, quality } = text;
  const bass = text.bass === undefined ? undefined : bassName(text.bass, key, displacement, start, marks);
  if (root.kind === "letter") {
    return { root: root.fifths + displacement.fifths, quality: complete(quality, "major", "perfect"), bass };
  }
  const name = bassName(root, key, displacement, start, marks);
  const alter = isRedundantSign(key.mode, root.degree, root.alter) ? 0 : root.alter;
  return { root: name, quality: completeOnDegree(quality, key, root.degree, alter), bass };
}

/** The name of a root or bass: a degree counts along the key's scale, a letter is itself. */
export function bassName(
  text: RootText,
  key: Key,
  displacement: Displacement,
  start: number,
  marks: Mark[],
): number {
  if (text.kind === "letter") return text.fifths + displacement.fifths;
  const { degree, alter, span } = text;
  const fifths = scaleDegree(key, degree, alter);
  if (isRedundantSign(key.mode, degree, alter)) {
    marks.push({ kind: "minor-degree", row: "chords", span: shift(span, start), degree, alter, key, fifths });
  }
  return fifths;
}
