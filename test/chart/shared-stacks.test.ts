import { expect, test } from "vitest";
import type { SlotEvent } from "../../server/src/chart/model.js";
import { openDocument } from "../../server/src/document/document.js";
import { prettyPitch } from "../../server/src/theory/pitch.js";

const slotsOf = (text: string, row: "right" | "left" | "lead" = "right"): readonly SlotEvent[] =>
  openDocument("a.plagal", text).chart.sections[0]?.section.rows[row].slots ?? [];
const keysOf = ({ struck }: SlotEvent): string => struck.map(({ pitch }) => prettyPitch(pitch)).join(" ");

test("equal stacks under equal chords share what they place, and each strikes notes of its own", () => {
  const [first, second, third] = slotsOf(
    "key C\nchords | 1 | 1 | 4 |\nright | 3+5+1 | 3+5+1 | 3+5+1 |\n",
  ) as [SlotEvent, SlotEvent, SlotEvent];
  expect(second.placed).toBe(first.placed);
  expect(second.struck).not.toBe(first.struck);
  expect(second.struck.map(({ at }) => at.n)).toEqual([1, 1, 1]);
  expect(third.placed).not.toBe(first.placed);
  expect([first, second, third].map(keysOf)).toEqual(["E3 G3 C4", "E3 G3 C4", "A3 C4 F4"]);
});

test.each([
  ["another key", "chords | 1 |\nright | k3 |\n\nkey D\nchords | 1 |\nright | k3 |\n", ["E3", "F♯3"]],
  ["octave signs around it", "chords | 1 |\nright | 3 >(3 5) |\n", ["E3", "E4", "G4"]],
  ["another home octave", "chords | 1 |\nright | 3 |\n\nchords | 1 |\nright from C5 | 3 |\n", ["E3", "E5"]],
  ["another chord of one symbol", "chords | 1 2:7 |\nright | 3 3 |\n", ["E3", "F♯3"]],
  ["the chord that comes", "chords | 1 4 |\nright | 3 !3 3 3 |\n", ["E3", "A3", "A3", "A3"]],
])("a stack is placed anew under %s", (_, text, keys) => {
  expect(slotsOf(`key C\n${text}`).map(keysOf)).toEqual(keys);
});

test("what is wrong with a stack is said at each of its places", () => {
  const { problems } = openDocument("a.plagal", "key A minor\nchords | 1 | 1 |\nlead | b3 | b3 |\n");
  expect(problems.map(({ code }) => code)).toEqual(["minor-degree", "minor-degree"]);
});

test("a note that goes on lasts as long, whoever asks for it first", () => {
  const text = "key C\nchords | 1 | 1 |\nright | 3+5+1 - | _3+b7 |\n";
  const slots = slotsOf(text);
  const [first] = slots as [SlotEvent];
  expect(first.lasts).toEqual({ n: 2, d: 1 });
  expect(first.struck.map(({ length }) => `${length.n}/${length.d}`)).toEqual(["2/1", "1/1", "1/1"]);
  expect(slots.map(({ held }) => held.length)).toEqual([0, 3, 1]);
  expect(slots[2]?.held[0]).toBe(first.struck[0]);
});
