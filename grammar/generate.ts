import { textmateGrammar } from "./textmate.js";

/** The committed files that are made from the table of tokens: path from the project's top → text. */
export const generatedFiles = (): ReadonlyMap<string, string> =>
  new Map([["grammar/plagal.tmLanguage.json", `${JSON.stringify(textmateGrammar(), null, 2)}\n`]]);
