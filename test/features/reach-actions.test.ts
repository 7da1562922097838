import { expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { actions } from "../../server/src/features/actions.js";
import { acted, offered } from "../support/change-chart.js";
import { chartText } from "../support/edit-chart.js";

const reachTitles = (chart: string): readonly string[] =>
  offered(chart, { only: ["quickfix"] }).flatMap(({ title }) => (/reaches/.test(title) ? [title] : []));

const tenth = "Say that the left hand reaches a tenth (reach left 10)";

test("a grip that a larger hand holds may be said to be in reach, after all else that mends it", () => {
  const fixes = offered("left | 1+>3‸ |\nchords | 1 |\n", { only: ["quickfix"] });
  expect(fixes.map(({ title }) => title)).toEqual(["Roll it (~)", tenth]);
  expect(fixes.map(({ isPreferred }) => isPreferred)).toEqual([true, false]);
  expect(fixes[1]?.problem?.code).toBe("hand-span");
});

test("it is the least reach that holds the grip in every key that is played, and a twelfth at most", () => {
  expect(reachTitles("chords | 1 |\nleft | 1+>5‸ |\n")).toEqual([
    "Say that the left hand reaches a twelfth (reach left 12)",
  ]);
  expect(reachTitles("chords | 1 |\nleft | 1+>6‸ |\n")).toEqual([]);
  expect(reachTitles("form A A in Db\nsection A\nchords | 1 |\nleft | 1+>3‸ |\n")).toEqual([
    "Say that the left hand reaches an eleventh (reach left 11)",
  ]);
});

test("the line stands below the head, its value in the column of the one above", () => {
  const head = (lines: string): string => `${lines}\nsection A\nchords | 1 |\nleft | 1+>3‸ |\n`;
  const after = (lines: string): string => `${lines}\nsection A\nchords | 1 |\nleft | 1+>3 |\n`;
  expect(acted(head("title   Low Lamp\nkey     C\n; of old\n"), tenth)).toBe(
    after("title   Low Lamp\nkey     C\nreach   left 10\n; of old\n"),
  );
  expect(acted(head("; of old\n"), tenth)).toBe(after("reach left 10\n; of old\n"));
  expect(acted(head("key C\r\n"), tenth)).toBe(after("key C\r\nreach left 10\r\n"));
});

test("a reach line that is there is changed, and keeps what it says of the other hand", () => {
  const chart = (reach: string): string => `
    key C
    ${reach}
    chords | 1 |
    left | 1+>3‸ |
  `;
  const after = (reach: string): string => chartText(chart(reach).replace("‸", ""));
  expect(acted(chart("reach 9 ; mine"), tenth)).toBe(after("reach left 10 right 9 ; mine"));
  expect(acted(chart("reach right 10"), tenth)).toBe(after("reach 10"));
  expect(acted(chart("reach left 9 right 8"), tenth)).toBe(after("reach left 10 right 8"));
});

test("where a setting says the reach, the line would change nothing and isn't offered", () => {
  const text = "left | C2+E3 |\n";
  const titlesAt = (left: number | undefined): readonly string[] => {
    const document = openDocument("chart.plagal", text, undefined, {
      severities: {},
      reach: { left, right: undefined },
    });
    return actions(document, { start: 8, end: 8 }, { only: ["quickfix"] }).map(({ title }) => title);
  };
  expect(titlesAt(undefined)).toEqual(["Roll it (~)", tenth]);
  expect(titlesAt(8)).toEqual(["Roll it (~)"]);
});

test("once it is said, the grip is no problem", () => {
  for (const chart of ["chords | 1 |\nleft | 1+>3‸ |\n", "reach 8\nchords | 1 |\nleft | 1+>3‸ |\n"]) {
    const after = openDocument("chart.plagal", acted(chart, tenth));
    expect(after.problems.filter(({ code }) => code === "hand-span")).toEqual([]);
  }
});
