import type { Reach } from "../chart/model.js";
import type { Option } from "./options.js";

export const reachOption: Option = {
  name: "reach",
  value: "N",
  about: "the widest interval in white keys that a hand holds, 5 to 15 (8 is an octave), or left=N,right=N",
};

export const badReach = (text: string | undefined): string =>
  `--reach is a number from 5 to 15, or left=N,right=N, not “${text}”.`;

/** `9`, `left=9`, `left=9,right=10`; nobody's reach where it is unsaid, `undefined` where it can't be read. */
export function readReach(text: string | undefined): Reach | undefined {
  if (text === undefined) return { left: undefined, right: undefined };
  const both = reachNumber(text);
  if (both !== undefined) return { left: both, right: both };
  let reach: Reach = { left: undefined, right: undefined };
  for (const part of text.split(",")) {
    const [, hand, value = ""] = /^(left|right)=([0-9]+)$/.exec(part) ?? [];
    const number = reachNumber(value);
    if (hand === undefined || number === undefined) return undefined;
    reach = { ...reach, [hand]: number };
  }
  return reach;
}

function reachNumber(text: string): number | undefined {
  const number = /^[0-9]{1,2}$/.test(text) ? Number(text) : 0;
  return number >= 5 && number <= 15 ? number : undefined;
}
