import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { reachWish, revoice } from "../../server/src/features/revoice.js";
import { acted, changed, offered } from "../support/change-chart.js";
import { chartText } from "../support/edit-chart.js";

const revoiceTitles = (chart: string, only?: readonly string[]): readonly string[] =>
  offered(chart, only === undefined ? {} : { only }).flatMap(({ title }) =>
    title.startsWith("Revoice") ? [title] : [],
  );

const wide = `
  key C
  section Verse
  chords | 1 | 4‸ |
  right  | 3+5+1 | 3+5+1 |
  left   | 1+>3 | 1+5 |
`;

describe("revoicing for the reach that judges the chart", () => {
  const ninth = "Revoice the chart for hands that reach a ninth";

  test("is offered where a hand can't hold what stands there, and on a reach line", () => {
    expect(revoiceTitles(wide)).toEqual([]);
    const atGrip = wide.replace("‸", "").replace("1+>3", "1+>‸3");
    expect(revoiceTitles(atGrip)).toEqual([ninth]);
    expect(revoiceTitles(`reach left 10‸ right 9\n${chartText(wide).replace("‸", "")}`)).toEqual([
      "Revoice the chart for a left hand that reaches a tenth and a right hand that reaches a ninth",
    ]);
  });

  test("leaves nothing that a hand can't hold, and says the reach at the chart's head", () => {
    const after = acted(wide.replace("‸", "").replace("1+>3", "1+>‸3"), ninth);
    expect(after).toMatch(/^reach 9$/m);
    const codes = openDocument("chart.plagal", after).problems.map(({ code }) => code);
    expect(codes).not.toContain("hand-span");
  });

  test("is offered for hands one key smaller too where all is asked for", () => {
    const all = revoiceTitles(wide, ["refactor.rewrite"]);
    expect(all).toEqual([ninth, "Revoice the chart for hands that reach an octave"]);
    expect(acted(wide, all[1] ?? "", { only: ["refactor.rewrite"] })).toMatch(/^reach 8$/m);
    expect(revoiceTitles(`reach 5\n${chartText(wide)}`, ["refactor.rewrite"])).toEqual([
      "Revoice the chart for hands that reach a fifth",
    ]);
  });
});

test("what changed is told with its line, as it is counted below the new one at the head", () => {
  const document = openDocument("chart.plagal", chartText(wide).replace("‸", ""));
  const change = revoice(document, { left: 8, right: 8 });
  if ("refused" in change) throw new Error(change.refused);
  expect(change.notes.join("\n")).toMatch(/^Line 6: C2 E3 in the left hand: /m);
});

test("a setting that says another reach and wins is named", () => {
  const text = chartText(wide).replace("‸", "");
  const set = openDocument("chart.plagal", text, undefined, {
    severities: {},
    reach: { left: 10, right: undefined },
  });
  const change = revoice(set, { left: 8, right: 8 });
  if ("refused" in change) throw new Error(change.refused);
  expect(change.notes.at(-1)).toBe(
    "Your setting plagal.reach.left says a tenth and wins over the chart: change it, or the chart is still judged by it.",
  );
  expect(changed(set, change)).toMatch(/^reach 8$/m);
});

test("one hand alone is asked for, and the other keeps its reach", () => {
  const document = openDocument("chart.plagal", `reach left 10 right 9\n${chartText(wide).replace("‸", "")}`);
  expect(changed(document, revoice(document, { left: 8 }))).toMatch(/^reach left 8 right 9$/m);
});

test("a wish is a whole number from 5 to 15 for a hand or both, and nothing else", () => {
  expect(reachWish({ left: 8 })).toEqual({ left: 8 });
  expect(reachWish({ left: 5, right: 15 })).toEqual({ left: 5, right: 15 });
  expect(reachWish({ left: 8, right: null })).toEqual({ left: 8 });
  for (const none of [
    undefined,
    null,
    8,
    "8",
    {},
    { left: "8" },
    { left: 4 },
    { left: 8, right: 16 },
    { left: 8.5 },
  ])
    expect(reachWish(none)).toBe(undefined);
});
