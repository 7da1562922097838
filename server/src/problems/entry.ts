/** How grave a problem is; `off` is not reported unless a setting raises it. */
export type Severity = "error" | "warning" | "info" | "hint" | "off";

/** All that is known of one check apart from how it is found. */
export interface Entry<Facts> {
  readonly severity: Severity;
  /** What it says in one short sentence, with Markdown code marks: in the list of checks and in the language reference. */
  readonly summary: string;
  /** One or two sentences to a player: what is wrong, and what to do. */
  readonly message: (facts: Facts) => string;
  /** The page of the check, in Markdown: what it means for the music and what to do about it. */
  readonly explanation: string;
  /** A chart that raises it, once and nothing else. */
  readonly example: string;
}
