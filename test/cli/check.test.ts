import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { catalogue } from "../../server/src/problems/catalogue.js";
import { faultsBy, faultsBySarif } from "../support/json-schema.js";
import { dedent, plagal } from "../support/memory-io.js";
import { sampleCharts } from "../support/sample-charts.js";

const slip = dedent(`
  key     C major

  section Verse
  chords  | 1 | 4mja7 | 67 |
`);
const good = "key     C major\n\nsection Verse\nchords  | 1 | 4 |\n";

test("a problem is drawn under its line, with its fixes", () => {
  const { code, out, err } = plagal(["check", "slip.plagal"], { files: { "slip.plagal": slip } });
  expect([code, err]).toEqual([1, ""]);
  expect(out).toBe(
    dedent(`
      slip.plagal:4:15: error unknown-chord: “4mja7” is not a chord. Did you mean 4maj7 or 4m7 or 4maj9?

          chords  | 1 | 4mja7 | 67 |
                        ^^^^^
          fix: Write 4maj7
          fix: Write 4m7
          fix: Write 4maj9

      slip.plagal:4:23: hint run-together: “67” is read as 6:7. Write the colon, so that the two numbers can't be mistaken.

          chords  | 1 | 4mja7 | 67 |
                                ^^
          fix: Write 6:7

      1 error, 1 hint in slip.plagal.
    `),
  );
});

test("a chart without problems says so", () => {
  expect(plagal(["check", "good.plagal"], { files: { "good.plagal": good } })).toMatchObject({
    code: 0,
    out: "No problems in good.plagal.\n",
    err: "",
  });
});

test("standard input is checked like a file", () => {
  const { code, out } = plagal(["check", "-"], { input: slip });
  expect(code).toBe(1);
  expect(out).toContain("standard input:4:15: error unknown-chord");
});

test("a byte order mark shifts no column", () => {
  const { out } = plagal(["check", "-"], { input: `\ufeff${slip.replace(/^.*\n\n.*\n/, "")}` });
  expect(out).toContain("standard input:1:15: error");
});

test("a file that can't be read is told, and the others are checked all the same", () => {
  const files = {
    "slip.plagal": slip,
    "latin.plagal": new Uint8Array([0x6b, 0x0a, 0xe9]),
    "good.plagal": good,
  };
  const { code, out, err } = plagal(["check", "none.plagal", "latin.plagal", "slip.plagal", "good.plagal"], {
    files,
  });
  expect(code).toBe(2);
  expect(err).toBe(
    "plagal: can't read none.plagal: there is no such file or folder.\nplagal: can't read latin.plagal: it isn't UTF-8 text (byte 3, on line 2). Save it as UTF-8 and try again.\n",
  );
  expect(out).toContain("slip.plagal:4:15");
  expect(out).toContain("1 error, 1 hint in 2 charts.\n");
});

test("UTF-16 is named as what it is", () => {
  const input = new Uint8Array(Buffer.from("\ufeffkey C\n", "utf16le"));
  expect(plagal(["check", "-"], { input }).err).toBe(
    "plagal: can't read standard input: it is UTF-16, not UTF-8. Save it as UTF-8 and try again.\n",
  );
});

test("of very many problems the first 50 are drawn, and the rest counted", () => {
  const input = `chords | ${"x1 | ".repeat(80)}\n`;
  const { out } = plagal(["check", "-"], { input });
  expect(out.match(/: error /g)).toHaveLength(50);
  expect(out).toContain("standard input: and 30 more. --json lists them all.");
  expect(out).toContain("80 errors in standard input.");
});

describe("colour", () => {
  const files = { "slip.plagal": slip };
  test("stands on a terminal only, and never with NO_COLOR", () => {
    expect(plagal(["check", "slip.plagal"], { files, terminal: true }).out).toContain(
      "\u001b[31merror\u001b[39m",
    );
    expect(plagal(["check", "slip.plagal"], { files }).out).not.toContain("\u001b");
    expect(plagal(["check", "slip.plagal"], { files, terminal: true, noColor: true }).out).not.toContain(
      "\u001b",
    );
  });

  test("never reaches JSON", () => {
    expect(plagal(["check", "slip.plagal", "--json"], { files, terminal: true }).out).not.toContain("\u001b");
  });

  test("changes no word", () => {
    const coloured = plagal(["check", "slip.plagal"], { files, terminal: true }).out;
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
    expect(coloured.replace(/\u001b\[[0-9]+m/g, "")).toBe(plagal(["check", "slip.plagal"], { files }).out);
  });
});

describe("--fail-on", () => {
  const hint = "chords | 67 |\n";
  const warning = "chords | 1 | 4 |\nright | 1 |\n";
  const info = "chords | 1 |\nlead | 1 |\nwords | too much |\n";
  test.each([
    ["error", slip, 1],
    ["warning", slip, 1],
    ["error", warning, 0],
    ["warning", warning, 1],
    ["info", warning, 1],
    ["warning", info, 0],
    ["info", info, 1],
    ["info", hint, 0],
    ["hint", hint, 1],
    ["hint", info, 1],
    ["hint", "chords | 1 |\n", 0],
  ])("%s", (severity, input, code) => {
    expect(plagal(["check", "-", "--fail-on", severity], { input }).code).toBe(code);
  });
});

describe("--fix", () => {
  test("says once where rows no longer stand in line", () => {
    const text = "chords  | 67 | 67 |\nright   | 3  | 3  |\n";
    const { out, err, files } = plagal(["check", "a", "--fix"], { files: { a: text } });
    expect(files).toEqual({ a: "chords  | 6:7 | 6:7 |\nright   | 3  | 3  |\n" });
    expect(out).toContain("2 problems fixed.");
    expect(err).toBe("plagal: a: some rows no longer stand in line. `plagal format` lines them up.\n");
  });

  test("writes what can't change a sounding note, keeps the mark and the line ends, and tells the rest", () => {
    const files = { "slip.plagal": `\ufeff${slip.replaceAll("\n", "\r\n")}` };
    const { code, out, files: after } = plagal(["check", "slip.plagal", "--fix"], { files });
    expect(code).toBe(1);
    expect(after["slip.plagal"]).toBe(`\ufeff${slip.replaceAll("\n", "\r\n").replace("67", "6:7")}`);
    expect(out).toContain("1 problem fixed. 1 error in slip.plagal.\n");
  });

  test("leaves a file alone that has nothing to fix", () => {
    const { code, out, files } = plagal(["check", "good.plagal", "--fix"], {
      files: { "good.plagal": good },
      locked: ["good.plagal"],
    });
    expect([code, out]).toEqual([0, "No problems in good.plagal.\n"]);
    expect(files["good.plagal"]).toBe(good);
  });

  test("says so where it can't write", () => {
    const { code, err } = plagal(["check", "a.plagal", "--fix"], {
      files: { "a.plagal": "chords | 67 |\n" },
      locked: ["a.plagal"],
    });
    expect([code, err]).toEqual([2, "plagal: can't write a.plagal: it may not be opened.\n"]);
  });

  test("counts in JSON what it fixed", () => {
    const { out } = plagal(["check", "a.plagal", "--fix", "--json"], {
      files: { "a.plagal": "chords | 67 27 |\n" },
    });
    expect(JSON.parse(out)).toEqual({ schema: 1, files: [{ path: "a.plagal", fixed: 2, problems: [] }] });
  });
});

describe("--json", () => {
  test("gives code, severity, row, ranges from 1 and the facts", () => {
    const { code, out, err } = plagal(["check", "slip.plagal", "--json"], { files: { "slip.plagal": slip } });
    expect([code, err]).toEqual([1, ""]);
    const range = { start: { line: 4, column: 15 }, end: { line: 4, column: 20 } };
    expect(JSON.parse(out).files[0].problems[0]).toMatchObject({
      code: "unknown-chord",
      severity: "error",
      row: "chords",
      range,
      related: [],
      fixes: [{ title: "Write 4maj7", edits: [{ range, text: "4maj7" }] }, {}, {}],
      data: { text: "4mja7", nearest: ["4maj7", "4m7", "4maj9"] },
    });
  });

  test("counts columns in UTF-16 units", () => {
    const { out } = plagal(["check", "-", "--json"], {
      input: "words | 😀 é♭ | ♯ | so |\nchords | 1 | 😀 | x |\n",
    });
    const columns = JSON.parse(out).files[0].problems.map(
      (it: { range: { start: { column: number }; end: { column: number } } }) => [
        it.range.start.column,
        it.range.end.column,
      ],
    );
    expect(columns).toEqual([
      [14, 16],
      [19, 20],
    ]);
  });

  const faults = faultsBy("check");
  test.each(sampleCharts)("of %s fits its schema", (name) => {
    const files = { [name]: readFileSync(`test/charts/${name}`, "utf8") };
    expect(faults(JSON.parse(plagal(["check", name, "--json"], { files }).out))).toEqual([]);
  });

  test.each(Object.entries(catalogue))("of the example of %s fits its schema", (_, { example }) => {
    expect(faults(JSON.parse(plagal(["check", "-", "--json"], { input: example }).out))).toEqual([]);
  });

  test("the schema refuses what is no output of ours", () => {
    expect(faults({ schema: 1, files: [{ path: "a", problems: [{ code: "X" }] }] })).not.toEqual([]);
  });
});

describe("--sarif", () => {
  const faults = faultsBySarif();
  test.each(sampleCharts)("of %s is valid by the published schema", (name) => {
    const files = { [name]: readFileSync(`test/charts/${name}`, "utf8") };
    expect(faults(JSON.parse(plagal(["check", name, "--sarif"], { files }).out))).toEqual([]);
  });

  test.each(Object.entries(catalogue))(
    "of the example of %s is valid by the published schema",
    (_, { example }) => {
      expect(faults(JSON.parse(plagal(["check", "-", "--sarif"], { input: example }).out))).toEqual([]);
    },
  );

  test("the schema refuses what is no log", () => {
    expect(faults({ version: "2.1.0", runs: [{}] })).not.toEqual([]);
  });

  test("places are lines and columns from 1, paths are URIs, rules are the catalogue", () => {
    const path = "songs/Mäßig #1.plagal";
    const { code, out } = plagal(["check", path, "none.plagal", "--sarif"], { files: { [path]: slip } });
    expect(code).toBe(2);
    const [log] = JSON.parse(out).runs;
    expect(log.tool.driver.rules.map(({ id }: { id: string }) => id)).toEqual(Object.keys(catalogue));
    expect(log.invocations[0]).toMatchObject({
      executionSuccessful: false,
      toolExecutionNotifications: [
        { level: "error", message: { text: expect.stringContaining("none.plagal") } },
      ],
    });
    expect(log.results[0]).toMatchObject({
      ruleId: "unknown-chord",
      level: "error",
      locations: [
        {
          physicalLocation: {
            artifactLocation: { uri: "songs/M%C3%A4%C3%9Fig%20%231.plagal", index: 0 },
            region: { startLine: 4, startColumn: 15, endLine: 4, endColumn: 20 },
          },
        },
      ],
    });
    expect(log.results[1]).toMatchObject({ ruleId: "run-together", level: "note" });
    expect(log.columnKind).toBe("utf16CodeUnits");
  });
});
