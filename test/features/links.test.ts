import { expect, test } from "vitest";
import { links } from "../../server/src/features/links.js";
import { chartsOf } from "../support/charts-of.js";
import { withSpans } from "../support/with-spans.js";

test("a use line's path opens its chart; one that isn't there, or is this chart, opens nothing", () => {
  const text = 'use "tags.plagal"\nuse "none.plagal"\nuse "chart.plagal"\nuse ""\n';
  const charts = chartsOf({ "chart.plagal": text, "tags.plagal": "section Tag\n" });
  const found = links(charts.at("chart.plagal"), charts);
  expect(found.map(({ path }) => path)).toEqual(["tags.plagal"]);
  expect(
    withSpans(
      text,
      found.map(({ span }) => span),
    ),
  ).toBe(text.replace("tags.plagal", "⟦tags.plagal⟧"));
});
