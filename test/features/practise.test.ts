import { expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { endPractice, type PractiseOrder, practise } from "../../server/src/features/practise.js";
import { pitchClass } from "../../server/src/theory/note-name.js";
import { changed } from "../support/change-chart.js";
import { chartText } from "../support/edit-chart.js";

const text = chartText(`
  title Low Tide
  key   Eb

  section Verse
  chords | 1 | 4 |
  section Last Verse
  chords | 1 | 5 |
`);

function practised(before: string, order: PractiseOrder, seed = 1): string {
  const document = openDocument("chart.plagal", before);
  const after = changed(document, practise(document, order, seed));
  expect(openDocument("chart.plagal", after).problems.map(({ message }) => message)).toEqual(
    document.problems.map(({ message }) => message),
  );
  return after;
}

const keysOf = (chart: string): readonly number[] =>
  openDocument("chart.plagal", chart).chart.form.map(({ moved }) => pitchClass(moved.key.tonic));

test("round the fourths every key is played once, from the chart's own", () => {
  expect(practised(text, "fourths")).toBe(
    chartText(`
  title Low Tide
  key   Eb
  form Verse "Last Verse"  ; practice
  form Verse in Ab "Last Verse" in Ab  ; practice
  form Verse in Db "Last Verse" in Db  ; practice
  form Verse in Gb "Last Verse" in Gb  ; practice
  form Verse in B "Last Verse" in B  ; practice
  form Verse in E "Last Verse" in E  ; practice
  form Verse in A "Last Verse" in A  ; practice
  form Verse in D "Last Verse" in D  ; practice
  form Verse in G "Last Verse" in G  ; practice
  form Verse in C "Last Verse" in C  ; practice
  form Verse in F "Last Verse" in F  ; practice
  form Verse in Bb "Last Verse" in Bb  ; practice

  section Verse
  chords | 1 | 4 |
  section Last Verse
  chords | 1 | 5 |
`),
  );
});

test("by half steps the keys go up", () => {
  const keys = keysOf(practised(text, "half-steps")).filter((_, i) => i % 2 === 0);
  expect(keys).toEqual([3, 4, 5, 6, 7, 8, 9, 10, 11, 0, 1, 2]);
});

test("shuffled, every key comes once, the chart's own first, and the same seed shuffles alike", () => {
  const orders = [1, 2, 3].map((seed) =>
    keysOf(practised(text, "shuffled", seed)).filter((_, i) => i % 2 === 0),
  );
  for (const keys of orders) {
    expect(keys[0]).toBe(3);
    expect([...keys].sort((a, b) => a - b)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
  }
  expect(new Set(orders.map(String)).size).toBe(3);
  expect(practised(text, "shuffled", 7)).toBe(practised(text, "shuffled", 7));
  for (const seed of [0, -3, 1.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53])
    practised(text, "shuffled", seed);
});

test("the form that is written stays, its moves and counts go along", () => {
  const chart = `${text}form Verse x2 "Last Verse" up half\n`;
  const lines = practised(chart, "fourths")
    .split("\n")
    .filter((line) => line.startsWith("form"));
  expect(lines[0]).toBe('form Verse x2 "Last Verse" up half');
  expect(lines[1]).toBe('form Verse x2 in Ab "Last Verse" in A  ; practice');
  expect(lines.length).toBe(12);
});

test("another practice takes the place of the first, and its end brings the chart back", () => {
  const chart = `${text}form Verse\n`;
  for (const before of [text, chart]) {
    const once = practised(before, "fourths");
    const twice = practised(once, "half-steps");
    expect(twice).toBe(practised(before, "half-steps"));
    const document = openDocument("chart.plagal", twice);
    expect(changed(document, endPractice(document))).toBe(before);
  }
});

test("line ends stay as they are", () => {
  expect(practised(text.replaceAll("\n", "\r\n"), "fourths")).not.toMatch(/[^\r]\n/);
});

test("a chart without a name to play is refused with the reason", () => {
  const nameless = openDocument("chart.plagal", "chords | 1 |\n");
  expect(changed(nameless, practise(nameless, "fourths", 1))).toMatch(/^\(Bars before the first section/);
  const empty = openDocument("chart.plagal", "");
  expect(changed(empty, practise(empty, "fourths", 1))).toMatch(/^\(There is no section/);
});
