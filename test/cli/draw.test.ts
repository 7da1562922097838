import { expect, test } from "vitest";
import { drawLine } from "../../server/src/cli/draw.js";
import { lineStarts, splitLines } from "../../server/src/text/lines.js";
import { visible } from "../../server/src/text/visible.js";

/** The line and its marks for the part of the text between the brackets. */
function drawn(marked: string): string[] {
  const start = marked.indexOf("[");
  const end = marked.indexOf("]") - 1;
  const text = marked.replace("[", "").replace("]", "");
  return drawLine({ path: "", text, starts: lineStarts(splitLines(text)) }, { start, end });
}

test.each([
  ["chords | [4x] |\n", "chords | 4x |", "         ^^"],
  ["a\nright | 1[] |\r\n", "right | 1 |", "         ^"],
  ["words | é 😀 ♭ [x] |", "words | é 😀 ♭ x |", "               ^"],
  ["words | [😀👍🏽] |", "words | 😀👍🏽 |", "        ^^^^"],
  ["\tkey\t[H]", " key H", "     ^"],
  ["a [b\nc] d", "a b", "  ^"],
  ["[\u0000\u001b]", "␀␛", "^^"],
])("%j", (marked, line, mark) => {
  expect(drawn(marked)).toEqual([line, mark]);
});

test("of a long line a window around the range is drawn", () => {
  const [line = "", mark = ""] = drawn(`${"ab ".repeat(1000)}[xyz]${" cd".repeat(1000)}`);
  expect(line.length).toBeLessThanOrEqual(102);
  expect(line).toMatch(/^….*xyz.*…$/);
  expect(mark.indexOf("^")).toBe(line.indexOf("xyz"));
  expect(mark.trim()).toBe("^^^");
});

test("a window never cuts a picture in two", () => {
  const [line = ""] = drawn(`${"😀".repeat(200)}[xyz]${"😀".repeat(200)}`);
  expect(line).not.toMatch(/\p{Surrogate}/u);
  expect(line).toContain("xyz");
});

test("a range longer than the window is marked to its end", () => {
  const [line = "", mark = ""] = drawn(`[${"x".repeat(5000)}]`);
  expect(mark.length).toBeLessThanOrEqual(line.length);
});

test("signs that could upset a terminal are shown as signs that can't", () => {
  expect(visible("a\u001b[31m\u202e\u007f\tb\u009b")).toBe("a␛[31m�␡ b�");
});
