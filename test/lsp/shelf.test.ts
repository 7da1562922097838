import { expect, test } from "vitest";
import type { FileRead } from "../../server/src/lsp/host.js";
import { makeShelf } from "../../server/src/lsp/shelf.js";

const text = (it: string): FileRead => ({ kind: "text", text: it });

test("a file is read once however often it is asked for, and again when it has changed", async () => {
  const reads: string[] = [];
  const shelf = makeShelf(async (name) => {
    reads.push(name);
    return text(`${reads.length}`);
  });
  expect(shelf.get("a")).toBe(undefined);
  await Promise.all([shelf.read("a", []), shelf.read("a", [])]);
  await shelf.read("a", []);
  expect([shelf.get("a"), reads]).toEqual([text("1"), ["a"]]);
  shelf.forget("a");
  expect(shelf.get("a")).toBe(undefined);
  await shelf.read("a", []);
  expect(shelf.get("a")).toEqual(text("2"));
});

test("what was read before a change never counts after it", async () => {
  const waiting: ((it: FileRead) => void)[] = [];
  const shelf = makeShelf(() => new Promise((done) => waiting.push(done)));
  const first = shelf.read("a", []);
  shelf.forget("a");
  const second = shelf.read("a", []);
  waiting[1]?.(text("new"));
  await second;
  waiting[0]?.(text("old"));
  await first;
  expect(shelf.get("a")).toEqual(text("new"));
});

test("a file that can't be read is one, and reading anew says whether it is another", async () => {
  let answer: FileRead | undefined = text("x");
  const shelf = makeShelf(async () => {
    if (answer === undefined) throw new Error("gone");
    return answer;
  });
  expect(await shelf.readAgain("a", [])).toBe(true);
  expect(await shelf.readAgain("a", [])).toBe(false);
  answer = undefined;
  expect(await shelf.readAgain("a", [])).toBe(true);
  expect(shelf.get("a")).toEqual({ kind: "unreadable" });
  shelf.forget("a");
  await shelf.read("a", []);
  expect(shelf.get("a")).toEqual({ kind: "unreadable" });
});
