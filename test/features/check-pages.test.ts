import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { checkPages } from "../../server/src/features/check-pages.js";
import { catalogue } from "../../server/src/problems/catalogue.js";
import { root } from "../support/root.js";

const pages = checkPages();

test("every check has its page", () => {
  expect(pages.map(([name]) => name)).toEqual(Object.keys(catalogue).map((code) => `${code}.md`));
});

describe.each(pages)("%s", (name, text) => {
  test("says what the check means and what is said of its example", () => {
    expect(text).toMatch(/^# [a-z-]+\n\n\S/);
    expect(text).toMatch(/## Example\n\n```plagal\n[\s\S]+\n```\n\n- Line \d+, column \d+: \S/);
  });

  test("stands beside the programs, where diagnostics lead", () => {
    const path = join(root, "dist/checks", name);
    expect(existsSync(path), "npm run build makes it").toBe(true);
    expect(readFileSync(path, "utf8")).toBe(text);
  });
});
