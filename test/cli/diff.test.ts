import { expect, test } from "vitest";
import { unifiedDiff } from "../../server/src/cli/diff.js";

const lines = (text: string): string[] => text.split(/(?<=\n)/);

test("equal texts have no difference", () => {
  expect(unifiedDiff("a", lines("x\ny\n"), lines("x\ny\n"))).toBe("");
});

test("changes stand with three lines around, far ones apart", () => {
  const before = Array.from({ length: 20 }, (_, i) => `line ${i + 1}\n`);
  const after = before.map((line, i) => (i === 1 || i === 2 || i === 15 ? line.toUpperCase() : line));
  expect(unifiedDiff("a.plagal", before, after)).toBe(
    [
      "--- a.plagal",
      "+++ a.plagal (formatted)",
      "@@ -1,6 +1,6 @@",
      " line 1",
      "-line 2",
      "-line 3",
      "+LINE 2",
      "+LINE 3",
      " line 4",
      " line 5",
      " line 6",
      "@@ -13,7 +13,7 @@",
      " line 13",
      " line 14",
      " line 15",
      "-line 16",
      "+LINE 16",
      " line 17",
      " line 18",
      " line 19",
      "",
    ].join("\n"),
  );
});

test("a last line without a line end says so", () => {
  expect(unifiedDiff("a", ["x "], ["x"])).toBe(
    "--- a\n+++ a (formatted)\n@@ -1,1 +1,1 @@\n-x \n\\ No newline at end of file\n+x\n\\ No newline at end of file\n",
  );
});
