import { expect, test } from "vitest";
import { functionsOf, openingChord } from "../../server/src/chart/harmony.js";
import type { PlacedSection } from "../../server/src/chart/model.js";
import { type FileFound, openDocument } from "../../server/src/document/document.js";
import { prettyChord } from "../../server/src/theory/chord.js";
import { chartText } from "../support/edit-chart.js";

const open = (text: string, others: Readonly<Record<string, string>> = {}) =>
  openDocument("chart.plagal", chartText(text), {
    find: (_from, path): FileFound => {
      const found = others[path];
      return found === undefined ? { kind: "missing" } : { kind: "text", path, text: chartText(found) };
    },
  }).chart;

/** What every chord of a section does, one line each. */
function functions(text: string, name = "A", others: Readonly<Record<string, string>> = {}): string[] {
  const chart = open(text, others);
  const placed = chart.sections.find(({ section }) => section.name === name);
  if (placed === undefined) throw new Error(`no section ${name}`);
  const found = functionsOf(chart, placed);
  expect(functionsOf(chart, placed)).toBe(found);
  return placed.section.chords.map(
    ({ chord, index }) => `${prettyChord(chord)}: ${(found[index] as { text: string }).text}`,
  );
}

test("a chord is judged by the next one", () => {
  expect(
    functions(`
      section A
      chords | 1 6:7 | 2m7 5:7 | 1 |
    `),
  ).toEqual([
    "C: the 1",
    "A7: dominant of the 2, and goes there",
    "Dm7: the 2",
    "G7: the 5, and goes to the 1",
    "C: the 1",
  ]);
});

test("a chord that goes on as another on its root still goes where that one goes", () => {
  expect(
    functions(`
      section A
      chords | 6:9sus 6:7 | 6:7b9 /5 | 2m7 |
    `).slice(0, 3),
  ).toEqual([
    "A9sus: the 6",
    "A7: dominant of the 2, and goes there",
    "A7♭9: dominant of the 2, and goes there",
  ]);
});

test("the last chord goes to what the form plays next", () => {
  const chart = (form: string) => `
    section A
    chords | 1 6:7 |

    section B
    chords | 2m7 |

    section C
    chords | 4 |

    ${form}
  `;
  const last = (form: string) => functions(chart(form)).at(-1);
  expect(last("form A B A B")).toBe("A7: dominant of the 2, and goes there");
  expect(last("form B A")).toBe("A7: dominant of the 2, which doesn't come");
  expect(last("form A B A C"), "ways that differ").toBe("A7: dominant of the 2, which doesn't come");
  expect(last("form A x2 B"), "a section that is played again first").toBe(
    "A7: dominant of the 2, which doesn't come",
  );
  expect(last("form A Nobody B"), "a name that nobody has").toBe("A7: dominant of the 2, which doesn't come");
  expect(last(""), "as written, without a form").toBe("A7: dominant of the 2, and goes there");
});

test("what follows is heard as it is played there", () => {
  expect(
    functions(`
      section A
      chords | 1 6:7 |

      section B
      chords | 1m |

      form A B in D
    `).at(-1),
  ).toBe("A7: dominant of the 2, and goes there");
});

test("where nothing follows, a lead-in goes to the chord that it lands on", () => {
  const leadIn = `
    section A
    lands 2
    chords | 1 6:7 |
  `;
  expect(functions(leadIn).at(-1)).toBe("A7: dominant of the 2, and goes there");
});

test("sections that are played inside others are followed by what stands there", () => {
  const chart = `
    section Song
    chords | 1 |
    play A
    chords | 2m7 |

    section A
    chords | 6:7 |

    section End
    chords | 4 | 3:7 |
    play Last

    section Last
    chords | 6m |

    form Song End
  `;
  expect(functions(chart)).toEqual(["A7: dominant of the 2, and goes there"]);
  expect(functions(chart, "End").at(-1)).toBe("E7: dominant of the 6, and goes there");
  expect(functions(chart, "Song").at(-1)).toBe("Dm7: the 2");
});

test("before :| a chord goes to the repeat's start, and says so", () => {
  const last = (chords: string) => functions(`section A\nchords ${chords}\n`).at(-1);
  expect(last("|: 4 | 1:7 :|")).toBe("C7: dominant of the 4, and goes there at the start of the repeat");
  expect(last("|: 1 | 5:7 :|x3")).toBe("G7: the 5, and goes to the 1 at the start of the repeat");
  expect(last("| 1 | 4 | 5:7 :|"), "without |:").toBe(
    "G7: the 5, and goes to the 1 at the start of the repeat",
  );
  expect(last("| 1 |: 4 | 5:7 :|")).toBe("G7: the 5");
  expect(last("|: 2m7 | 1 #1dim7 :|")).toBe("C♯dim7: leading-tone chord of the 2 at the start of the repeat");
});

test("a chord before :| is judged by what comes after the repeat too", () => {
  const second = (chords: string) => functions(`section A\nchords ${chords}\n`)[1];
  expect(second("|: 4 | 5:7 :| 1 |")).toBe("G7: the 5, and goes to the 1 after the repeat");
  expect(second("|: 1 | 5:7 :| 1 |")).toBe(
    "G7: the 5, and goes to the 1 at the start of the repeat and after it",
  );
  expect(second("|: 4 | 1:7 :| 6 |")).toBe(
    "C7: dominant of the 4, and goes there at the start of the repeat",
  );
  expect(second("|: 5 | 1:7 :| 6 |")).toBe("C7: dominant of the 4, which doesn't come");
  expect(second("|: 1 | 5:9sus 5:7 :| 6 |")).toBe(
    "G9sus: the 5, and goes to the 1 at the start of the repeat",
  );
  expect(second("|: 1 | 5:7 :|x1 6 |"), "a repeat that is played once").toBe("G7: the 5");
  expect(second("| 4 |: 5:7 :| 1 |"), "a repeat on one root").toBe("G7: the 5, and goes to the 1");
});

test("a chord before two endings says in which of them it gets home", () => {
  const endings = (first: string, second: string) =>
    functions(`section A\nchords |: 4 | 5:7 | 1. ${first} :| 2. ${second} |\n`);
  expect(endings("6", "1")[1]).toBe("G7: the 5, and goes to the 1 in the second ending");
  expect(endings("1", "6")[1]).toBe("G7: the 5, and goes to the 1 in the first ending");
  expect(endings("1", "1")[1]).toBe("G7: the 5, and goes to the 1");
  expect(endings("1:7", "1")[2]).toBe("C7: dominant of the 4, and goes there at the start of the repeat");
  expect(endings("3:7", "6")[2], "a first ending never leads into the second").toBe(
    "E7: dominant of the 6, which doesn't come",
  );
});

test("a repeat at the section's end leads into what the form plays next", () => {
  const chart = (next: string) => `
    section A
    chords |: 4 | 5:7 :|

    section B
    chords | ${next} |

    form A B
  `;
  expect(functions(chart("1"))[1]).toBe("G7: the 5, and goes to the 1 after the repeat");
  expect(functions(chart("6"))[1]).toBe("G7: the 5");
});

test("a pickup isn't what a repeat goes back to", () => {
  expect(functions("section A\nchords (4) |: 1 | 5:7 :|\n").at(-1)).toBe(
    "G7: the 5, and goes to the 1 at the start of the repeat",
  );
});

test("a section of another chart is judged in this chart's key", () => {
  const others = {
    "tags.plagal": `
      key F major
      section Turn
      chords | D7 |
    `,
  };
  const chart = `
    key C major
    use "tags.plagal"
    section A
    chords | 2m7 |
    form Turn A
  `;
  expect(functions(chart, "Turn", others)).toEqual(["A7: dominant of the 2, and goes there"]);
});

test("sections that play each other in a circle have an answer", () => {
  expect(
    functions(`
      section A
      chords | 5:7 |
      play B

      section B
      chords | 1 |
      play A

      form A B
    `),
  ).toEqual(["G7: the 5, and goes to the 1"]);
});

test("a section opens with the chord that sounds in its first bar, if it can be read", () => {
  const opening = (chords: string, bar = 0): string | undefined => {
    const { section } = open(`section A\nchords ${chords}\n`).sections[0] as PlacedSection;
    const event = openingChord(section, bar);
    return event && prettyChord(event.chord);
  };
  expect(opening("| 4 1 |")).toBe("F");
  expect(opening("(5:7) | 1 |")).toBe("C");
  expect(opening("5:7 | / 1 |")).toBe("G7");
  expect(opening("| NC | r 4 |")).toBe("F");
  expect(opening("| 4x 1 |")).toBeUndefined();
  expect(opening("| NC 4x | 1 |")).toBeUndefined();
  expect(opening("| 4x | 1 |", 1)).toBe("C");
  expect(opening("| 4 | / 1 |", 1)).toBe("F");
  expect(opening("| NC |")).toBeUndefined();
  expect(opening("| 1 |", 7)).toBeUndefined();
});
