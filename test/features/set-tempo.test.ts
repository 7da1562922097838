import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { isTempo, setTempo } from "../../server/src/features/set-tempo.js";
import { changed } from "../support/change-chart.js";
import { anyChart } from "../support/generate-chart.js";
import { property } from "../support/property.js";

function at90(text: string): string {
  const document = openDocument("chart.plagal", text);
  const after = changed(document, setTempo(document, 90));
  expect(openDocument("chart.plagal", after).chart.header.tempo).toBe(90);
  return after;
}

describe("the tempo", () => {
  test.each([
    ["nothing", "", "tempo 90\n"],
    ["an empty line", "\n", "tempo 90\n\n"],
    ["music alone", "chords | 1 |\n", "tempo 90\nchords | 1 |\n"],
    ["music alone, lines ended as elsewhere", "chords | 1 |\r\n", "tempo 90\r\nchords | 1 |\r\n"],
    ["a section", "section A\nchords | 1 |", "tempo 90\nsection A\nchords | 1 |"],
    ["a comment", "; old\n", "tempo 90\n; old\n"],
    ["a head", "title A\nkey C\n\nsection A\n", "title A\nkey C\ntempo 90\n\nsection A\n"],
    ["a head in columns", "title   A\nkey     C\n", "title   A\nkey     C\ntempo   90\n"],
    ["a head of Windows", "title A\r\nkey C\r\n", "title A\r\nkey C\r\ntempo 90\r\n"],
    ["a head of Windows with its last line open", "title A\r\nkey C", "title A\r\nkey C\r\ntempo 90"],
    ["a head of old", "title A\rkey C\r", "title A\rkey C\rtempo 90\r"],
    ["an open line", "title A", "title A\ntempo 90"],
    ["a comment behind the head", "key C\n; hm\n\n", "key C\ntempo 90\n; hm\n\n"],
    ["a mark of the encoding", "\uFEFFkey C\n", "\uFEFFkey C\ntempo 90\n"],
    ["a mark of the encoding alone", "\uFEFFchords | 1 |\n", "\uFEFFtempo 90\nchords | 1 |\n"],
  ])("is written into %s", (_, before, after) => {
    expect(at90(before)).toBe(after);
  });

  test.each([
    ["a tempo line", "tempo 72\nkey C\n", "tempo 90\nkey C\n"],
    ["one with all around it", "\ttempo\t72   ; slow\r\n", "\ttempo\t90   ; slow\r\n"],
    ["the first of several", "tempo 70\ntempo 80\n", "tempo 90\ntempo 80\n"],
    ["the first that can be read", "tempo fast\ntempo 80\n", "tempo fast\ntempo 90\n"],
    ["one that can't be read", "tempo fast\nkey C\n", "tempo 90\nkey C\n"],
    ["one that says too much", "tempo 1000\n", "tempo 90\n"],
    ["one of several words", "tempo quite slow ; hm\n", "tempo 90 ; hm\n"],
    ["one with nothing in it", "tempo\nkey C\n", "tempo 90\nkey C\n"],
    ["one with a comment alone", "tempo ; slow\n", "tempo 90 ; slow\n"],
    ["one between rows of the head", "form A\ntempo 40\nsection A\n", "form A\ntempo 90\nsection A\n"],
  ])("takes the place of %s", (_, before, after) => {
    expect(at90(before)).toBe(after);
  });

  test("that is there already changes nothing, and nothing is said", () => {
    const text = "tempo 90\nsection A\ntempo 60\nchords | 1 |\n";
    expect(setTempo(openDocument("chart.plagal", text), 90)).toEqual({ edits: [], notes: [] });
  });

  test("of a section stays, and that is said", () => {
    const text = "tempo 72\nchords | 1 |\ntempo 66\nchords | 1 |\nsection Verse\ntempo 60\nchords | 1 |\n";
    const document = openDocument("chart.plagal", text);
    const change = setTempo(document, 90);
    expect(changed(document, change)).toBe(text.replace("72", "90"));
    expect(change).toMatchObject({
      notes: [
        "The music before the first section has a tempo line of its own and keeps it.",
        "Verse has a tempo line of its own and keeps it.",
      ],
    });
  });

  test("of a section that stands in another file is not spoken of", () => {
    const files = {
      find: () => ({ kind: "text", path: "b.plagal", text: "section B\ntempo 60\nchords | 1 |\n" }) as const,
    };
    const document = openDocument("chart.plagal", 'use "b.plagal"\nform B\n', files);
    const change = setTempo(document, 90);
    expect(change).toMatchObject({ notes: [] });
    expect(changed(document, change)).toBe('tempo 90\nuse "b.plagal"\nform B\n');
  });

  test.each([[1], [72], [999]])("may be %d", (it) => expect(isTempo(it)).toBe(true));
  test.each([[0], [1000], [72.5], [-3], [Number.NaN], ["72"], [null], [undefined]])("isn't %j", (it) =>
    expect(isTempo(it)).toBe(false),
  );
});

property(
  "a tempo is one edit, it is what the chart says then, and all other lines stay",
  fc.tuple(anyChart(), fc.integer({ min: 1, max: 999 })),
  200,
  ([text, tempo]) => {
    const document = openDocument("chart.plagal", text);
    const change = setTempo(document, tempo);
    const after = openDocument("chart.plagal", changed(document, change));
    expect(after.chart.header.tempo).toBe(tempo);
    const others = (it: string): string =>
      it
        .replace(/^[ \t]*tempo\b.*$/gm, "")
        .replace(/\s+/g, " ")
        .trim();
    expect(others(after.text)).toBe(others(text));
    const again = setTempo(after, tempo);
    expect(again).toEqual({ edits: [], notes: [] });
  },
);
