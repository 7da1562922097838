import { expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { acted, offered } from "../support/change-chart.js";
import { chartText } from "../support/edit-chart.js";

const asBars = "Make a row of these chords, one in each bar";
const asSections = "Make sections of these chords and words";

function becomes(title: string, before: string, after: string): void {
  const text = acted(before, title);
  expect(text).toBe(chartText(after));
  const errors = openDocument("chart.plagal", text).problems.filter(({ severity }) => severity === "error");
  expect(errors.map(({ message }) => message)).toEqual([]);
}

test("chords typed without bars get one bar each", () => {
  becomes(
    asBars,
    `
    key C
    section Verse
    C G/B Am‸ F
    `,
    `
    key C
    section Verse
    chords  | C | G/B | Am | F |
    `,
  );
});

test("a comment and the indentation stay where they are", () => {
  becomes(
    asBars,
    `
    section Verse
      C ‸G  ; slow
    `,
    `
    section Verse
      chords  | C | G |  ; slow
    `,
  );
});

test("numbers and slashes are chords too", () => {
  becomes(asBars, "1‸ / 4 6m 5:7sus\n", "chords  | 1 / | 4 | 6m | 5:7sus |\n");
});

test("bar lines that are there stay", () => {
  becomes(asBars, "C‸ | G Am | | F |\n", "chords  | C | G Am | | F |\n");
});

test("a row of chords without bar lines gets them", () => {
  becomes(asBars, "chords C G/B A‸m F\n", "chords  | C | G/B | Am | F |\n");
});

test("words are no chords", () => {
  expect(offered("Come and‸ sing\n", { only: ["quickfix"] }).map(({ title }) => title)).not.toContain(asBars);
});

test("pasted chords over words become a section, each word under its chord", () => {
  becomes(
    asSections,
    `
    key C

    [Verse]
    C‸           G/B
    Harbour light is fading slow
    Am      F
    Evening lands
    `,
    `
    key C

    section Verse
    chords  | C             | G/B            |
    words   | Harbour light | is fading slow |

    chords  | Am      | F     |
    words   | Evening | lands |
    `,
  );
});

test("a chord over the middle of a word parts it where a syllable may start", () => {
  becomes(
    asSections,
    `
    section Verse
    C  ‸ F  G
    Evening light
    `,
    `
    section Verse
    chords  | C     | F   | G     |
    words   | Even- | ing | light |
    `,
  );
});

test("a chord that stands a letter beside a word's start takes the whole word", () => {
  becomes(
    asSections,
    `
    section Verse
    C ‸       F
    Slow the stone
    `,
    `
    section Verse
    chords  | C        | F     |
    words   | Slow the | stone |
    `,
  );
});

test("words before the first chord stand before the first bar line", () => {
  becomes(
    asSections,
    `
    section Verse
        C‸      F
    The river runs
    `,
    `
    section Verse
    chords      | C     | F    |
    words   The | river | runs |
    `,
  );
});

test("headings become sections, a second one of a name gets a number, and one without music stays as a comment", () => {
  becomes(
    asSections,
    `
    Verse 1:
    C‸     F
    Slow river
    Chorus
    G    C
    Come home
    Verse 2:
    C    F
    Low  tide
    [Chorus]
    `,
    `
    section Verse 1
    chords  | C    | F     |
    words   | Slow | river |
    section Chorus
    chords  | G    | C    |
    words   | Come | home |
    section Verse 2
    chords  | C   | F    |
    words   | Low | tide |
    ; [Chorus]
    `,
  );
});

test("what can't be read stays as a comment, and the head's lines are taken", () => {
  becomes(
    asSections,
    `
    Title: Low Tide
    Key: G
    Capo 3
    G‸   D
    Home again
    And one more line without chords
    `,
    `
    title   Low Tide
    key     G
    ; Capo 3
    section Verse
    chords  | G    | D     |
    words   | Home | again |
    ; And one more line without chords
    `,
  );
});

test("numbered lines under one line of chords are its verses", () => {
  becomes(
    asSections,
    `
    section Verse
       C‸    F
    1. Slow  river
    2. Low   tide
    `,
    `
    section Verse
    chords  | C    | F     |
    words   | Slow | river |
    words   | Low  | tide  |
    `,
  );
});

test("words that begin like a line of the chart are words where chords stand above them", () => {
  becomes(
    asSections,
    `
    section Verse
    C‸      F
    by the river
    G     C
    time goes on
    `,
    `
    section Verse
    chords  | C      | F     |
    words   | by the | river |

    chords  | G    | C       |
    words   | time | goes on |
    `,
  );
});

test("lines of chords with bar lines keep them", () => {
  becomes(
    asSections,
    `
    section Verse
    | C‸     G  | Am   |
      Slow  the   river
    `,
    `
    section Verse
    chords  | C G      | Am    |
    words   | Slow the | river |
    `,
  );
});

test("words with a sign that a row can't hold stay as a comment", () => {
  becomes(
    asSections,
    `
    section Verse
    C‸    F
    Slow | river
    `,
    `
    section Verse
    chords  | C | F |
    ; Slow | river
    `,
  );
});

test("a selection is read alone", () => {
  becomes(
    asSections,
    `
    section Verse
    ⟦C     F
    Slow  river⟧

    ; a word
    `,
    `
    section Verse
    chords  | C    | F     |
    words   | Slow | river |

    ; a word
    `,
  );
});

test("a tab reaches as far as an editor shows it", () => {
  becomes(
    asSections,
    "section Verse\nC‸\tF\nSlow and river\n",
    "section Verse\nchords  | C        | F     |\nwords   | Slow and | river |\n",
  );
});

test("a line of chords alone offers no sections", () => {
  const titles = offered("C‸ F G\n", { only: ["quickfix"] }).map(({ title }) => title);
  expect(titles).toContain(asBars);
  expect(titles).not.toContain(asSections);
});
