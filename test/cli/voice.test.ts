import { expect, test } from "vitest";
import { styles } from "../../server/src/voicing/styles.js";
import { dedent, plagal } from "../support/memory-io.js";

const chart = dedent(`
  key     C major
  chords  | 2m7 5:7 | 1maj7 |
`);
const voiced = dedent(`
  key     C major
  chords  | 2m7     5:7    | 1maj7 |
  right   | b7+b3+5 3+b7+1 | 7+3+5 |  ; voiced close
  left    | 1       1      | >1    |  ; voiced close
`);
const files = { a: chart };
const close = ["--style", "close"];

test("both hands are voiced on standard output, and nothing is written", () => {
  expect(plagal(["voice", "a", ...close], { files })).toMatchObject({ code: 0, out: voiced, err: "", files });
  expect(plagal(["voice", "-", "--row=both", ...close], { input: chart })).toMatchObject({
    code: 0,
    out: voiced,
  });
});

test("--row voices one hand", () => {
  const { out } = plagal(["voice", "a", "--row", "right", ...close], { files });
  expect(out).toContain("right   |");
  expect(out).not.toContain("left");
});

test("--write puts the chart back, with its mark", () => {
  const it = plagal(["voice", "a", ...close, "--write"], { files: { a: `\ufeff${chart}` } });
  expect(it).toMatchObject({ code: 0, out: "", files: { a: `\ufeff${voiced}` } });
});

test("what is written stays, unless --all asks for it", () => {
  const full = plagal(["voice", "a", ...close], { files: { a: voiced } });
  expect(full).toMatchObject({
    code: 2,
    out: "",
    err: "plagal: Both hands have something written in every bar that has a chord. --all voices it anew.\n",
  });
  const shell = plagal(["voice", "a", "--style", "shell", "--all", "--every-key"], { files: { a: voiced } });
  expect(shell.code).toBe(0);
  expect(shell.out.match(/; voiced shell, every key$/gm)?.length).toBe(2);
});

test("what could not be done as asked goes to standard error, with its place", () => {
  const it = plagal(["voice", "a", "--style", "upper-structure triad"], {
    files: { a: "key     C major\nchords  | 1 |\n" },
  });
  expect(it.code).toBe(0);
  expect(it.err).toBe(
    "a:2:11: C can't be voiced as upper-structure triad here, so it is voiced as rootless.\n",
  );
});

test("--reach asks for voicings that a small hand holds", () => {
  const wide = plagal(["voice", "a", "--style", "two-hand"], { files }).out;
  const small = plagal(["voice", "a", "--style", "two-hand", "--reach", "7"], { files }).out;
  expect(small).not.toBe(wide);
  expect(plagal(["check", "--reach", "7", "--fail-on", "warning", "-"], { input: small }).code).toBe(0);
});

test("a style that isn't there is said, with all that are", () => {
  const list = `--style takes ${styles
    .map(({ name }) => name)
    .join(", ")
    .replace(/, ([^,]*)$/, " or $1")}.`;
  expect(plagal(["voice", "a"], { files })).toMatchObject({
    code: 2,
    out: "",
    err: `plagal: In which style? ${list}\n`,
  });
  expect(plagal(["voice", "a", "--style", "clsoe"], { files }).err).toBe(
    `plagal: there is no style “clsoe”. Did you mean close? ${list}\n`,
  );
  const help = plagal(["voice", "--help"]).out.replace(/\s+/g, " ");
  for (const { name } of styles) expect(help).toContain(name);
});

test("wrong calls are told", () => {
  const said = (...args: readonly string[]): string => plagal(["voice", ...args], { files }).err;
  expect(said()).toContain("Which chart?");
  expect(said("a", "b", ...close)).toContain("One chart at a time.");
  expect(said("a", ...close, "--reach", "99")).toContain("--reach is a number from 5 to 15");
  expect(said("a", ...close, "--row", "lead")).toContain("--row is right, left or both");
  expect(said("-", ...close, "--write")).toContain("Standard input can't be written back");
  expect(said("nowhere", ...close)).toContain("nowhere");
});

const wide = dedent(`
  key     C major
  reach   10
  chords  | 1      |
  left    | >1+5+3 |
`);
const nearer = wide.replace("reach   10", "reach   9").replace(">1+5+3", ">1+3+5");

test("a chart is revoiced for a smaller hand, and what changed is told", () => {
  const err = "a:4:11: C3 G3 E4 in the left hand: E4 goes down an octave.\n";
  expect(plagal(["revoice", "a", "--reach", "9"], { files: { a: wide } })).toMatchObject({
    code: 0,
    out: nearer,
    err,
    files: { a: wide },
  });
  expect(plagal(["revoice", "a", "--reach", "9", "--write"], { files: { a: wide } })).toMatchObject({
    code: 0,
    out: "",
    files: { a: nearer },
  });
});

test("a chart that lies under the hand stays as it is", () => {
  expect(plagal(["revoice", "a", "--reach", "10"], { files: { a: wide } })).toMatchObject({
    code: 0,
    out: wide,
    err: "plagal: a: Every stack of the chart lies under hands of that reach already.\n",
  });
});

test("wrong calls for another reach are told", () => {
  const said = (...args: readonly string[]): string =>
    plagal(["revoice", ...args], { files: { a: wide } }).err;
  expect(said()).toContain("Which chart?");
  expect(said("a")).toContain("For which reach?");
  expect(said("a", "b", "--reach", "8")).toContain("One chart at a time.");
  expect(said("a", "--reach", "big")).toContain("--reach is a number from 5 to 15");
  expect(said("-", "--reach", "8", "--write")).toContain("Standard input can't be written back");
  expect(said("nowhere", "--reach", "8")).toContain("nowhere");
});
