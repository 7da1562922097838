/** What a picture of a keyboard is painted with, as `#rrggbb`. */
export interface PictureColours {
  readonly white: string;
  readonly black: string;
  /** Names and numbers on keys, and note heads. */
  readonly ink: string;
  /** Fingers, brackets and octaves beside the keys. */
  readonly beside: string;
  readonly rightShade: string;
  /** The lines that shade the left hand's keys. */
  readonly leftShade: string;
}

/**
 * A keyboard's own white and black, and ink. Every text has at least 7 to 1 against what lies behind it, which is
 * counted in the tests (WCAG 2.2, 1.4.6). No colour says anything that a shape or a word doesn't say.
 */
export const pictureColours = {
  light: {
    white: "#ffffff",
    black: "#2b2b2b",
    ink: "#111111",
    beside: "#333333",
    rightShade: "#d5d9de",
    leftShade: "#8a8f96",
  },
  dark: {
    white: "#d9d9d4",
    black: "#101010",
    ink: "#0a0a0a",
    beside: "#e4e4e4",
    rightShade: "#b4b9c0",
    leftShade: "#74787f",
  },
  "high contrast": {
    white: "#ffffff",
    black: "#000000",
    ink: "#000000",
    beside: "#ffffff",
    rightShade: "#ffffff",
    leftShade: "#000000",
  },
  /** Black on white paper without greys that a copier would lose. */
  print: {
    white: "#ffffff",
    black: "#000000",
    ink: "#000000",
    beside: "#000000",
    rightShade: "#e2e2e2",
    leftShade: "#777777",
  },
} as const satisfies Readonly<Record<string, PictureColours>>;
