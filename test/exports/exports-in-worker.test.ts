import { readFileSync } from "node:fs";
import { runInNewContext } from "node:vm";
import { expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { type Exporters, exporters } from "../../server/src/exports/exporters.js";

/** The built bundle where there is nothing of Node and nothing of a page: only the language itself, as it is anywhere. */
function bundled(): Exporters {
  const code = readFileSync("dist/exports.cjs", "utf8");
  const module = { exports: {} as { exporters: Exporters } };
  runInNewContext(code, { module, exports: module.exports });
  return module.exports.exporters;
}

test.each(["harbour-evening", "lantern-road", "sunday-vamp"])(
  "%s makes the same MIDI file and the same score in a worker as in Node",
  (name) => {
    const { chart } = openDocument(`${name}.plagal`, readFileSync(`test/charts/${name}.plagal`, "utf8"));
    const there = bundled();
    for (const kind of ["midi", "musicxml"] as const) {
      const [here, elsewhere] = [exporters[kind](chart).bytes, there[kind](chart).bytes];
      expect(here.length).toBeGreaterThan(100);
      expect(Buffer.from(elsewhere).equals(Buffer.from(here))).toBe(true);
    }
  },
);
