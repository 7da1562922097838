import fc from "fast-check";
import { expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";

const unreadable = new Set(["syntax", "unknown-word", "unknown-chord", "unknown-tone", "missing-file"]);

property("every line of a generated chart can be read", anyChart(), 300, (text) => {
  const { problems } = openDocument("chart.plagal", text, usedFiles);
  const found = problems.filter(({ code }) => unreadable.has(code));
  expect(found.map(({ message }) => message)).toEqual([]);
});

/** What the language is made of, each as it looks in a text. */
const constructs: Readonly<Record<string, RegExp>> = {
  title: /^title /m,
  "by and note": /^by .*\r?\nnote /m,
  "key with original": /^key .*\(original /m,
  "a church mode": /^key .*(dorian|lydian|phrygian)/im,
  "a short minor": /^key +[A-G][b♭#♯]?m\r?$/m,
  time: /^time 12\/8/m,
  tempo: /^tempo /m,
  feel: /^feel shuffle/m,
  reach: /^reach left/m,
  use: /^use "/m,
  form: /^form /m,
  "form in KEY": /^form .* in [A-G]/m,
  "form up half": /^form .* up half/m,
  "form x2": /^form .* x2/m,
  "play with a move": /^play .*(in|up|down) /m,
  lands: /^lands /m,
  vamp: /^vamp/m,
  "a key line inside": /^section[\s\S]*^key /m,
  "several systems": /^right[\s\S]*^right/m,
  "a pickup": /^(lead|right|left|bass) +[!~_<>0-9kcA-G][^|]*\|/m,
  "a chord pickup": /^chords +[1-7A-G][^|]*\|/m,
  "nested groups": /\([^()|]*\([^()|]*\)/,
  "a signed group": />\(/,
  "a dash": / - /,
  slashes: / \/\/ /,
  again: / = /,
  "same bar": /\|\s*%\s*[|:]/,
  "a rest": /^(lead|right).* r /m,
  NC: /^chords.* NC/m,
  repeat: /\|:[^\n]*:\|/,
  "repeat x3": /:\|x3/,
  endings: /\| 1\.[^\n]*:\|[^\n]* 2\./,
  "double bar": /\|\|/,
  from: /^(lead|right|left|bass) from [A-G]/m,
  held: /^right.*[ |]_/m,
  rolled: /^right.*[ |]~/m,
  pushed: /^right.*[ |]!/m,
  "up an octave": /^right.*[ |(]>[0-9]/m,
  "down an octave": /^right.*[ |(]<[0-9]/m,
  "up inside a stack": /\+>/,
  "a key number": /^right.*[ |(+]k[b#♭♯]?[0-9]/m,
  "a chord number": /^lead.*[ |(+]c[b#♭♯]?[0-9]/m,
  "the chord's bass": /^left.* 0[ +]/m,
  "a grace note": /[0-9]~[0-9b#]/,
  "a bare letter": /^right.*[ |(+][A-G][b#]?[ +|)]/m,
  "an exact pitch": /^right.*[ |(+][A-G][b#]?4/m,
  "a slash chord": /^chords.*[0-9]\/[1-7]/m,
  "a bass alone": /^chords.* \/[1-7]/m,
  "run together": /^chords.* [1-6]7 /m,
  "letters with a colon": /^chords.*[ |][A-G]b?:/m,
  words: /^words /m,
  verses: /^words .*\r?\n(;.*\r?\n)?words /m,
  cue: /^cue /m,
  comment: / ;/,
  "a comment line": /^;/m,
  tabs: /\t/,
  CRLF: /\r\n/,
  signs: /[♭♯]/,
};

test("generated charts use every construct of the language", () => {
  const texts = fc.sample(anyChart(), { seed: 1, numRuns: 400 });
  const missing = Object.entries(constructs).filter(([, shape]) => !texts.some((text) => shape.test(text)));
  expect(missing.map(([name]) => name)).toEqual([]);
});
