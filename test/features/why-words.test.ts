import { describe, expect, test } from "vitest";
import { againstWords, differenceWords } from "../../server/src/features/voicing-term-words.js";
import { type Term, weights } from "../../server/src/voicing/costs.js";
import { acted } from "../support/change-chart.js";
import { chartText } from "../support/edit-chart.js";
import { hoverAt } from "../support/hover-text.js";

const terms = Object.keys(weights) as Term[];

/** The chart with the cursor in the nth slot of a row. */
function inSlot(text: string, row: string, nth: number): string {
  const start = text.search(new RegExp(`^${row}`, "m"));
  let at = start;
  for (let i = 0; i <= nth; i++) at = text.indexOf("| ", at + 1);
  return `${text.slice(0, at + 2)}‸${text.slice(at + 2)}`;
}

const chart = `
  key C
  tempo 72
  section Verse
  chords | 2m7‸ | 5:7 | 1maj7 | 6m7 |
  lead   | 4   | 4   | 3     | 3   |
`;
const voiced = acted(chart, "Voice the chords for both hands: drop 2");

describe("pointing at a voiced slot", () => {
  test("says that it is the best, what counts against it, and how the runner-up differs", () => {
    for (const row of ["right", "left"]) {
      for (let i = 0; i < 4; i++) {
        const said = hoverAt(inSlot(voiced, row, i));
        expect(said).toContain("Voiced drop 2: the best of its voicings here.");
        expect(said).toMatch(/^what counts against it +points$|^Nothing counts against it\.$/m);
        expect(said).toMatch(
          /^The runner-up, (?:left|right) hand [A-G].*, is (?:as good|\d+ points? worse)/m,
        );
        expect(said).toContain("“Try the next voicing”");
      }
    }
  });

  test("counts what it says", () => {
    const said = hoverAt(inSlot(voiced, "right", 1)).replace(/^[\s\S]*Voiced/, "");
    const rows = [...said.matchAll(/^(?!what counts|together|The )(.*\S) {2,}(\d+)$/gm)];
    const sum = rows.reduce((all, [, , points]) => all + Number(points), 0);
    expect(rows.length).toBeGreaterThan(1);
    expect(said).toMatch(new RegExp(`^together +${sum}$`, "m"));
  });

  test("after a step to the next voicing says which place that one has, and what is better", () => {
    const stepped = acted(inSlot(voiced, "right", 0), "Try the next voicing of Dm7");
    const said = hoverAt(inSlot(stepped, "right", 0));
    expect(said).toMatch(
      /^Voiced drop 2: (?:number \d+ of its voicings|as good as any of its voicings) here\.$/m,
    );
    expect(said).toMatch(/^The (?:best|runner-up), .*, is (?:\d+ points? better|as good)/m);
  });

  test("says which style took over where the one that was asked for can't serve the chord", () => {
    const fifth = acted(
      "key C\nsection A\nchords | 1:5‸ | 1 |\n",
      "Voice the chords for both hands: two-hand",
    );
    expect(hoverAt(inSlot(fifth, "right", 0))).toContain(
      "C5 can't be voiced as two-hand here, so it is voiced as close: the best of its voicings here.",
    );
    expect(hoverAt(inSlot(fifth, "right", 1))).toContain("Voiced two-hand: the best of its voicings here.");
  });

  test("says that every key was asked for", () => {
    const every = acted(chart, "Voice the chords for both hands: close, playable in every key", {
      only: ["refactor.rewrite"],
    });
    expect(hoverAt(inSlot(every, "right", 0))).toContain(
      "Voiced close: the best of its voicings here that can be played in every key.",
    );
  });
});

test("a slot of the player's own says nothing of the kind", () => {
  const own = chartText(chart).replace("‸", "").concat("right  | b3+5+b7 | 3+5+b7 | 3+5+7 | b3+5+b7 |\n");
  expect(hoverAt(inSlot(own, "right", 0))).not.toContain("oiced");
  // Nor does one that no search in the style would have found.
  const marked = own.replace(/(right.*)\n/, "$1 ; voiced drop 2\n").replace("b3+5+b7 |", "1 |");
  expect(hoverAt(inSlot(marked, "right", 0))).not.toContain("oiced");
});

test.each(terms)("%s is told in words, with its count, and both ways", (term) => {
  for (const count of [1, 4]) {
    expect(againstWords(term, count * weights[term])).toMatch(/^[a-z0-9][^.:_]*[a-z]$/);
  }
  expect(againstWords(term, weights[term])).not.toMatch(/^1 \S*s /);
  const [more, less] = [differenceWords(term, 3), differenceWords(term, -3)];
  expect(more).not.toBe(less);
  for (const words of [more, less]) expect(words).toMatch(/^[a-z][^.:_]*[a-z]$/);
});
