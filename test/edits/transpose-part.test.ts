import { describe, expect, test } from "vitest";
import { transposeSection, transposeSelection } from "../../server/src/edits/transpose-part.js";
import { readName } from "../../server/src/theory/note-name.js";
import { chartText, edited } from "../support/edit-chart.js";

const tonic = (name: string) => ({ tonic: readName(name) as number, mode: undefined });

const section = (text: string, name: string, key: string): string =>
  edited(chartText(text), (document) => {
    const placed = document.chart.sections.find((it) => it.section.name === name);
    if (placed === undefined) throw new Error(`no section ${name}`);
    return transposeSection(document, placed, tonic(key));
  });

/** Moves what stands between two `^`. */
const selection = (text: string, key: string): string => {
  const marked = chartText(text);
  const start = marked.indexOf("^");
  const end = marked.lastIndexOf("^") - 1;
  return edited(marked.replaceAll("^", ""), (document) =>
    transposeSelection(document, { start, end }, tonic(key)),
  );
};

describe("a section", () => {
  test("gets a key line above its rows, and its letters move", () => {
    expect(
      section(
        `
        key C
        section A
        lands 1
        chords | C | 4 |
        right  | E4+G4 | 3 |
        section B
        chords | C |
        `,
        "A",
        "D",
      ),
    ).toBe(
      chartText(`
        key C
        section A
        lands 1
        key D major
        chords | D | 4 |
        right  | F#4+A4 | 3 |
        section B
        chords | C |
      `),
    );
  });

  test("with a key line of its own has that line changed, and later keys follow", () => {
    expect(section("section A\nkey F\nchords | F |\nkey G\nchords | D7 |\n", "A", "G")).toBe(
      "section A\nkey G\nchords | G |\nkey A\nchords | E7 |\n",
    );
  });

  test("without a name can't have a key of its own", () => {
    expect(section("chords | C |\n", "", "D")).toMatch(/section Verse/);
  });

  test("without rows has nothing to move", () => {
    expect(section("section A\n", "A", "D")).toMatch(/no rows/);
  });
});

describe("a selection", () => {
  test("widens to whole systems, with the key before and the old one after", () => {
    expect(
      selection(
        `
        section A
        chords | C |

        chords | ^F^ |
        right  | A4 |

        chords | 1 |
        `,
        "D",
      ),
    ).toBe(
      chartText(`
        section A
        chords | C |

        key D major
        chords | G |
        right  | B4 |
        key C major

        chords | 1 |
      `),
    );
  });

  test("that goes on with a chord from outside is refused, and says what to do", () => {
    expect(selection("section A\nchords | 1 |\n\nchords | / |\n^right | 3 |^\n", "D")).toMatch(
      /would not move with the rest.*Write it out/,
    );
  });

  test("of a whole section is that section's key", () => {
    expect(selection("section A\n^chords | 1 |\nright | C4 |\n^", "E")).toBe(
      "section A\nkey E major\nchords | 1 |\nright | E4 |\n",
    );
  });

  test("of no row at all is refused", () => {
    expect(selection("^title X^\nchords | 1 |\n", "D")).toMatch(/No row/);
  });
});
