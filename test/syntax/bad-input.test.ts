import { expect, test } from "vitest";
import { parse } from "../../server/src/syntax/parse.js";
import { print } from "../../server/src/syntax/print.js";

const problemsOf = (text: string) => parse(text).lines.flatMap(({ problems }) => problems);

const long: readonly (readonly [name: string, text: string, problems: number])[] = [
  ["an empty text", "", 0],
  ["a byte order mark", "\uFEFFkey C\n", 0],
  ["10,000 open parentheses", `right | 1 ${"(".repeat(10_000)}\n`, 1],
  ["10,000 closing parentheses", `right | 1 ${")".repeat(10_000)}\n`, 1],
  ["10,000 nested groups", `right | ${"(".repeat(10_000)}1${")".repeat(10_000)} |\n`, 1],
  ["10,000 open parentheses apart", `chords | ${"( ".repeat(10_000)}|\n`, 1],
  ["a chord of 100,000 characters", `chords | ${"1".repeat(100_000)} |`, 1],
  ["a stack of 100,000 characters", `right | ${"3+".repeat(50_000)} |`, 1],
  ["100,000 signs", `right | ${"~".repeat(100_000)} |`, 1],
  ["100,000 bar lines in one", `right 1${"|".repeat(100_000)}`, 0],
  ["100,000 slots", `lead | ${"1 ".repeat(100_000)}|`, 0],
  ["a title of 200,000 characters", `title ${"a ".repeat(100_000)}`, 0],
  ["a word of 100,000 characters", "x".repeat(100_000), 1],
  ["a line of two million characters", `chords | ${"1 ".repeat(1_000_000)}|`, 1],
  ["ten million characters in short lines", "chords | 1 |\n".repeat(770_000), 0],
];

test.each(long)("%s is read without harm", (_, text, problems) => {
  const tree = parse(text);
  expect(tree.lines.flatMap((line) => line.problems)).toHaveLength(problems);
  expect(print(tree) === text).toBe(true);
});

test("a control character is one unknown tone, and the rest of its bar is read", () => {
  const [line] = parse("lead | 1 \u0000 3 |\n").lines;
  if (line?.statement.kind !== "row") throw new Error("not a row");
  const contents = line.statement.bars[0]?.slots.map((slot) =>
    slot.kind === "leaf" ? slot.content.kind : "group",
  );
  expect(contents).toEqual(["stack", "unread", "stack"]);
  expect(line.problems.map(({ code }) => code)).toEqual(["unknown-tone"]);
});

test("messages stay short whatever they quote", () => {
  for (const text of [
    `chords | ${"x".repeat(5000)} |`,
    `right | ${"x".repeat(5000)} |`,
    "y".repeat(5000),
    `key ${"z".repeat(5000)}`,
  ]) {
    for (const { message } of problemsOf(text)) expect(message.length).toBeLessThan(250);
  }
});

test("absurd numbers are mistakes, not values", () => {
  for (const text of [
    "time 99999999999999999999/4",
    `tempo ${"9".repeat(400)}`,
    `form A x${"9".repeat(400)}`,
    `right | ${"9".repeat(400)} |`,
    `right | C${"9".repeat(400)} |`,
    `chords | 1 :|x${"9".repeat(400)}`,
    "reach 999999999999",
  ]) {
    expect(problemsOf(text)).toHaveLength(1);
  }
});
