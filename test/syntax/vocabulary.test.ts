import { expect, test } from "vitest";
import { LineParser } from "../../server/src/syntax/line-parser.js";
import { makeVocabulary } from "../../server/src/syntax/vocabulary.js";

test("tokens and grammar stand the lexer's and the parser's own validation", () => {
  const types = makeVocabulary(true);
  expect(types.lineLexer.lexerDefinitionErrors).toEqual([]);
  expect(types.stackLexer.lexerDefinitionErrors).toEqual([]);
  expect(() => new LineParser(types, true)).not.toThrow();
});

test("the lexer cuts every character of a line in every kind of line", () => {
  const { lineLexer, words } = makeVocabulary(true);
  const bits = 'a1!~_<>kc+-/=%r|:();.,x "#♭é☃\u0000\u00a0\uFEFF\uD83D'.split("");
  const starts =
    "title key time tempo feel reach form use section lands vamp play chords right words cue ?".split(" ");
  expect(Object.keys(words).length).toBeGreaterThan(10);
  for (const start of starts) {
    for (const a of bits) {
      for (const b of bits) expect(lineLexer.tokenize(`${start} ${a}${b}`).errors).toEqual([]);
    }
  }
});
