import { describe, expect, test } from "vitest";
import { commands } from "../../server/src/cli/run.js";
import { plagal } from "../support/memory-io.js";

describe("help", () => {
  test("names every command and fits into 80 columns", () => {
    const { code, out, err } = plagal(["--help"]);
    expect([code, err]).toEqual([0, ""]);
    for (const { name, usages } of commands)
      for (const usage of usages) expect(out).toContain(`plagal ${name} ${usage}`);
    for (const line of out.split("\n")) expect(line.length).toBeLessThanOrEqual(83);
  });

  test.each(commands.map(({ name }) => name))("of %s names its options", (name) => {
    const command = commands.find((it) => it.name === name);
    const { code, out } = plagal([name, "--help"]);
    expect(code).toBe(0);
    for (const option of command?.options ?? []) expect(out).toContain(`--${option.name}`);
    expect(plagal(["help", name]).out).toBe(out);
    expect(plagal([name, "some.plagal", "-h"]).out).toBe(out);
  });

  test("without a command goes to standard error", () => {
    const { code, out, err } = plagal([]);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toBe(plagal(["help"]).out);
  });

  test("behind -- is an operand like any other", () => {
    expect(plagal(["check", "--", "--help"]).err).toBe(
      "plagal: can't read --help: there is no such file or folder.\n",
    );
  });
});

test("the version is that of the program", () => {
  expect(plagal(["--version"])).toMatchObject({ code: 0, out: "plagal 1.2.3\n", err: "" });
});

test("a slip in a command's name is answered with the nearest", () => {
  expect(plagal(["chekc", "a"])).toMatchObject({
    code: 2,
    out: "",
    err: "plagal: there is no command “chekc”. Did you mean check?\n",
  });
  expect(plagal(["help", "constructor"]).err).toBe(
    "plagal: there is no command “constructor”. `plagal --help` lists them.\n",
  );
});

test.each([
  [["check"], "Which chart?"],
  [["check", "a", "--json", "--sarif"], "One output at a time"],
  [["check", "a", "--reach", "4"], "--reach is a number from 5 to 15"],
  [["check", "a", "--reach", "left=9,foot=8"], "--reach is a number from 5 to 15"],
  [["check", "-", "--fix"], "can't be written back"],
  [["show"], "Which chart?"],
  [["show", "a", "b"], "One chart at a time."],
  [["transpose"], "Which chart?"],
  [["transpose", "a"], "To which key?"],
  [["transpose", "a", "C", "D"], "One chart and one key"],
  [["transpose", "a", "C", "--write", "--out", "b"], "Either --write or --out"],
  [["transpose", "-", "C", "--write"], "can't be written back"],
  [["transpose", "a", "C", "--keys", "all"], "Either one KEY or --keys all."],
  [["transpose", "a", "--keys", "all"], "--keys all needs --out DIR"],
  [["transpose", "a", "--keys", "some", "--out", "d"], "--keys is all, not “some”."],
  [["rewrite"], "In numbers or in letters?"],
  [["rewrite", "roman", "a"], "In numbers or in letters?"],
  [["rewrite", "numbers"], "Which chart?"],
  [["rewrite", "numbers", "a", "b"], "One chart at a time."],
  [["rewrite", "numbers", "a", "--rows", "chords,words"], "There is no row “words” to rewrite"],
  [["rewrite", "numbers", "-", "--write"], "can't be written back"],
  [["format"], "Which chart?"],
  [["format", "a", "--write", "--check"], "take one of them"],
  [["format", "-", "--write"], "can't be written back"],
  [["format", "a", "b"], "can't share standard output"],
  [["explain", "a", "b"], "One code at a time."],
])("%j can't be followed and changes nothing", (args, complaint) => {
  const files = { a: "key C\n", b: "key D\n" };
  const { code, out, err, files: after } = plagal(args, { files });
  expect([code, out]).toEqual([2, ""]);
  expect(err).toContain(complaint);
  expect(err).toMatch(/^plagal: .*--help.*\n$/);
  expect(after).toEqual(files);
});
