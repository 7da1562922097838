import { expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { keyChoices } from "../../server/src/features/keys.js";
import { move } from "../../server/src/features/move.js";
import { newChart } from "../../server/src/features/new-chart.js";
import { sectionScope, wholeChart } from "../../server/src/features/scope.js";
import { plainText } from "../../server/src/features/snippet.js";
import { changed } from "../support/change-chart.js";
import { chartText } from "../support/edit-chart.js";

const text = chartText(`
  key Eb
  section Verse
  chords | 1 | 4 |
  lead   | 1 5 | 3 >1 |
  section Tag
  key F
  lead   | 3 2 |
`);
const document = openDocument("chart.plagal", text);

const table = (choices: ReturnType<typeof keyChoices>): string =>
  choices
    .map(({ key, name, signature, interval, lowest, highest }) =>
      [key, name, signature, interval, lowest, highest].join(", "),
    )
    .join("\n");

test("the keys of a chart come from the present one on, with what the singer sings there", () => {
  expect(table(keyChoices(document, wholeChart))).toBe(
    chartText(`
      Eb, E♭ major, 3 flats, where it is, E♭4, E♭5
      E, E major, 4 sharps, up a half step, E4, E5
      F, F major, 1 flat, up a whole step, F4, F5
      Gb, G♭ major, 6 flats, up a minor third, G♭4, G♭5
      G, G major, 1 sharp, up a major third, G4, G5
      Ab, A♭ major, 4 flats, up a fourth, A♭4, A♭5
      A, A major, 3 sharps, down a tritone, A3, A4
      Bb, B♭ major, 2 flats, down a fourth, B♭3, B♭4
      B, B major, 5 sharps, down a major third, B3, B4
      C, C major, no sharps or flats, down a minor third, C4, C5
      Db, D♭ major, 5 flats, down a whole step, D♭4, D♭5
      D, D major, 2 sharps, down a half step, D4, D5
    `).trimEnd(),
  );
});

test("the keys of a section count from the key that it starts in, and its own melody", () => {
  const scope = sectionScope(document, text.indexOf("| 3 2 |"));
  const choices = keyChoices(document, scope ?? wholeChart);
  expect(choices.map(({ key }) => key).join(" ")).toBe("F Gb G Ab A Bb B C Db D Eb E");
  expect([choices[0]?.lowest, choices[0]?.highest]).toEqual(["G4", "A4"]);
  expect(choices.filter(({ present }) => present).length).toBe(1);
});

test("each key's notes are those that the move brings", () => {
  for (const scope of [wholeChart, sectionScope(document, text.length - 2) ?? wholeChart]) {
    for (const { key, lowest, highest } of keyChoices(document, scope)) {
      const after = openDocument("chart.plagal", changed(document, move(document, scope, key)));
      const again =
        scope.kind === "chart" ? wholeChart : (sectionScope(after, after.text.length - 2) ?? wholeChart);
      const [present] = keyChoices(after, again);
      expect([present?.key, present?.lowest, present?.highest]).toEqual([key, lowest, highest]);
    }
  }
});

test("where there is no melody there is no range", () => {
  const chords = openDocument("chart.plagal", "section A\nchords | 1 |\n");
  expect(keyChoices(chords, wholeChart)[3]?.lowest).toBeUndefined();
  expect(keyChoices(chords, { kind: "selection", span: { start: 0, end: 1 } })).toEqual([]);
});

test("a key is taken as it is typed, and what is none is refused", () => {
  expect(changed(document, move(document, wholeChart, " a♭"))).toContain("key Ab (original Eb)");
  expect(changed(document, move(document, wholeChart, "H"))).toBe(
    '(“H” is no key. Write a tonic such as Ab, C or F#, or a key such as "C minor".)',
  );
});

test("a move says what it left out of line and what it could not read", () => {
  const chart = openDocument(
    "chart.plagal",
    "key C\nsection A\nchords | C | F |\nright  | 3 | 3 |\nsection B\nright  | 1 | ?! |\n",
  );
  const change = move(chart, wholeChart, "Db");
  expect("notes" in change && change.notes).toEqual([
    "Line 6: “?!” can't be read, so it stays as it is. Mend it before you rely on the moved chart.",
    "Some rows no longer stand in line. Format the chart to line them up.",
  ]);
});

test("a new chart is sound as it is, in any key", () => {
  for (const key of [undefined, "Ab", "F# minor", "nonsense", "D dorian", "B locrian"]) {
    const chart = plainText(newChart(key));
    expect(openDocument("chart.plagal", chart).problems.map(({ message }) => message)).toEqual([]);
  }
  expect(plainText(newChart("Cm"))).toContain("key     C minor\n");
});
