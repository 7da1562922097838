import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import oniguruma from "vscode-oniguruma";
import textmate from "vscode-textmate";

const require = createRequire(import.meta.url);
const wasm = readFileSync(require.resolve("vscode-oniguruma/release/onig.wasm"));

/** A stretch of a line with its scope, `undefined` where it has none of its own. */
export interface ScopedStretch {
  readonly start: number;
  readonly end: number;
  readonly scopes: readonly string[];
}

/** The editor's own tokeniser with the given grammar: a line's text → its stretches. */
export async function editorTokenizer(grammarText: string): Promise<(line: string) => ScopedStretch[]> {
  await oniguruma.loadWASM(
    wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength) as ArrayBuffer,
  );
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(grammarText, "plagal.tmLanguage.json"),
  });
  const grammar = await registry.loadGrammar("source.plagal");
  if (grammar === null) throw new Error("the grammar was not loaded");
  return (line) =>
    grammar
      .tokenizeLine(line, textmate.INITIAL)
      .tokens.map(({ startIndex, endIndex, scopes }) => ({
        start: startIndex,
        end: Math.min(endIndex, line.length),
        scopes: scopes.slice(1),
      }))
      .filter(({ start, end }) => end > start);
}
