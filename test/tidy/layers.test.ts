import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { describe, expect, test } from "vitest";
import { root } from "../support/root.js";

/** The house as DEVELOPERS.md draws it: each room with the rooms that it may import from. */
function readHouse(): ReadonlyMap<string, ReadonlySet<string>> {
  const house = new Map<string, ReadonlySet<string>>();
  for (const line of readFileSync(join(root, "DEVELOPERS.md"), "utf8").split("\n")) {
    const found = /^\| `([a-z]+)` ← ([^|]*)\|/.exec(line);
    if (found === null) continue;
    const [, room, from] = found as unknown as [string, string, string];
    house.set(room, new Set(from.match(/[a-z]+/g) ?? []));
  }
  return house;
}

/** Packages that one room alone may import. */
const keepers: ReadonlyMap<string, string> = new Map([
  ["chevrotain", "syntax"],
  ["pdf-lib", "exports"],
  ["vscode-languageserver", "lsp"],
]);

interface Import {
  readonly file: string;
  readonly room: string;
  readonly target: string;
}

function* sources(folder: string): Generator<string> {
  for (const entry of readdirSync(join(root, folder), { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) yield* sources(path);
    else if (path.endsWith(".ts")) yield path;
  }
}

/** The room of a file: its folder below server/src, or grammar. */
const roomOf = (file: string): string => {
  const [top, , room] = file.split(sep) as [string, string, string];
  return top === "server" ? room : top;
};

/** Imports at a file's head, and those that load something later. */
const forms = [/^(?:import|export)\b(?:[^;"]*\bfrom)? "([^"\s]+)"/gm, /\bimport\("([^"\s]+)"\)/g];

function imports(): Import[] {
  const found: Import[] = [];
  for (const file of [...sources("server/src"), ...sources("grammar")]) {
    const text = readFileSync(join(root, file), "utf8");
    for (const form of forms) {
      for (const [, target] of text.matchAll(form))
        found.push({ file, room: roomOf(file), target: target as string });
    }
  }
  return found;
}

const house = readHouse();
const all = imports();

describe("the house", () => {
  test("is drawn in DEVELOPERS.md with every room that there is", () => {
    const rooms = new Set(all.map(({ room }) => room));
    expect([...house.keys()].sort()).toEqual([...rooms].sort());
  });

  test("has its rooms in layer order: each imports from rooms above it in the table alone", () => {
    const order = [...house.keys()];
    for (const [room, from] of house) {
      for (const other of from)
        expect(order.indexOf(other), `${room} ← ${other}`).toBeLessThan(order.indexOf(room));
    }
  });

  test("lets no file import from a room that its own may not", () => {
    const wrong = all.filter(({ file, room, target }) => {
      if (!target.startsWith(".")) return false;
      const other = roomOf(relative(root, join(root, file, "..", target)));
      return other !== room && house.get(room)?.has(other) !== true;
    });
    expect(wrong).toEqual([]);
  });

  test("keeps Node and packages out of the pure rooms, apart from their keepers", () => {
    const wrong = all.filter(({ room, target }) => {
      if (target.startsWith(".") || room === "main") return false;
      return keepers.get(target) !== room;
    });
    expect(wrong).toEqual([]);
  });

  test("names a file for its main export, and has no barrel", () => {
    for (const file of sources("server/src")) {
      expect(file, "a barrel").not.toMatch(/index\.ts$|utils?\.ts$|helpers?\.ts$/);
      expect(readFileSync(join(root, file), "utf8"), file).not.toMatch(/^export \* from/m);
    }
  });
});
