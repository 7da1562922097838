import { describe, expect, test } from "vitest";
import { folderOf, follow, isInside, nameOfUri, pathTo } from "../../server/src/lsp/uri.js";

describe("one file has one name", () => {
  test.each([
    ["file:///c%3A/charts/a.plagal", "file:///C:/charts/a.plagal"],
    ["file:///charts/a%20b.plagal", "file:///charts/a b.plagal"],
    ["file:///charts/h%C3%A9.plagal", "file:///charts/hé.plagal"],
    ["FILE:///charts/a%2dplagal", "file:///charts/a-plagal"],
    ["vscode-vfs://github/x/a.plagal#L3", "vscode-vfs://github/x/a.plagal"],
  ])("%s and %s", (a, b) => {
    expect(nameOfUri(a)).toBe(nameOfUri(b));
    expect(nameOfUri(nameOfUri(a))).toBe(nameOfUri(a));
  });

  test.each([
    ["file:///charts/a.plagal", "file:///charts/A.plagal"],
    ["file:///charts/a.plagal", "vscode-vfs:///charts/a.plagal"],
    ["memfs://one/a.plagal", "memfs://two/a.plagal"],
    ["git:/a.plagal?ref=1", "git:/a.plagal?ref=2"],
    ["file:///charts/a%2Fb.plagal", "file:///charts/a/b.plagal"],
  ])("%s and %s are two", (a, b) => {
    expect(nameOfUri(a)).not.toBe(nameOfUri(b));
  });

  test.each(["", "no uri", "untitled:Untitled-1", "x:%", "file:///%E0%A4%A", "file:///\ud800"])(
    "%j has one too",
    (uri) => {
      expect(nameOfUri(nameOfUri(uri))).toBe(nameOfUri(uri));
    },
  );
});

describe("a path is followed", () => {
  const from = "file:///songs/sunday/a.plagal";
  test.each([
    ["b.plagal", "file:///songs/sunday/b.plagal"],
    ["./b.plagal", "file:///songs/sunday/b.plagal"],
    ["../b.plagal", "file:///songs/b.plagal"],
    ["..\\tags\\b.plagal", "file:///songs/tags/b.plagal"],
    ["x/../y//b.plagal", "file:///songs/sunday/y/b.plagal"],
    ["two words.plagal", "file:///songs/sunday/two%20words.plagal"],
    ["100%.plagal", "file:///songs/sunday/100%25.plagal"],
    ["a#b?.plagal", "file:///songs/sunday/a%23b%3F.plagal"],
    ["../../../b.plagal", undefined],
    ["/etc/passwd", undefined],
    ["\\b.plagal", undefined],
    ["C:\\b.plagal", undefined],
    ["", undefined],
  ])("%j", (path, wanted) => {
    expect(follow(from, path)).toBe(wanted);
  });

  test("under any scheme", () => {
    expect(follow("memfs://place/a.plagal", "x/b.plagal")).toBe("memfs://place/x/b.plagal");
    expect(follow("git:/songs/a.plagal?ref=1", "b.plagal")).toBe("git:/songs/b.plagal");
  });

  test("nowhere from a chart that is in no folder", () => {
    expect(follow("untitled:Untitled-1", "b.plagal")).toBe(undefined);
    expect(folderOf("untitled:Untitled-1")).toBe(undefined);
    expect(folderOf("nothing")).toBe(undefined);
  });
});

test("a folder holds what is below it, and not what only begins like it", () => {
  expect(isInside("file:///songs", "file:///songs/a.plagal")).toBe(true);
  expect(isInside("file:///songs/", "file:///songs/x/a.plagal")).toBe(true);
  expect(isInside("file:///songs", "file:///songs-old/a.plagal")).toBe(false);
  expect(isInside("file:///songs", "memfs:///songs/a.plagal")).toBe(false);
});

describe("the path from a chart to another", () => {
  const from = "file:///songs/sunday/a.plagal";
  test.each([
    ["file:///songs/sunday/b.plagal", "b.plagal"],
    ["file:///songs/sunday/x/b.plagal", "x/b.plagal"],
    ["file:///songs/two%20words.plagal", "../two words.plagal"],
    ["file:///b.plagal", "../../b.plagal"],
  ])("%s leads there", (to, path) => {
    expect(pathTo(from, to)).toBe(path);
    expect(follow(from, path)).toBe(to);
  });

  test("is none between two machines or schemes, or from no folder", () => {
    expect(pathTo(from, "memfs:///songs/b.plagal")).toBe(undefined);
    expect(pathTo("memfs://a/x.plagal", "memfs://b/x.plagal")).toBe(undefined);
    expect(pathTo("untitled:Untitled-1", from)).toBe(undefined);
  });
});
