import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { posix } from "node:path";
import { describe, expect, test } from "vitest";
import { chartChecks, sectionChecks } from "../server/src/checks/list.js";
import { defaultSettings, type Files, openDocument } from "../server/src/document/document.js";
import { plagal } from "./support/memory-io.js";

const folder = new URL("charts/", import.meta.url);
const charts = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith(".plagal"))
    .map((name) => [name, readFileSync(new URL(name, folder), "utf8")]),
);
const names = Object.keys(charts);
const files: Files = {
  find: (from, path) => {
    const wanted = posix.join(posix.dirname(from), path);
    const text = charts[wanted];
    return text === undefined ? { kind: "missing" } : { kind: "text", path: wanted, text };
  },
};

describe("the sample charts", () => {
  test("are there, and the checks that judge them too", () => {
    expect(names.length).toBeGreaterThanOrEqual(8);
    expect(sectionChecks.length + chartChecks.length).toBeGreaterThan(0);
  });

  test.each(names)("%s has no problem of any kind", (name) => {
    const text = charts[name] as string;
    const found = openDocument(name, text, files, defaultSettings).problems.map(
      ({ code, span, message }) => `${code} “${text.slice(span.start, span.end)}” ${message}`,
    );
    expect(found).toEqual([]);
  });

  test.each(names)("%s sounds a third and a chord in each hand", (name) => {
    const { chart } = openDocument(name, charts[name] as string, files, defaultSettings);
    const notes = chart.sections.flatMap(({ section }) => [
      ...section.rows.right.notes,
      ...section.rows.left.notes,
    ]);
    expect(new Set(notes.map(({ hand }) => hand))).toEqual(new Set(["left", "right"]));
  });

  test.each(names)("%s keeps its hands apart and within a ninth, and its top line smooth", (name) => {
    const { chart } = openDocument(name, charts[name] as string, files, defaultSettings);
    for (const { section } of chart.sections) {
      const slots = [...section.rows.right.slots, ...section.rows.left.slots];
      const keysOf = (hand: string, at: number): number[] =>
        slots
          .filter((slot) => slot.hand === hand && isDuring(slot, at))
          .flatMap(({ struck, held }) => [...struck, ...held])
          .filter(({ grace }) => !grace)
          .map(({ pitch }) => pitch.midi)
          .sort((a, b) => a - b);
      let topBefore: number | undefined;
      for (const at of [...new Set(slots.map(timeOf))].sort((a, b) => a - b)) {
        const left = keysOf("left", at);
        const right = keysOf("right", at);
        for (const keys of [left, right]) {
          const [lowest = 0, highest = 0] = [keys[0], keys.at(-1)];
          expect(highest - lowest).toBeLessThanOrEqual(14);
        }
        if (left.length > 0 && right.length > 0) expect(left.at(-1)).toBeLessThan(right[0] as number);
        const top = right.at(-1);
        // A sixth is the least leap that a singer would hear in the top voice.
        if (top !== undefined && topBefore !== undefined) expect(Math.abs(top - topBefore)).toBeLessThan(8);
        topBefore = top ?? topBefore;
      }
    }
  });
});

interface Timed {
  readonly at: { readonly n: number; readonly d: number };
  readonly length: { readonly n: number; readonly d: number };
}
const timeOf = ({ at }: Timed): number => at.n / at.d;
const isDuring = ({ at, length }: Timed, time: number): boolean =>
  at.n / at.d <= time && time < at.n / at.d + length.n / length.d;

/** `PLAGAL_GOLDEN=write` takes the present output as the expected one; then read what changed. */
const isWriting = process.env.PLAGAL_GOLDEN === "write";

test.each(["harbour-evening", "winter-hymn", "evening-offering"])(
  "plagal show prints %s as expected",
  (name) => {
    const { code, out, err } = plagal(["show", `${name}.plagal`], { files: charts });
    expect([code, err]).toEqual([0, ""]);
    const golden = new URL(`golden/${name}.show.txt`, import.meta.url);
    if (isWriting) writeFileSync(golden, out);
    expect(out).toBe(readFileSync(golden, "utf8"));
  },
);
