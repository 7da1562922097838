/** What a player may have meant by words that are no key or no step. */
export interface Meant {
  /** How many of the words belong to it. */
  readonly count: number;
  /** Which of them is wrong. */
  readonly wrong: number;
  /** How it is written, the likeliest first; empty where that isn't clear. */
  readonly texts: readonly string[];
  /** What is wrong and what to do, in full sentences. */
  readonly why: string;
}
