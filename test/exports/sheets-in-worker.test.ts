import { readFileSync } from "node:fs";
import { runInNewContext } from "node:vm";
import { expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { type Sheets, sheets } from "../../server/src/exports/sheets.js";

/** The built bundle where there is nothing of Node and nothing of a page: only the language itself, as it is anywhere. */
function bundled(): Sheets {
  const code = readFileSync("dist/sheets.cjs", "utf8");
  const module = { exports: {} as { sheets: Sheets } };
  runInNewContext(code, { module, exports: module.exports });
  return module.exports.sheets;
}

test.each(["harbour-evening", "lantern-road", "sunday-vamp"])(
  "%s is printed and drawn as the same bytes in a worker as in Node",
  (name) => {
    const { chart } = openDocument(`${name}.plagal`, readFileSync(`test/charts/${name}.plagal`, "utf8"));
    const there = bundled();
    expect(Buffer.from(there.pdf(chart)).equals(Buffer.from(sheets.pdf(chart)))).toBe(true);
    expect(there.svg(chart)).toBe(sheets.svg(chart));
  },
);
