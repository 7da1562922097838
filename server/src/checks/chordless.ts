import type { NoChordMark, Section } from "../chart/model.js";
import { marksOf } from "./marks.js";

/** The numbers that lack their chord, by the stretch without chords that they stand in; pushed ones apart. */
export function chordless(section: Section): readonly (readonly NoChordMark[])[] {
  const found = new Map<string, NoChordMark[]>();
  for (const mark of marksOf(section, "no-chord")) {
    const name = `${mark.stretch} ${mark.pushed}`;
    const stretch = found.get(name);
    if (stretch === undefined) found.set(name, [mark]);
    else stretch.push(mark);
  }
  return [...found.values()];
}
