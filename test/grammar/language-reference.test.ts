import { readFileSync } from "node:fs";
import { posix } from "node:path";
import { describe, expect, test } from "vitest";
import { lines, tokens } from "../../grammar/tokens.js";
import { homeOctave, homeOne } from "../../server/src/chart/home-octave.js";
import { defaultSettings, type Files, openDocument } from "../../server/src/document/document.js";
import { catalogue } from "../../server/src/problems/catalogue.js";
import type { PitchedRow } from "../../server/src/syntax/tree.js";
import { disputed } from "../../server/src/theory/disputed.js";
import { modeNames, practicalKeys, readKey } from "../../server/src/theory/key.js";
import { readPitch } from "../../server/src/theory/pitch.js";
import { usualQualities } from "../../server/src/theory/usual-qualities.js";
import { overLetter, tonesOf } from "../support/chord-text.js";
import { codesIn, samplesOf, tableUnder } from "../support/reference.js";
import { printSounds, readSounds, soundsLike } from "../support/sounds.js";

const page = readFileSync(new URL("../../grammar/LANGUAGE.md", import.meta.url), "utf8");
const samples = samplesOf(page);
const byFile = new Map(samples.flatMap(({ file, text }) => (file === undefined ? [] : [[file, text]])));
const files: Files = {
  find: (from, path) => {
    const wanted = posix.join(posix.dirname(from), path);
    const text = byFile.get(wanted);
    return text === undefined ? { kind: "missing" } : { kind: "text", path: wanted, text };
  },
};
const open = (text: string) => openDocument("sample.plagal", text, files, defaultSettings);

test("the reference has samples, and most of them say what they sound like", () => {
  expect(samples.length).toBeGreaterThan(40);
  expect(samples.filter(({ sounds }) => sounds !== undefined).length).toBeGreaterThan(35);
});

describe.each(samples)("the sample in line $line", ({ text, problem }) => {
  test("has the problems that the text announces, and no other", () => {
    const found = open(text).problems.map(
      ({ code, span, message }) => `${code} “${text.slice(span.start, span.end)}” ${message}`,
    );
    if (problem === undefined) return expect(found).toEqual([]);
    expect(found).not.toEqual([]);
    expect(found.filter((it) => !it.startsWith(`${problem} `))).toEqual([]);
  });
});

const sounding = samples.flatMap(({ line, text, sounds }) =>
  sounds === undefined ? [] : [{ line, text, stated: readSounds(sounds.text) }],
);
test.each(sounding)("the sample in line $line sounds as stated", ({ text, stated }) => {
  const { chart } = open(text);
  expect(stated.map((line) => printSounds(line, soundsLike(chart, line)))).toEqual(
    stated.map((line) => printSounds(line, line.bars)),
  );
});

describe("the reference is complete", () => {
  /** Whether a word stands somewhere between code marks. */
  const coded = codesIn(page.replace(/^```(?:.|\n)*?^```/gm, "").replaceAll("\\|", "|"));
  const isCoded = (word: string): boolean =>
    coded.some((code) => code.split(/[ ,]+/).includes(word) || code === word);

  const firstWords = Object.values(lines).flatMap(({ word }) => {
    const pattern = typeof word === "string" ? tokens[word].pattern : word[1];
    return /^[(?:a-z|)]+$/.test(pattern) ? (pattern.match(/[a-z]+/g) ?? []) : [];
  });
  test.each(firstWords)("the word %s that starts a line", (word) => {
    expect(isCoded(word)).toBe(true);
  });
  test("the table of tokens gives all words that start a line", () => {
    expect(new Set(firstWords)).toEqual(
      new Set(
        [tokens.headerWord, tokens.sectionWord, tokens.rowWord].flatMap(
          ({ pattern }) => pattern.match(/[a-z]+/g) ?? [],
        ),
      ),
    );
  });

  const innerWords = ["feelWord", "hand", "moveWord", "step", "original", "from", "rest", "noChord"] as const;
  test.each(innerWords.flatMap((name) => tokens[name].pattern.match(/[a-zA-Z]+/g) ?? []))(
    "the word %s within a line",
    (word) => {
      expect(isCoded(word)).toBe(true);
    },
  );
  test.each([...modeNames, "maj", "min", "M", "m"])("the mode %s", (name) => {
    expect(isCoded(name)).toBe(true);
  });

  const signs = tableUnder(page, "### Signs").flatMap(([cell]) => codesIn(cell ?? ""));
  test.each(
    "| || |: :| x3 1. 2. ( ) >( ) <( ) - / // = % r NC + ! _ > < k c 0 b # ♭ ♯ : ; /7 ~3+5 4~5 1/3 C/E F#4 13".split(
      " ",
    ),
  )("the sign %s stands in the table of signs", (sign) => {
    expect(signs.flatMap((code) => [code, ...code.split(" ")])).toContain(sign);
  });

  test.each(
    (
      "maj7 M7 Δ m7 min7 -7 m7b5 ø dim dim7 °7 aug + sus sus2 sus4 9sus 13sus 6 69 m6 add2 add9 add4 no3 no5 5 alt " +
      "m(maj7) 7(#9,b13) 7#5#9 maj9#11 7 9 11 13"
    ).split(" "),
  )("the quality %s is named and read", (symbol) => {
    expect(coded).toContain(symbol);
    expect(overLetter(symbol)).toBeDefined();
  });
  const named = tableUnder(page, "### Chord qualities").flatMap((cells) =>
    cells.slice(0, 2).flatMap(codesIn),
  );
  test.each(usualQualities)("the usual quality %s stands in the table of qualities", (symbol) => {
    expect(named).toContain(symbol);
  });
});

describe("the table of home octaves", () => {
  const rows = tableUnder(page, "### Home octaves");
  const columns: readonly PitchedRow[] = ["lead", "right", "left", "bass"];
  test("has every practical key once", () => {
    const keys = rows.map(([key = ""]) => readKey(key)?.tonic);
    expect(new Set(keys).size).toBe(rows.length);
    for (const { tonic } of practicalKeys("major")) expect(keys).toContain(tonic);
  });
  test.each(rows)("%s", (key, ...cells) => {
    const tonic = readKey(key)?.tonic ?? Number.NaN;
    const stated = cells.map((cell) => cell.split("–").map((name) => readPitch(name)?.midi));
    expect(stated).toEqual(
      columns.map((row) => {
        const lowest = homeOctave(row, homeOne(tonic));
        return [lowest, lowest + 11];
      }),
    );
  });
});

describe("the table of qualities", () => {
  const rows = tableUnder(page, "### Chord qualities");
  test.each(rows)("%s, also %s, has %s", (symbol = "", others = "", tones) => {
    for (const text of [...codesIn(symbol), ...codesIn(others)]) {
      expect([text, tonesOf(overLetter(text))]).toEqual([text, tones]);
    }
  });
  test.each(rows.flatMap(([symbol = ""]) => codesIn(symbol)))("%s is how it is printed", (symbol) => {
    expect(overLetter(symbol)?.symbol).toBe(symbol);
  });
});

test("the table of disputed symbols is that of the reader", () => {
  const rows = tableUnder(page, "### Disputed symbols").map(([symbols = "", tones, reason]) => ({
    symbols: codesIn(symbols),
    tones,
    reason,
  }));
  expect(rows).toEqual(disputed);
  for (const { symbols, tones } of disputed) {
    for (const text of symbols) expect([text, tonesOf(overLetter(text))]).toEqual([text, tones]);
  }
});

describe("the table of checks", () => {
  const rows = tableUnder(page, "### Checks");
  const codeOf = (cell: string): string => cell.replace(/^`plagal explain (.*)`$/, "$1");
  test("has every check once, and no other", () => {
    expect(rows.map(([cell = ""]) => codeOf(cell)).sort()).toEqual(Object.keys(catalogue).sort());
  });
  test.each(rows)("%s is of kind %s and says what the catalogue says", (cell = "", severity, says) => {
    expect(catalogue[codeOf(cell) as keyof typeof catalogue]).toMatchObject({ severity, summary: says });
  });
});
