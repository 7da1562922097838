import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { disputed } from "../../server/src/theory/disputed.js";
import { numbersOf } from "../../server/src/theory/musicxml-kinds.js";
import {
  complete,
  contradicts,
  guideTones,
  needsKey,
  qualityOf,
  readQuality,
} from "../../server/src/theory/quality.js";
import { printNumber, readNumber } from "../../server/src/theory/tone-number.js";
import { usualQualities } from "../../server/src/theory/usual-qualities.js";
import { overLetter, reachable, tonesOf } from "../support/chord-text.js";
import { assertProperty } from "../support/property.js";

const qualities = reachable();

describe("reading", () => {
  test.each([
    ["1 3 5 7", "maj7 M7 Δ Δ7 ∆7 △ ^7 ma7 Maj7 MA7 major7 7M 7maj"],
    ["1 b3 5 b7", "m7 min7 -7 −7 mi7 Min7 minor7 m(7)"],
    ["1 b3 b5 b7", "m7b5 ø ø7 Ø h h7 hdim hdim7 m7(b5) -7b5 m7-5 m7♭5 half-diminished"],
    ["1 b3 b5", "dim ° º o mb5 m(b5) diminished"],
    ["1 b3 b5 bb7", "dim7 °7 o7 º7"],
    ["1 3 #5", "aug + +5 augmented (#5)"],
    ["1 4 5", "sus sus4 4"],
    ["1 2 5", "sus2"],
    ["1 2 4 5", "sus24 sus42 sus2sus4 sus4sus2 sus2/4"],
    ["1 4 5 b7 9", "9sus 9sus4 sus9 7sus(9) sus4(b7,9)"],
    ["1 4 5 b7 9 13", "13sus 13sus4 sus13"],
    ["1 3 5 6", "6 maj6 M6 add6"],
    ["1 3 5 6 9", "69 6/9 6(9) 6add9 maj69"],
    ["1 b3 5 6", "m6 min6 -6"],
    ["1 b3 5 6 9", "m69 m6/9 -6/9"],
    ["1 2 3 5", "add2 2 maj2 add(2)"],
    ["1 3 5 9", "add9 (add9) maj(9) add(9)"],
    ["1 3 4 5", "add4 maj(4)"],
    ["1 5", "no3 5 omit3 no(3) no3rd"],
    ["1 3", "no5 omit5 no5th"],
    ["1 3 b5 #5 b7 b9 #9", "alt 7alt alt7"],
    ["1 b3 5 7", "m(maj7) mM7 m/M7 mΔ7 -Δ mmaj7 minMaj7 m+7 m#7 m(M7) -^7 m^ m7M"],
    ["1 b3 5 7 9", "m(maj9) mM9 m/M9"],
    ["1 3 5 b7 #9 b13", "7(#9,b13) 7#9b13 7(#9)(b13) 7+9-13 7(#9b13) 7#9/b13"],
    ["1 3 #5 b7 #9", "7#5#9 7#9#5 +7#9 7+#9 aug7#9"],
    ["1 3 5 7 9 #11", "maj9#11 maj9(#11) Δ9#11"],
    ["1 3 5 b7 b9", "7b9 b9 7-9 7(b9) dom7b9"],
    ["1 4 5 b7 b9", "7b9sus 7susb9 b9sus 7sus(b9)"],
    ["1 3 5 b7 9 #11 13", "13#11 9(13,#11) 13+11"],
    ["1 3 #5 b7", "7#5 7+ +7 aug7 7+5 7aug"],
    ["1 3 #5 7", "maj7#5 +maj7 augmaj7 M7+ Δ+ +M7"],
    ["1 b3 b5 7", "dim(maj7) °M7 dimmaj7"],
    ["1 3 5 b7", "7 dom7 dom (7)"],
    ["1 5 b7", "7no3 5(b7) 7(no3)"],
    ["1 b3 5 b7 9 13", "m9add13 m9(13)"],
    ["1 4 5 7", "maj7sus maj7sus4"],
    ["1 3 5 #11", "#11 add#11 (#11) maj#11"],
    ["1 3 5 6 b7 9", "769 9add6 6(b7,9)"],
    ["1 b3 4 5", "madd4 m4"],
    ["1 3 5 b6", "addb6 b6"],
  ])("%s is written %s", (tones, spellings) => {
    for (const text of spellings.split(" ")) expect([text, tonesOf(overLetter(text))]).toEqual([text, tones]);
  });

  test.each([
    "foo",
    "45",
    "15",
    "67",
    "8",
    "maj8",
    "sus3",
    "(",
    ")",
    "7(",
    "7)b9(",
    "m5",
    "maj5",
    "7b",
    "7#",
    "7,9",
    "add",
    "no",
    "no2",
    "add14",
    "b3",
    "#6",
    "b11",
    "bb5",
    "bbb7",
    "7(maj7)",
    "7(7)",
    "m79",
    "dim6",
    "ø6",
    "Δ2",
    "ø2",
    "dimsus",
    "7sus7",
    "C",
    "9alt",
    "/",
    "7/",
    "m7b5 ",
  ])("'%s' is unknown", (text) => {
    expect(readQuality(text)).toBeUndefined();
  });

  test.each(
    disputed.flatMap(({ symbols, tones, reason }) =>
      symbols.map((symbol) => [symbol, tones, reason] as const),
    ),
  )("the disputed %s has %s", (symbol, tones) => {
    expect(tonesOf(overLetter(symbol))).toBe(tones);
  });

  test.each(["", "6", "69", "add2", "add9", "add4", "no5", "2", "#11", "b5"])("'%s' asks the key", (text) => {
    const reading = readQuality(text);
    expect(reading !== undefined && needsKey(reading)).toBe(true);
  });

  test.each(["maj", "m", "7", "9", "11", "13", "sus", "5", "no3", "b9", "dim", "aug", "alt", "maj7", "ø"])(
    "'%s' doesn't ask the key",
    (text) => {
      const reading = readQuality(text);
      expect(reading !== undefined && needsKey(reading)).toBe(false);
    },
  );

  test("the key supplies third and fifth of a plain chord, and the third alone of another", () => {
    const plain = readQuality("");
    const six = readQuality("6");
    if (plain === undefined || six === undefined) throw new Error("unread");
    expect(complete(plain, "minor", "diminished").symbol).toBe("dim");
    expect(complete(plain, "minor", "augmented").symbol).toBe("m#5");
    expect(complete(plain, "major", "diminished").symbol).toBe("majb5");
    expect(tonesOf(complete(six, "minor", "diminished"))).toBe("1 b3 5 6");
  });

  test("equal texts give the same value, however many others are read between", () => {
    expect(readQuality("m7")).toBe(readQuality("m7"));
    const before = readQuality("13#11");
    for (let number = 0; number < 1200; number++) readQuality(`7(${number}`);
    expect(readQuality("13#11")).toEqual(before);
  });

  test("reading never throws", () => {
    const words = fc.constantFrom(
      ..."m maj b # 7 9 11 13 5 sus add no ( ) , / + - ° ø Δ 6 2 4 alt".split(" "),
    );
    assertProperty(
      fc.property(
        fc.oneof(
          fc.array(words, { maxLength: 8 }).map((all) => all.join("")),
          fc.string(),
        ),
        (text) => {
          const reading = readQuality(text);
          if (reading === undefined) return;
          expect(reading.major.tones[0]).toEqual({ number: 1, alter: 0 });
        },
      ),
    );
  });
});

describe("printing", () => {
  test.each([
    ["1 3 5", ""],
    ["1 b3 5", "m"],
    ["1 3 5 b7", "7"],
    ["1 b3 b5 b7", "m7b5"],
    ["1 b3 5 7", "m(maj7)"],
    ["1 4 5 b7", "7sus"],
    ["1 3 5 6 9", "69"],
    ["1 3 b5", "majb5"],
    ["1 3 5 b7 b9", "7b9"],
    ["1 4 5 b7 b9", "7b9sus"],
    ["1 3 5 b7 b9 13", "13b9"],
    ["1 3 5 b7 13", "7add13"],
    ["1 3 5 6 b7", "7add6"],
    ["1 3 5 b7 9 b13", "9b13"],
    ["1 3 5 b7 9 11 13", "13add11"],
    ["1 b3 5 b7 9 13", "m9add13"],
    ["1 #5", "augno3"],
    ["1", "no3no5"],
    ["1 5", "5"],
  ])("%s is printed '%s'", (tones, symbol) => {
    expect(qualityOf(numbersOf(tones)).symbol).toBe(symbol);
  });

  test("tones are sorted and stand once", () => {
    expect(tonesOf(qualityOf(numbersOf("5 1 #9 3 b7 3 b9")))).toBe("1 3 5 b7 b9 #9");
  });

  test("two thousand qualities and more are reachable", () => {
    expect(qualities.length).toBeGreaterThan(2000);
  });

  test("every reachable quality reads back from its symbol, and no symbol starts with an accidental", () => {
    for (const quality of qualities) {
      expect([quality.symbol, overLetter(quality.symbol)]).toEqual([quality.symbol, quality]);
      expect(quality.symbol).not.toMatch(/^[b#x]/);
    }
  });

  test("any tones over a root have a symbol that reads back", () => {
    const optional = (...texts: string[]): fc.Arbitrary<string[]> => fc.subarray(texts, { maxLength: 1 });
    const tones = fc
      .tuple(
        optional("3", "b3", "4", "2"),
        fc.subarray(["5", "b5", "#5"], { minLength: 1 }),
        optional("6"),
        optional("7", "b7"),
        fc.subarray(["9", "b9", "#9", "11", "#11", "13", "b13"]),
      )
      .map((parts) => qualityOf(numbersOf(["1", ...parts.flat()].join(" "))));
    assertProperty(
      fc.property(tones, (quality) => {
        expect(overLetter(quality.symbol)).toEqual(quality);
      }),
      2000,
    );
  });
});

describe("guide tones", () => {
  test.each([
    ["", "3"],
    ["m", "b3"],
    ["7", "3 b7"],
    ["maj9", "3 7"],
    ["m7b5", "b3 b7"],
    ["dim7", "b3 bb7"],
    ["6", "3"],
    ["m6", "b3"],
    ["sus", ""],
    ["7sus", "b7"],
    ["5", ""],
    ["7alt", "3 b7"],
    ["13#11", "3 b7"],
    ["7no3", "b7"],
  ])("of '%s' are %s", (symbol, tones) => {
    const quality = overLetter(symbol);
    expect(quality === undefined ? "" : guideTones(quality).map(printNumber).join(" ")).toBe(tones);
  });
});

describe("contradicting the symbol", () => {
  const judge = (symbol: string, tone: string): boolean => {
    const quality = overLetter(symbol);
    const n = readNumber(tone);
    if (quality === undefined || n === undefined) throw new Error(symbol);
    return contradicts(quality, n);
  };

  test.each([
    ["sus", "3"],
    ["7sus", "3"],
    ["sus2", "3"],
    ["m7", "3"],
    ["dim7", "3"],
    ["maj7", "b3"],
    ["", "b3"],
    ["7b5", "5"],
    ["7#5", "5"],
    ["dim", "5"],
    ["m7b5", "5"],
    ["maj7", "b7"],
    ["7", "7"],
    ["m7", "7"],
    ["dim7", "b7"],
    ["7b9", "9"],
    ["7#9", "2"],
    ["9#11", "4"],
    ["7b13", "13"],
    ["7alt", "9"],
    ["7alt", "5"],
  ])("over '%s' a %s does", (symbol, tone) => {
    expect(judge(symbol, tone)).toBe(true);
  });

  test.each([
    ["sus", "4"],
    ["7", "b9"],
    ["7", "#9"],
    ["7", "b3"],
    ["7", "#11"],
    ["7", "b13"],
    ["7", "4"],
    ["7sus", "9"],
    ["7sus", "b3"],
    ["maj7", "9"],
    ["maj7", "#11"],
    ["maj7", "#9"],
    ["m7", "11"],
    ["m7", "13"],
    ["5", "3"],
    ["5", "b3"],
    ["", "b7"],
    ["", "7"],
    ["", "#5"],
    ["6", "7"],
    ["dim7", "7"],
    ["dim7", "b13"],
    ["m7b5", "11"],
    ["7alt", "b13"],
    ["7alt", "#11"],
    ["7#9", "b3"],
    ["7b5", "#11"],
    ["7", "0"],
    ["7no3", "3"],
  ])("over '%s' a %s doesn't", (symbol, tone) => {
    expect(judge(symbol, tone)).toBe(false);
  });

  test("no tone of a chord contradicts it", () => {
    for (const quality of qualities) {
      for (const n of quality.tones)
        expect([quality.symbol, n, contradicts(quality, n)]).toEqual([quality.symbol, n, false]);
    }
  });
});

describe("the usual spellings", () => {
  test.each(usualQualities)("'%s', which may be offered, is known", (text) => {
    expect(readQuality(text)).toBeDefined();
  });
});
