import { spawnSync } from "node:child_process";
import { expect, test } from "vitest";
import { serverArguments } from "../../client/server-arguments.node.js";

test.each([
  [1, ["--v8-pool-size=1"]],
  [2, ["--v8-pool-size=1"]],
  [4, ["--v8-pool-size=3"]],
  [5, []],
  [32, []],
])(
  "with %i cores the engine has no more helpers than cores are left, and never more than usual",
  (cores, expected) => {
    expect(serverArguments(cores)).toEqual(expected);
  },
);

test("a Node that doesn't know the option is not given it", () => {
  expect(serverArguments(2, new Set())).toEqual([]);
});

test("Node knows what it is given", () => {
  const { status, stdout } = spawnSync(process.execPath, [...serverArguments(2), "-p", "1 + 1"], {
    encoding: "utf8",
  });
  expect([status, stdout]).toEqual([0, "2\n"]);
});
