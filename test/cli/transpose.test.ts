import { describe, expect, test } from "vitest";
import { dedent, plagal } from "../support/memory-io.js";

const chart = dedent(`
  key     G major  ; home

  section Verse
  chords  | 1 | C |
  left    | 1 | C3 |
`);
const inAb = chart
  .replace("key     G major", "key     Ab major (original G)")
  .replace("| C |", "| Db |")
  .replace("C3", "Db3");
const files = { "songs/a.plagal": chart };

test("the moved chart goes to standard output, and nothing is written", () => {
  expect(plagal(["transpose", "songs/a.plagal", "Ab"], { files })).toEqual({
    code: 0,
    out: inAb,
    err: "",
    files,
  });
});

test("standard input is moved too, with its mark and its line ends", () => {
  const input = `\ufeff${chart.replaceAll("\n", "\r\n")}`;
  expect(plagal(["transpose", "-", "ab"], { input }).out).toBe(`\ufeff${inAb.replaceAll("\n", "\r\n")}`);
});

test("--write puts it back, --out puts it elsewhere, and neither prints it", () => {
  expect(plagal(["transpose", "songs/a.plagal", "Ab", "--write"], { files })).toEqual({
    code: 0,
    out: "",
    err: "",
    files: { "songs/a.plagal": inAb },
  });
  expect(plagal(["transpose", "songs/a.plagal", "Ab", "--out", "b.plagal"], { files })).toEqual({
    code: 0,
    out: "",
    err: "",
    files: { ...files, "b.plagal": inAb },
  });
});

test("to the key that it is in already, nothing is written", () => {
  expect(
    plagal(["transpose", "songs/a.plagal", "G", "--write"], { files, locked: ["songs/a.plagal"] }).code,
  ).toBe(0);
});

test("what can't be written is told", () => {
  expect(
    plagal(["transpose", "songs/a.plagal", "Ab", "--write"], { files, locked: ["songs/a.plagal"] }),
  ).toMatchObject({
    code: 2,
    err: "plagal: can't write songs/a.plagal: it may not be opened.\n",
    files,
  });
});

test.each([
  ["H", "“H” is no key."],
  ["G minor", "A move keeps the mode"],
  ["G#", "would need 8 sharps. Move it to A♭ major"],
])("to %s it can't be moved, and the complaint says why", (key, why) => {
  const { code, out, err } = plagal(["transpose", "songs/a.plagal", key], { files });
  expect([code, out]).toEqual([2, ""]);
  expect(err).toContain(why);
});

describe("--keys all", () => {
  test("writes one chart for each key, named for it, the first as it is", () => {
    const {
      code,
      out,
      err,
      files: after,
    } = plagal(["transpose", "songs/a.plagal", "--keys", "all", "--out", "all"], { files });
    expect([code, err]).toEqual([0, ""]);
    expect(out).toBe("12 charts of songs/a.plagal written to all.\n");
    const names = "C Db D Eb E F F-sharp G Ab A Bb B".split(" ").map((key) => `all/a-${key}.plagal`);
    expect(Object.keys(after)).toEqual(["songs/a.plagal", ...names]);
    expect(after["all/a-Ab.plagal"]).toBe(inAb);
    expect(after["all/a-G.plagal"]).toBe(chart);
    expect(after["songs/a.plagal"]).toBe(chart);
  });

  test("in minor takes the keys of minor, and of Gb and F# the one nearer home", () => {
    const keysOf = (key: string): string[] => {
      const input = `key ${key}\nchords | 1 |\n`;
      const { files } = plagal(["transpose", "-", "--keys", "all", "--out", "all"], { input });
      return Object.keys(files).map((path) => path.slice("all/chart-".length, -".plagal".length));
    };
    expect(keysOf("A minor")).toEqual("C C-sharp D Eb E F F-sharp G G-sharp A Bb B".split(" "));
    expect(keysOf("Eb")).toContain("Gb");
    expect(keysOf("A")).toContain("F-sharp");
  });

  test("stops where the folder or a file can't be made", () => {
    const call = ["transpose", "songs/a.plagal", "--keys", "all", "--out", "all"];
    expect(plagal(call, { files, locked: ["all"] })).toMatchObject({ code: 2, files });
    expect(plagal(call, { files, locked: ["all/a-D.plagal"] })).toMatchObject({
      code: 2,
      out: "2 charts of songs/a.plagal written to all.\n",
    });
  });
});

test("what is written otherwise on the way is said with its place, and done", () => {
  const input = "key C\nchords | C | Bb | E♭ | Ab |\n";
  const { code, out, err } = plagal(["transpose", "-", "F"], { input });
  expect(code).toBe(0);
  expect(out).toContain("| F | E♭ | ");
  expect(err).toMatch(/^standard input:2:\d+: Coming home, Bb /);
});

test("a file that can't be read is told", () => {
  for (const args of [
    ["transpose", "none", "C"],
    ["transpose", "none", "--keys", "all", "--out", "x"],
  ])
    expect(plagal(args)).toMatchObject({ code: 2, out: "", err: expect.stringContaining("can't read none") });
});

describe("rows that no longer stand in line", () => {
  const straight = "key     C major\nchords  | C | F |\nright   | 3 | 3 |\n";
  const said = (name: string): string =>
    `plagal: ${name}: some rows no longer stand in line. \`plagal format\` lines them up.\n`;

  test("are said once, wherever the chart goes", () => {
    const files = { a: straight };
    const call = ["transpose", "a", "Db"];
    expect(plagal(call, { files })).toMatchObject({ code: 0, err: said("a") });
    expect(plagal([...call, "--write"], { files })).toMatchObject({ code: 0, out: "", err: said("a") });
    expect(plagal([...call, "--out", "b"], { files })).toMatchObject({ code: 0, out: "", err: said("b") });
    expect(plagal(["transpose", "-", "Db"], { input: straight }).err).toBe(said("standard input"));
    expect(plagal(["transpose", "a", "--keys", "all", "--out", "all"], { files }).err).toBe(said("all"));
  });

  test("are not said where they stood apart before, or still stand in line", () => {
    const uneven = straight.replace("| 3 | 3 |", "|3|3|");
    expect(plagal(["transpose", "-", "Db"], { input: uneven }).err).toBe("");
    expect(plagal(["transpose", "-", "G"], { input: straight }).err).toBe("");
  });

  test("are said too where the chart stands in line in spaces of its own", () => {
    const wide = "key C\n\nchords |  C  |  F  |\nright  |  3  |  3  |\n";
    expect(plagal(["transpose", "-", "Db"], { input: wide }).err).toBe(said("standard input"));
  });
});
