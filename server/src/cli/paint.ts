import type { Io } from "./io.js";

/** Puts colour on words, or leaves them. */
export interface Paint {
  readonly bold: (text: string) => string;
  readonly dim: (text: string) => string;
  readonly red: (text: string) => string;
  readonly yellow: (text: string) => string;
  readonly blue: (text: string) => string;
  readonly green: (text: string) => string;
}

/** The codes of ECMA-48, select graphic rendition. */
const code =
  (on: number, off: number) =>
  (text: string): string =>
    `\u001b[${on}m${text}\u001b[${off}m`;

const coloured: Paint = {
  bold: code(1, 22),
  dim: code(2, 22),
  red: code(31, 39),
  yellow: code(33, 39),
  blue: code(34, 39),
  green: code(32, 39),
};

const same = (text: string): string => text;
const uncoloured: Paint = { bold: same, dim: same, red: same, yellow: same, blue: same, green: same };

/** Colour only on a terminal, and never where `NO_COLOR` is set. */
export const paintFor = (io: Io): Paint => (io.isTerminal && !io.noColor ? coloured : uncoloured);
