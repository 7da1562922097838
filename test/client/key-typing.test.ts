import { describe, expect, test } from "vitest";
import {
  allKeys,
  type KeyRow,
  readTypedKey,
  readTypedSteps,
  rowsFor,
  tonicClass,
} from "../../client/key-typing.js";

const names = "E♭ E F G♭ G A♭ A B♭ B C D♭ D".split(" ");
const rows: readonly KeyRow[] = names.map((name, i) => ({
  key: name.replace("♭", "b"),
  name: `${name} major`,
  facts: i === 0 ? "3 flats · the present key" : `${i === 4 ? "1 sharp · up a major third" : "…"}`,
  melody: `Melody from ${name}4 to ${name}5`,
  present: i === 0,
}));
const found = (typed: string): string[] => rowsFor(rows, typed).map(({ name }) => name);

describe("what is typed into the key picker", () => {
  test.each([
    ["", names.map((it) => `${it} major`)],
    ["Eb", ["E♭ major"]],
    ["e♭", ["E♭ major"]],
    ["e flat", ["E♭ major"]],
    ["eflat major", ["E♭ major"]],
    ["B", ["B major", "B♭ major"]],
    ["b", ["B major", "B♭ major"]],
    ["bb", ["B♭ major"]],
    ["g", ["G major", "G♭ major"]],
    ["up 2", ["F major"]],
    ["+2", ["F major"]],
    ["up whole", ["F major"]],
    ["up a half step", ["E major"]],
    ["down 3", ["C major"]],
    ["-3", ["C major"]],
    ["up 12", ["E♭ major"]],
    ["major third", ["G major"]],
    ["1 sharp", ["G major"]],
    ["Db4", ["D♭ major"]],
    ["nonsense", []],
  ])("“%s” finds %j", (typed, wanted) => {
    expect(found(typed)).toEqual(wanted);
  });

  test("a name that the list doesn't use is taken as it is, and said to sound like the listed one", () => {
    expect(rowsFor(rows, "F#")).toMatchObject([{ key: "F#", name: "F♯ major", facts: "sounds as G♭ major" }]);
    expect(rowsFor(rows, "c sharp")[0]).toMatchObject({ key: "C#", name: "C♯ major" });
  });

  test("another mode finds the key in the mode that stays, and says so", () => {
    const [row] = rowsFor(rows, "E♭ minor");
    expect(row).toMatchObject({
      key: "Eb",
      name: "E♭ major",
      remark: "A move keeps the mode: it stays major.",
    });
    expect(rowsFor(rows, "G maj")[0]?.remark).toBeUndefined();
    expect(rowsFor(rows, "Gm")[0]?.remark).toMatch(/stays major/);
  });

  test("a mode that is half typed counts", () => {
    expect(readTypedKey("C min")).toEqual({ tonic: "C", mode: "minor" });
    expect(readTypedKey("C dor")).toEqual({ tonic: "C", mode: "dorian" });
    expect(readTypedKey("Cm")).toEqual({ tonic: "C", mode: "minor" });
    expect(readTypedKey("CM")).toEqual({ tonic: "C", mode: "major" });
    expect(readTypedKey("Cx")).toBeUndefined();
  });

  test("a distance needs its way", () => {
    expect(readTypedSteps("2")).toBeUndefined();
    expect(readTypedSteps("up")).toBeUndefined();
    expect(readTypedSteps("down half")).toBe(-1);
  });
});

describe("the keys for all charts", () => {
  test("are each of the twelve once, in the order of the keyboard", () => {
    expect(allKeys.map(({ name }) => tonicClass(name))).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(allKeys.map(({ key }) => tonicClass(key))).toEqual(allKeys.map(({ name }) => tonicClass(name)));
  });
});
