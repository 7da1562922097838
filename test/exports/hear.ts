import { openDocument } from "../../server/src/document/document.js";
import { type Performance, type PerformanceOptions, perform } from "../../server/src/exports/performance.js";
import { type Fraction, plus, printFraction } from "../../server/src/theory/fraction.js";
import { pitchName } from "../../server/src/theory/pitch.js";
import { chartText } from "../support/edit-chart.js";

/** The performance of a chart written in a test. */
export const performed = (text: string, options?: PerformanceOptions): Performance =>
  perform(openDocument("chart.plagal", chartText(text)).chart, options);

const from = (at: Fraction, length: Fraction): string =>
  `${printFraction(at)}-${printFraction(plus(at, length))}`;

/**
 * What a part plays, as words: `C4 0-1/4` is middle C through the first quarter, and tones of one time are joined by
 * `+`. A grace note has a `~` behind it.
 */
export function heard(text: string, part: string, options?: PerformanceOptions): string {
  const notes = performed(text, options).parts.find(({ name }) => name === part)?.notes ?? [];
  const words: string[] = [];
  let last = "";
  for (const { at, length, pitch, grace } of notes) {
    const time = from(at, length);
    const name = pitchName(pitch) + (grace ? "~" : "");
    if (time === last) words.push(`${words.pop()?.replace(/ [^ ]+$/, "")}+${name} ${time}`);
    else words.push(`${name} ${time}`);
    last = time;
  }
  return words.join(", ");
}
