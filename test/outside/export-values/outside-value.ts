/** What is asked, what is published, and what our export gives in its place. */
export interface OutsideValue {
  /** Told apart from all others of its judge: a value is counted once. */
  readonly what: string;
  readonly published: string | number;
  /** Read out of an exported file, when the value is judged. */
  readonly given: () => string | number | undefined;
}

/** Values that one source publishes, for one thing that our exports say. */
export interface ExportJudge {
  readonly subject: string;
  /** Who publishes the values, and where. */
  readonly source: string;
  readonly values: readonly OutsideValue[];
}

/** The whole number of hex digits, in the writing of the MIDI standards: `0A`. */
export const hex = (bytes: Iterable<number>): string =>
  Array.from(bytes, (byte) => byte.toString(16).toUpperCase().padStart(2, "0")).join(" ");
