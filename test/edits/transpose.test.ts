import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { transposeChart } from "../../server/src/edits/transpose.js";
import { readKey } from "../../server/src/theory/key.js";
import { chartText, edited } from "../support/edit-chart.js";

const target = (name: string) => {
  const key = readKey(name);
  if (key === undefined) throw new Error(`no key: ${name}`);
  return { tonic: key.tonic, mode: /[a-z]{3}/.test(name) ? key.mode : undefined };
};

const move = (text: string, ...keys: string[]): string =>
  keys.reduce((now, key) => edited(now, (document) => transposeChart(document, target(key))), text);

const moves = (before: string, key: string, after: string): void => {
  expect(move(chartText(before), key)).toBe(chartText(after));
};

describe("a whole chart", () => {
  test("a chart in numbers is moved by its key line alone, and remembers where it was written", () => {
    moves(
      `
      key   G major   ; the singer's
      section Verse
      chords |  1  | 5:7 |
      right  | 3+5 | b7+3 |
      `,
      "Ab",
      `
      key   Ab major (original G)   ; the singer's
      section Verse
      chords |  1  | 5:7 |
      right  | 3+5 | b7+3 |
      `,
    );
  });

  test("letters, basses, pitches and from move along the line of fifths, and nothing else does", () => {
    moves(
      `
      key C major
      section A
      chords          |  Dm7  |  G7/B   /D  |
      right  from G3  |  F4+C5  |  (B D) ~F+B4  |
      bass            |  D      |  <B           |
      `,
      "Eb",
      `
      key Eb major (original C)
      section A
      chords          |  Fm7  |  Bb7/D   /F  |
      right  from Bb3  |  Ab4+Eb5  |  (D F) ~Ab+D5  |
      bass            |  F      |  <D           |
      `,
    );
  });

  test("a minor chart keeps its mode when only a tonic is asked for", () => {
    moves("key Am\nright | C4 |\n", "G", "key Gm (original A)\nright | Bb3 |\n");
  });

  test("an exact pitch goes the shorter way with the rest", () => {
    moves("key C\nright | C4+B4 |\n", "A", "key A (original C)\nright | A3+G#4 |\n");
    moves("key C\nright | C4 |\n", "F#", "key F# (original C)\nright | F#3 |\n");
    moves("key C\nright | C4 |\n", "F", "key F (original C)\nright | F4 |\n");
  });

  test("further keys follow by their strict names, and keep them beside a practical twin", () => {
    moves(
      `
      key C
      form A in E B
      section A
      key F#
      chords | F# | C#7 |
      section B
      play A in Eb
      `,
      "D",
      `
      key D (original C)
      form A in F# B
      section A
      key Ab (original G#)
      chords | Ab | Eb7 |
      section B
      play A in F
      `,
    );
  });

  test("through any keys and home, the bytes are the same", () => {
    const text = chartText(`
      key Bb minor
      section A
      chords  | Bbm  | F:b9 / |
      key Ebb major
      right   | Bbb4+Fb5 |
      form A in Db
    `);
    expect(move(text, "C", "F#", "G#", "D", "Bb")).toBe(text);
    expect(move(text, "F#", "Bb", "D", "Bb")).toBe(text);
  });

  test("signs stay signs", () => {
    expect(move("key E♭\nchords | A♭ | F♯ |\n", "D", "Eb")).toBe("key E♭\nchords | A♭ | F♯ |\n");
  });

  test("a chart without a key line gets one, and loses it on coming home", () => {
    for (const end of ["\n", "\r\n"]) {
      const text = `title A${end}chords | 1 |${end}right | C4 |${end}`;
      const moved = move(text, "D");
      expect(moved.split(end)[0]).toMatch(/^key D major \(original C\) ;/);
      expect(moved).toContain("| D4 |");
      expect(move(moved, "Ab", "C")).toBe(text);
    }
  });

  test("another mode is refused with the offer to keep it", () => {
    expect(move("key Am\n", "G major")).toMatch(/^\(A move keeps the mode.*G minor/);
  });

  test("a key of more than seven accidentals is refused with its twin", () => {
    expect(move("key C\n", "G#")).toMatch(/8 sharps.*A♭ major/);
    expect(move("key C\n", "Fb")).toMatch(/8 flats.*E major/);
  });

  test("a pitch that could not be written any more is refused, not bent", () => {
    expect(move("key C\nright | C0 |\n", "B")).toMatch(/^\(The pitch C0/);
  });

  test("a chart that is moved to its own key stays as it is", () => {
    expect(move("key  C\nright | C4 |\n", "C")).toBe("key  C\nright | C4 |\n");
  });

  test("a chart whose key can't be read is refused, since a move counts from it", () => {
    expect(move("title A\nkey Bb minro\nchords | 1 |\n", "C")).toBe(
      "(The key in line 2 can't be read. Mend it first: a move counts from it.)",
    );
  });

  test("what can't be read stays, and is said", () => {
    const text = "key C\nchords | C gmaj7 |\nright | E+e |\n";
    const result = transposeChart(openDocument("a.plagal", text), target("D"));
    const notes = "notes" in result ? result.notes : [];
    expect(notes.map(({ span }) => text.slice(span.start, span.end))).toEqual(["gmaj7", "e"]);
    expect(notes[0]?.message).toMatch(/can't be read, so it stays/);
  });
});
