import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { check } from "../support/check-chart.js";

describe("missing-file", () => {
  test("tells of a chart that isn't there", () => {
    check(
      "missing-file",
      `
      use "leads.plagal"
           ^^^^^^^^^^^^ There is no chart “leads.plagal”. The path counts from the folder of this chart; …
      section A
      chords | 1 |
      `,
    );
  });

  test.each([
    ["outside", /lies outside this workspace/],
    ["unreadable", /can't be read as a chart/],
  ] as const)("says why a chart that is %s can't be had", (kind, words) => {
    const files = { find: () => ({ kind }) };
    const { problems } = openDocument("a.plagal", 'use "x.plagal"\nsection A\nchords | 1 |\n', files);
    expect(problems.map(({ code }) => code)).toEqual(["missing-file"]);
    expect(problems[0]?.message).toMatch(words);
  });

  test("tells of a chart that brings in itself", () => {
    const text = 'use "a.plagal"\nsection A\nchords | 1 |\n';
    const { problems } = openDocument("a.plagal", text, {
      find: () => ({ kind: "text", path: "a.plagal", text }),
    });
    expect(problems.map(({ message }) => message)).toEqual([expect.stringMatching(/is this chart itself/)]);
  });

  test("is content with a chart that is there", () => {
    check("missing-file", 'use "leads.plagal"\nsection A\nchords | 1 |\n', {
      "leads.plagal": "section B\nchords | 1 |\n",
    });
  });
});
