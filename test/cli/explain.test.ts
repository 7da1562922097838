import { expect, test } from "vitest";
import { type Code, catalogue } from "../../server/src/problems/catalogue.js";
import { plagal } from "../support/memory-io.js";

const codes = Object.keys(catalogue) as Code[];

test("without a code every check is listed with its severity and the one sentence that it says", () => {
  const { code, out, err } = plagal(["explain"]);
  expect([code, err]).toEqual([0, ""]);
  const lines = out.split("\n");
  codes.forEach((it, i) => {
    const { severity, summary } = catalogue[it];
    expect(lines[i]?.split(/ {2,}/)).toEqual([it, severity, summary]);
  });
});

test.each(codes)("the page of %s explains it and shows the chart that raises it", (it) => {
  const { code, out, err } = plagal(["explain", it]);
  expect([code, err]).toEqual([0, ""]);
  expect(out.startsWith(`${it} (`)).toBe(true);
  const [, drawn = ""] = out.split("\nExample\n");
  const first = catalogue[it].example.split("\n").find((line) => line.trim() !== "") ?? "";
  expect(drawn).toContain(`    ${first}`);
  expect(drawn).toMatch(new RegExp(`^example:\\d+:\\d+: \\w+ ${it}: `, "m"));
});

test.each(["LOW-INTERVAL", "Low-Interval"])("%s is found in any letter case", (it) => {
  expect(plagal(["explain", it])).toEqual(plagal(["explain", "low-interval"]));
});

test.each([
  ["Unknown-Chrd", "Did you mean unknown-chord?"],
  ["unknown-chrd", "Did you mean unknown-chord?"],
  ["__proto__", "`plagal explain` lists them all."],
  ["constructor", "`plagal explain` lists them all."],
])("there is no check %s", (it, advice) => {
  expect(plagal(["explain", it])).toMatchObject({
    code: 2,
    out: "",
    err: `plagal: there is no check “${it}”. ${advice}\n`,
  });
});
