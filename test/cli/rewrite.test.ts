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

test("what can't be read in the rows that are rewritten is said, with its place", () => {
  const input = "key C\nchords | C | Hm | F |\nright | E | ?? | A |\nrigth | E |\n";
  const { code, out, err } = plagal(["rewrite", "numbers", "-"], { input });
  expect(code).toBe(0);
  expect(out).toContain("| 1 | Hm | 4 |");
  expect(err).toBe(
    [
      "standard input:2:14: “Hm” can't be read, so it stays as it is. Mend it before you rely on the rewritten chart.",
      "standard input:4:1: “rigth” can't be read, so it stays as it is. Mend it before you rely on the rewritten chart.",
      "",
    ].join("\n"),
  );
});

test("rows that no longer stand in line are said once", () => {
  const input = "key     Eb major\nchords  | Eb | Ab |\nright   | 3  | 3  |\n";
  expect(plagal(["rewrite", "numbers", "-"], { input })).toMatchObject({
    code: 0,
    out: "key     Eb major\nchords  | 1 | 4 |\nright   | 3  | 3  |\n",
    err: "plagal: standard input: some rows no longer stand in line. `plagal format` lines them up.\n",
  });
});
