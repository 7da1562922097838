import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { commands } from "../../server/src/cli/run.js";
import { plagal } from "../support/memory-io.js";
import { root } from "../support/root.js";

const readme = readFileSync(join(root, "README.md"), "utf8");

/** The charts of the README by the names that stand in a comment above them. */
const charts = Object.fromEntries(
  [...readme.matchAll(/<!-- chart: (\S+) -->\n```plagal\n([\s\S]*?)```/g)].map(([, name, text]) => [
    name,
    text,
  ]),
) as Record<string, string>;

/** Every call that it shows, with what it says comes back. */
const calls = [...readme.matchAll(/```console\n([\s\S]*?)```/g)].flatMap(([, block]) =>
  (block as string)
    .split(/^\$ plagal /m)
    .slice(1)
    .map((call) => {
      const [args = "", ...output] = call.split("\n");
      return { args, output: output.join("\n").trim() };
    }),
);

describe("the README", () => {
  test("says what the tool is for in its first paragraph, then gives the two commands", () => {
    expect(readme).toMatch(/^# Plagal\n\n[^\n]{200,}\n\n```sh\nnpm ci && npm start .*\nnpm ci && npm test /);
  });

  test("shows a chart and what is said about it", () => {
    expect(Object.keys(charts).length).toBeGreaterThan(0);
    expect(calls.length).toBeGreaterThan(2);
  });

  test.each(calls)("shows what `plagal $args` really prints", ({ args, output }) => {
    const { out, err } = plagal(args.split(" "), { files: charts });
    expect((out + err).trim()).toBe(output);
  });

  test.each(commands)("names the command $name", ({ name }) => {
    expect(readme).toContain(`\`plagal ${name}`);
  });

  test("cautions for the hands", () => {
    expect(readme).toMatch(/stop/i);
    expect(readme).toMatch(/teacher or a doctor/);
  });
});
