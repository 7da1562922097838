import { describe, expect, test } from "vitest";
import { plagal } from "../support/memory-io.js";

const rough = "key   C\r\n\r\nchords |1|\r\nright |3+5|\r\n";
const neat = "key C\r\n\r\nchords  | 1   |\r\nright   | 3+5 |\r\n";
const files = { rough, neat };

test("the formatted chart goes to standard output", () => {
  expect(plagal(["format", "rough"], { files })).toEqual({ code: 0, out: neat, err: "", files });
  expect(plagal(["format", "-"], { input: `\ufeff${rough}` }).out).toBe(`\ufeff${neat}`);
});

test("--write writes only what changes", () => {
  expect(plagal(["format", "rough", "neat", "--write"], { files, locked: ["neat"] })).toEqual({
    code: 0,
    out: "",
    err: "",
    files: { rough: neat, neat },
  });
});

describe("--check", () => {
  test("passes what is formatted", () => {
    expect(plagal(["format", "neat", "--check"], { files })).toMatchObject({ code: 0, out: "" });
  });

  test("shows what would change, and changes nothing", () => {
    const { code, out, files: after } = plagal(["format", "neat", "rough", "--check"], { files });
    expect(code).toBe(1);
    expect(after).toEqual(files);
    expect(out).toBe(
      [
        "--- rough",
        "+++ rough (formatted)",
        "@@ -1,4 +1,4 @@",
        "-key   C\r",
        "+key C\r",
        " \r",
        "-chords |1|\r",
        "-right |3+5|\r",
        "+chords  | 1   |\r",
        "+right   | 3+5 |\r",
        "",
      ].join("\n"),
    );
  });
});

test("lines that can't be read are counted on standard error", () => {
  const { code, out, err } = plagal(["format", "-"], { input: "chords |4x|\ntempo  fast\n" });
  expect([code, out]).toEqual([1, "chords |4x|\ntempo  fast\n"]);
  expect(err).toContain("standard input: 2 lines can't be read and stayed as written");
});

test("a file that can't be read is told, the others are formatted", () => {
  const { code, err, files: after } = plagal(["format", "none", "rough", "--write"], { files });
  expect([code, err]).toEqual([2, "plagal: can't read none: there is no such file or folder.\n"]);
  expect(after.rough).toBe(neat);
});
