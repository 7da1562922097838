import type { RowName } from "./tree.js";

/** Whether a row holds words. Those before its first bar line are no beats: they stand under the notes of another row, or over their bar. */
export const isTextRow = (row: RowName): row is "words" | "cue" => row === "words" || row === "cue";
