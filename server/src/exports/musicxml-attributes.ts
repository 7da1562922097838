import type { Key } from "../theory/key.js";
import type { Pace } from "./musicxml-directions.js";
import { element, textElement } from "./musicxml-element.js";
import { signsOf } from "./musicxml-note.js";
import type { ScorePart } from "./musicxml-score.js";
import type { TimedBar } from "./timeline.js";

/** What was said last. */
export interface Said {
  readonly divisions: number;
  readonly key: string;
  readonly meter: string;
  readonly pace: Pace;
}

/** Equal where two keys are written alike. */
export const keyName = (key: Key): string => `${signsOf(key)} ${key.mode}`;

/** Key, meter and clefs where they change: all of them at the start, where nothing was said before. */
export function attributesOf(
  now: Said,
  before: Said | undefined,
  { key }: TimedBar,
  { clefs }: ScorePart,
): string {
  const [beats = "", unit = ""] = now.meter.split("/");
  return element(
    "attributes",
    (now.divisions === before?.divisions ? "" : textElement("divisions", now.divisions)) +
      (now.key === before?.key ? "" : keyElement(key)) +
      (now.meter === before?.meter ? "" : timeElement(beats, unit)) +
      (before === undefined ? clefsOf(clefs) : ""),
  ).replace("<attributes/>", "");
}

export const keyElement = (key: Key): string =>
  element("key", textElement("fifths", signsOf(key)) + textElement("mode", key.mode));

export const timeElement = (beats: string, unit: string): string =>
  element("time", textElement("beats", beats) + textElement("beat-type", unit));

export const clefsOf = (clefs: ScorePart["clefs"]): string =>
  (clefs.length > 1 ? textElement("staves", clefs.length) : "") +
  clefs
    .map((sign, i) =>
      element("clef", textElement("sign", sign) + textElement("line", sign === "G" ? 2 : 4), {
        number: clefs.length > 1 ? i + 1 : undefined,
      }),
    )
    .join("");
