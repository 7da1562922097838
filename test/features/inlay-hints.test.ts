import { expect, test } from "vitest";
import { type HintsWanted, inlayHints } from "../../server/src/features/inlay-hints.js";
import { alone } from "../support/charts-of.js";
import { marked } from "../support/marked.js";

/** The chart with its hints in braces, for what is marked or for all of it. */
function hinted(chart: string, wanted: HintsWanted): string {
  const { text, span } = marked(chart);
  const document = alone(text).at("chart.plagal");
  let shown = "";
  let at = 0;
  for (const hint of inlayHints(document, span ?? { start: 0, end: document.text.length }, wanted)) {
    shown += `${document.text.slice(at, hint.at)}{${hint.text}}`;
    at = hint.at;
  }
  return shown + document.text.slice(at);
}

const chart = `
  key Eb
  chords 5:7 | 1 4maj7/5 Bb7 / | % | /7 |
  lead   5   | 3 - G4 | % | r |
  right      | 3+5+b9 _7+5 = Bb | (1 >3) 2~3 | NC |
`;

test("no hint is shown unless it is asked for", () => {
  expect(hinted(chart, {})).toBe(hinted(chart, { notes: false, letters: false }));
  expect(hinted(chart, {})).not.toContain("{");
});

test("fingers stand behind what a hand strikes, behind the notes where both are asked for", () => {
  const hands = `
    key C
    chords | 1 | 4 5 |
    lead   | 1 | 1 2 |
    right  | 3+5+1 | = G3+B+D4 |
    left   | 1+5   | 1+>3 ~1+>3 |
  `;
  expect(hinted(hands, { fingering: true })).toBe(
    `key C
chords | 1 | 4 5 |
lead   | 1 | 1 2 |
right  | 3+5+1{1 2 5} | = G3+B+D4{1 3 5} |
left   | 1+5{5 1}   | 1+>3 ~1+>3 |
`,
  );
  expect(hinted(hands, { fingering: true, notes: true })).toContain("3+5+1{E G C · 1 2 5}");
});

test("notes stand behind stacks of numbers, from the lowest up, and not behind letters, signs and repeats", () => {
  expect(hinted(chart, { notes: true })).toBe(
    `key Eb
chords 5:7 | 1 4maj7/5 Bb7 / | % | /7 |
lead   5{B♭}   | 3{G} - G4 | % | r |
right      | 3+5+b9{G B♭ F♭} _7+5{G E♭} = Bb | (1{E♭} >3{C}) 2~3{D} | NC |
`,
  );
});

test("letters stand behind chords that are written as numbers", () => {
  expect(hinted(chart, { letters: true })).toBe(`key Eb
chords 5:7{B♭7} | 1{E♭} 4maj7/5{A♭maj7/B♭} Bb7 / | % | /7{B♭7/D} |
lead   5   | 3 - G4 | % | r |
right      | 3+5+b9 _7+5 = Bb | (1 >3) 2~3 | NC |
`);
});

test("only what lies in the range is told", () => {
  expect(hinted("chords | 1 |\n\n⟦chords | 4 |\n⟧\nchords | 5 |\n", { letters: true })).toBe(
    "chords | 1 |\n\nchords | 4{F} |\n\nchords | 5 |\n",
  );
  expect(hinted("section A\nchords | 1 |\nsection B\nchords | ⟦4⟧ 5 |\n", { letters: true })).toBe(
    "section A\nchords | 1 |\nsection B\nchords | 4{F} 5 |\n",
  );
});
