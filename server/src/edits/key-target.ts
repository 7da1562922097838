import { readKey } from "../theory/key.js";
import { readName } from "../theory/note-name.js";
import type { KeyTarget } from "./transpose.js";

/** Where to move, as it was typed: `Ab`, `a♭`, `F# minor`, `Cm`; else why it can't be read. */
export function readTarget(text: string): KeyTarget | { readonly refused: string } {
  const typed = text.trim();
  const capital = typed.slice(0, 1).toUpperCase() + typed.slice(1);
  const tonic = readName(capital);
  const target = tonic === undefined ? readKey(capital) : { tonic, mode: undefined };
  return (
    target ?? {
      refused: `“${text}” is no key. Write a tonic such as Ab, C or F#, or a key such as "C minor".`,
    }
  );
}
