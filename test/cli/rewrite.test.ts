import { expect, test } from "vitest";
import { dedent, plagal } from "../support/memory-io.js";

const letters = dedent(`
  key     G major
  chords  | G    | C    |  ; home
  right   | 3+5  | G4   |
`);
const numbers = letters.replace("| G    | C    |", "| 1    | 4    |");
const files = { a: letters };

test("chords turn into numbers on standard output, and back", () => {
  expect(plagal(["rewrite", "numbers", "a"], { files })).toMatchObject({
    code: 0,
    out: numbers,
    err: "",
    files,
  });
  expect(plagal(["rewrite", "letters", "-"], { input: numbers })).toMatchObject({ code: 0, out: letters });
});

test("--write puts the chart back, with its mark", () => {
  const {
    code,
    out,
    files: after,
  } = plagal(["rewrite", "numbers", "a", "--write"], { files: { a: `\ufeff${letters}` } });
  expect([code, out]).toEqual([0, ""]);
  expect(after).toEqual({ a: `\ufeff${numbers}` });
  expect(plagal(["rewrite", "letters", "a", "--write"], { files, locked: ["a"] }).code).toBe(0);
});

test("--rows names other rows", () => {
  const { code, out } = plagal(["rewrite", "letters", "a", "--rows", "right, left"], { files });
  expect(code).toBe(0);
  expect(out).toContain("chords  | G    | C    |");
  expect(out).not.toContain("3+5");
});

test("a file that can't be read is told", () => {
  expect(plagal(["rewrite", "numbers", "none"])).toMatchObject({
    code: 2,
    err: "plagal: can't read none: there is no such file or folder.\n",
  });
});
