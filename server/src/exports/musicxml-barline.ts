import { element, textElement } from "./musicxml-element.js";
import type { PrintedBar } from "./musicxml-fold.js";
import type { TimedBar } from "./timeline.js";

/** What stands at the start of a bar; nothing where it starts plainly. */
export function openingBarline({ opens, ending }: PrintedBar): string {
  if (opens !== true && ending?.starts !== true) return "";
  return element(
    "barline",
    (opens === true ? textElement("bar-style", "heavy-light") : "") +
      (ending?.starts === true ? endingElement(ending.number, "start") : "") +
      (opens === true ? element("repeat", "", { direction: "forward" }) : ""),
    { location: "left" },
  );
}

/** What stands at the end of a bar; nothing where a plain line does. */
export function closingBarline(
  { closes, ending, sectionEnds }: PrintedBar,
  bar: TimedBar,
  isLast: boolean,
): string {
  const isDouble = sectionEnds === true || bar.played.bar.repeat.double;
  const style = isLast || closes !== undefined ? "light-heavy" : isDouble ? "light-light" : undefined;
  const ends = ending?.ends === true;
  if (style === undefined && !ends) return "";
  const times = closes !== undefined && closes > 2 && ending === undefined ? closes : undefined;
  return element(
    "barline",
    (style === undefined ? "" : textElement("bar-style", style)) +
      (ends ? endingElement(ending.number, closes === undefined ? "discontinue" : "stop") : "") +
      (closes === undefined ? "" : element("repeat", "", { direction: "backward", times })),
    { location: "right" },
  );
}

const endingElement = (number: string, type: string): string => {
  const last = /[0-9]+$/.exec(number)?.[0] ?? number;
  return textElement("ending", number === last ? `${number}.` : `1.–${last}.`, { number, type });
};
