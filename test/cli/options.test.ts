import { expect, test } from "vitest";
import { meant, type Option, readCall } from "../../server/src/cli/options.js";

const known: readonly Option[] = [
  { name: "json", about: "" },
  { name: "fail-on", value: "SEVERITY", choices: ["error", "warning"], about: "" },
  { name: "key", value: "KEY", about: "" },
];

const read = (...args: string[]): unknown => {
  const call = readCall(args, known);
  return "complaint" in call ? call.complaint : [call.operands, Object.fromEntries(call.options)];
};

test.each([
  [
    ["a", "--json", "b"],
    [["a", "b"], { json: "" }],
  ],
  [
    ["--key", "Ab"],
    [[], { key: "Ab" }],
  ],
  [["--key=Ab=x"], [[], { key: "Ab=x" }]],
  [
    ["-", "--", "--json", "-x"],
    [["-", "--json", "-x"], {}],
  ],
  [
    ["--key", "Ab", "--key", "C"],
    [[], { key: "C" }],
  ],
  [["--jsn"], "There is no option --jsn here. Did you mean --json?"],
  [["-j"], "There is no option -j here."],
  [["--json=1"], "--json takes no value."],
  [["--key"], "--key needs KEY behind it, as in --key KEY."],
  [["--fail-on="], "--fail-on needs SEVERITY behind it, as in --fail-on error."],
  [["--fail-on", "hint"], "--fail-on is error or warning, not “hint”."],
  [["--__proto__"], "There is no option --__proto__ here."],
])("%j", (args, expected) => {
  expect(read(...args)).toEqual(expected);
});

test("the word that was meant is at most two slips away, and less than half of the word", () => {
  const words = ["check", "show", "transpose"];
  expect(meant("chek", words)).toBe("check");
  expect(meant("transpoes", words)).toBe("transpose");
  expect(meant("sh", words)).toBeUndefined();
  expect(meant("xyz", words)).toBeUndefined();
});
