import { symlinkSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { badCharts, chartOf } from "../support/bad-charts.js";
import { type BuiltOutcome, built } from "../support/built.js";
import { plagal } from "../support/memory-io.js";

/** What reads and writes nothing. The first of each command runs as built, the others in this process. */
const asBuilt = [
  ["check", "a.plagal"],
  ["show", "a.plagal", "--json"],
  ["transpose", "a.plagal", "Ab"],
  ["format", "a.plagal", "--check"],
] as const;
const inside = [
  ["check", "a.plagal", "--json"],
  ["check", "a.plagal", "--sarif"],
  ["show", "a.plagal"],
  ["rewrite", "letters", "a.plagal", "--rows", "chords,right,left,lead,bass"],
  ["rewrite", "numbers", "a.plagal"],
  ["format", "a.plagal"],
] as const;

/** An answer in words, one of the three outcomes, and nothing written. */
function expectAnswer({ code, out, err, touched }: BuiltOutcome): void {
  expect([0, 1, 2]).toContain(code);
  expect(err).not.toMatch(/^\s+at |\.cjs|\bError\b|this should not have happened/m);
  expect(out).not.toMatch(/^\s+at .*\.cjs/m);
  if (code === 2) expect(err).toMatch(/^plagal: /);
  expect(touched).toEqual([]);
}

function expectAnswers(content: string | Uint8Array): void {
  const files = { "a.plagal": content };
  for (const args of asBuilt) expectAnswer(built(args, files));
  for (const args of inside) {
    const outcome = plagal(args, { files });
    expect(Object.keys(outcome.files)).toEqual(["a.plagal"]);
    expectAnswer({ ...outcome, touched: [] });
  }
}

describe("every command that reads has an answer to", () => {
  test.each(badCharts)("%s", (_, content) => {
    expectAnswers(content);
  });
});

test("10 MB are more than a chart, and that is said at once", () => {
  const content = chartOf(10 * 1024 * 1024);
  expectAnswers(content);
  expect(built(["check", "a.plagal"], { "a.plagal": content })).toMatchObject({
    code: 2,
    out: "",
    err: expect.stringMatching(/^plagal: can't read a\.plagal: it is 10\.\d MB, and a chart is at most 4\./),
  });
});

test("a quarter of a megabyte is no hindrance", () => {
  const content = chartOf(256 * 1024);
  expectAnswers(content);
  expect(built(["check", "a.plagal"], { "a.plagal": content }).out).toMatch(/ in a\.plagal\.\n$/);
});

test("of a chart longer than a day show says so", () => {
  const { code, out, err } = built(["show", "a.plagal"], {
    "a.plagal": `chords ${"| 1 ".repeat(20_001)}|\n`,
  });
  expect([code, out]).toEqual([2, ""]);
  expect(err).toContain("a.plagal has 20001 bars, and 20000 are shown at most.");
});

test("emoji and accidentals in words count as UTF-16 units in JSON", () => {
  const { out } = built(
    ["check", "-", "--json"],
    {},
    { input: "words | 👩‍👧 so♭ ♯ | é |\nchords | 1 | 4x |\ncue | 😀 | 😀\u0000|\n" },
  );
  const { problems } = JSON.parse(out).files[0];
  expect(problems[0].range).toEqual({ start: { line: 2, column: 14 }, end: { line: 2, column: 16 } });
});

test("the command itself reads standard input, and keeps bytes", () => {
  const input = "\ufeffkey C\r\nchords | C |\r\n";
  const { code, out } = built(["transpose", "-", "D"], {}, { input });
  expect(code).toBe(0);
  expect(out).toBe("\ufeffkey D (original C)\r\nchords | D |\r\n");
});

describe("a file that can't be read or written", () => {
  test.each([
    ["none.plagal", "there is no such file or folder"],
    ["folder", "it is a folder"],
    ["a.plagal/b", "a part of the path is a file, not a folder"],
  ])("%s", (path, why) => {
    const outcome = built(["check", path, "a.plagal"], { "a.plagal": "chords | 1 |\n", "folder/x": "" });
    expect(outcome).toMatchObject({ code: 2, err: `plagal: can't read ${path}: ${why}.\n` });
    expect(outcome.out).toBe("No problems in a.plagal.\n");
  });

  test("a folder in the way of --out", () => {
    const outcome = built(["transpose", "a.plagal", "D", "--out", "folder"], {
      "a.plagal": "key C\n",
      "folder/x": "",
    });
    expect(outcome).toMatchObject({
      code: 2,
      err: "plagal: can't write folder: it is a folder.\n",
      touched: [],
    });
  });
});

describe("what is told to be written is, and only that", () => {
  test("--write", () => {
    const outcome = built(["format", "a.plagal", "--write"], {
      "a.plagal": "chords |1|\n",
      "b.plagal": "chords |1|\n",
    });
    expect(outcome).toEqual({ code: 0, out: "", err: "", touched: ["a.plagal"] });
  });

  test("--keys all makes its folder", () => {
    const { code, touched } = built(["transpose", "a.plagal", "--keys", "all", "--out", "x/y"], {
      "a.plagal": "key C\nchords | 1 |\n",
    });
    expect(code).toBe(0);
    expect(touched).toHaveLength(12);
    expect(touched).toContain(join("x/y", "a-Gb.plagal"));
  });
});

describe("use", () => {
  const tag = "key C\nsection Tag\nchords | 1 | 4 |\n";
  const using = (path: string): string =>
    `key D\nuse "${path}"\nsection Verse\nchords | 1 |\nform Verse Tag\n`;
  const playsTag = ({ out }: BuiltOutcome): boolean => JSON.parse(out).form.length === 2;

  test("of a chart beside it, below it, or in the working folder works", () => {
    expect(
      playsTag(built(["show", "a.plagal", "--json"], { "a.plagal": using("tag.plagal"), "tag.plagal": tag })),
    ).toBe(true);
    expect(
      playsTag(
        built(["show", "a.plagal", "--json"], { "a.plagal": using("x/tag.plagal"), "x/tag.plagal": tag }),
      ),
    ).toBe(true);
    expect(
      playsTag(
        built(["show", "x/a.plagal", "--json"], { "x/a.plagal": using("../tag.plagal"), "tag.plagal": tag }),
      ),
    ).toBe(true);
    expect(
      playsTag(
        built(
          ["show", "../x/a.plagal", "--json"],
          { "x/a.plagal": using("tag.plagal"), "x/tag.plagal": tag, "y/z": "" },
          { folder: "y" },
        ),
      ),
    ).toBe(true);
  });

  test.each<[name: string, path: string, files: Record<string, string>]>([
    ["a missing chart", "none.plagal", {}],
    ["itself", "a.plagal", {}],
    ["a folder", "x", { "x/y": "" }],
    ["a chart outside the workspace", "../out.plagal", { "../out.plagal": tag }],
    ["a whole path", "/etc/passwd", {}],
    ["charts in a circle", "b.plagal", { "b.plagal": using("c.plagal"), "c.plagal": using("a.plagal") }],
    ["a chart that isn't UTF-8", "b.plagal", { "b.plagal": "\ud800" }],
    ["no name", "", {}],
    ["a name with a NUL", "\0", {}],
  ])("of %s has an answer", (_, path, others) => {
    const files = Object.fromEntries(
      Object.entries({ "a.plagal": using(path), ...others }).map(([name, text]) => [
        join("work", name),
        text,
      ]),
    );
    for (const args of asBuilt.slice(0, 3)) expectAnswer(built(args, files, { folder: "work" }));
    const { out } = built(["show", "a.plagal", "--json"], files, { folder: "work" });
    expect(out).not.toContain('"Tag"');
  });

  test("never follows a link out of the workspace", () => {
    const files = { "work/a.plagal": using("tag.plagal"), "out.plagal": tag };
    const prepare = (root: string): void =>
      symlinkSync(join(root, "out.plagal"), join(root, "work/tag.plagal"));
    const { out } = built(["show", "a.plagal", "--json"], files, { folder: "work", prepare });
    expect(JSON.parse(out).form).toHaveLength(1);
  });

  test("follows a link that stays inside", () => {
    const files = { "a.plagal": using("tag.plagal"), "x/real.plagal": tag };
    const prepare = (root: string): void =>
      symlinkSync(join(root, "x/real.plagal"), join(root, "tag.plagal"));
    expect(playsTag(built(["show", "a.plagal", "--json"], files, { prepare }))).toBe(true);
  });
});
