import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Document, openDocument } from "../../server/src/document/document.js";
import { type Completion, completion } from "../../server/src/features/completion.js";
import { plainText as plainHover } from "../../server/src/features/markup.js";
import { plainText } from "../../server/src/features/snippet.js";
import { positionAt } from "../../server/src/text/lines.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { atCursor } from "../support/marked.js";
import { property } from "../support/property.js";

const path = "chart.plagal";
const open = (text: string): Document => openDocument(path, text, usedFiles);

function offered(chart: string): readonly Completion[] {
  const { text, cursor } = atCursor(chart);
  return completion(open(text), cursor).items;
}

const labels = (chart: string, most = 60): string =>
  offered(chart)
    .slice(0, most)
    .map(({ label }) => label)
    .join(" · ");

const details = (chart: string, most = 60): readonly string[] =>
  offered(chart)
    .slice(0, most)
    .map(({ label, detail }) => `${label}: ${detail}`);

/** What a client without snippets writes. */
const written = ({ text, isSnippet }: Completion): string => (isSnippet === true ? plainText(text) : text);

const taken = (text: string, item: Completion): string =>
  text.slice(0, item.span.start) + written(item) + text.slice(item.span.end);

/** The chart's line after the item of this label has been taken. */
function take(chart: string, label: string): string {
  const { text, cursor } = atCursor(chart);
  const item = offered(chart).find((it) => it.label === label);
  if (item === undefined) throw new Error(`${label} is not among: ${labels(chart)}`);
  const start = text.lastIndexOf("\n", cursor - 1) + 1;
  return taken(text, item).slice(start).split("\n")[0] as string;
}

describe("in the row of chords", () => {
  test("offers the key's chords, the likeliest first, with their notes", () => {
    expect(details("key Eb\nsection A\nchords | ‸ |\n", 5)).toEqual([
      "1: E♭: E♭ G B♭",
      "6: Cm: C E♭ G",
      "4: A♭: A♭ C E♭",
      "2: Fm: F A♭ C",
      "5: B♭: B♭ D F",
    ]);
  });

  test("puts first what usually follows the chord before", () => {
    expect(labels("section A\nchords | 1 | 2 ‸ |\n", 3)).toBe("5 · 4 · 1");
    expect(labels("section A\nchords | 5 | ‸ |\n", 3)).toBe("1 · 6 · 4");
    expect(labels("section A\nchords | 6:7 | ‸ |\n", 1)).toBe("2");
  });

  test("writes letters in a row of letters", () => {
    expect(labels("key F\nsection A\nchords | F | ‸ |\n", 3)).toBe("Bb · C · Dm");
    expect(labels("key F\nsection A\nchords | F | ‸ |\n")).not.toMatch(/(^| )1/);
  });

  test("offers after a root its qualities, the likeliest on that degree first", () => {
    const behind = (root: string, most = 4): string => labels(`section A\nchords | 1 | ${root}‸ |\n`, most);
    expect(behind("5")).toBe("5 · 5:7 · 5sus · 5sus2");
    expect(behind("2")).toBe("2 · 2m7 · 2sus · 2sus2");
    expect(behind("7", 2)).toBe("7 · 7m7b5");
    expect(behind("C", 2)).toBe("C · Cmaj7");
  });

  test("goes on from the colon, and keeps the bass that stands there", () => {
    expect(take("section A\nchords | 5:‸ |\n", "5:7")).toBe("chords | 5:7 |");
    expect(take("section A\nchords | 5‸/7 |\n", "5:7/7")).toBe("chords | 5:7/7 |");
  });

  test("offers basses after a slash, the chord's own tones first", () => {
    expect(labels("section A\nchords | 1/‸ |\n", 4)).toBe("1/3 · 1/5 · 1/1 · 1/2");
    expect(details("section A\nchords | C/‸ |\n", 1)).toEqual(["C/E: C/E: E: C E G"]);
    expect(labels("section A\nchords | 1 /‸ |\n", 2)).toBe("/3 · /5");
  });

  test("offers the signs where they mean something", () => {
    expect(labels("section A\nchords | ‸ |\n")).not.toMatch(/ · [/%] /);
    expect(labels("section A\nchords | 1 | ‸ |\n")).toContain("/ · % · r · NC");
    expect(labels("section A\nchords | 1 | 4 ‸ |\n")).not.toContain("%");
  });

  test("works in a bar that isn't closed, in a group and without any bar", () => {
    expect(labels("section A\nchords | 1 | ‸", 3)).toBe("4 · 5 · 6");
    expect(labels("section A\nchords | 1 (5 ‸) |", 2)).toBe("1 · 6");
    expect(take("section A\nchords ‸\nright | r | r |\n", "| … |")).toBe("chords | 1 | 1 |");
  });

  test("says in full what a chord is", () => {
    const item = offered("section A\nchords | 5‸ |\n").find(({ label }) => label === "5:7");
    const { documentation } = item as Completion;
    const text = typeof documentation === "function" ? documentation() : (documentation ?? []);
    expect(plainHover(text)).toContain("G7 (5:7), the 5");
  });
});

describe("in a hand", () => {
  test("offers the tones of the chord with the keys that they sound on", () => {
    expect(details("key Eb\nsection A\nchords | 5:7 |\nright | ‸ |\n", 4)).toEqual([
      "3: D4, the 3 of B♭7 (the 7 of the key)",
      "b7: A♭3, the ♭7 of B♭7 (the 4 of the key)",
      "1: B♭3, the 1 of B♭7 (the 5 of the key)",
      "5: F4, the 5 of B♭7 (the 2 of the key)",
    ]);
    expect(labels("section A\nchords | 5:7/3 |\nleft | ‸ |\n", 5)).toBe("1 · 5 · 3 · b7 · 0");
  });

  test("puts last what the stack has already", () => {
    expect(labels("section A\nchords | 5:7 |\nright | 3+‸ |\n", 4)).toBe("b7 · 1 · 5 · 0");
    expect(labels("section A\nchords | 5:7 |\nright | 3+b7+‸ |\n", 3)).toBe("1 · 5 · 0");
  });

  test("places a tone above what stands below it, with its signs", () => {
    const [first] = details("section A\nchords | 1 |\nright | 5+‸ |\n");
    expect(first).toBe("3: E4, the 3 of C (the 3 of the key)");
    expect(details("section A\nchords | 1 |\nright | >‸ |\n")[0]).toBe(
      "3: E4, the 3 of C (the 3 of the key)",
    );
    expect(details("section A\nchords | 1 |\nright from C5 | ‸ |\n")[0]).toContain("E5");
    expect(take("section A\nchords | 1 |\nright | 3+_‸ |\n", "5")).toBe("right | 3+_5 |");
  });

  test("counts from the chord at that beat, and after ! from the next one", () => {
    expect(details("section A\nchords | 1 4 |\nright | 3 ‸ |\n")[0]).toContain("the 3 of F");
    expect(details("section A\nchords | 1 4 |\nright | !‸ - |\n")[0]).toContain("the 3 of F");
  });

  test("counts from the key after k, and where no chord sounds", () => {
    expect(details("key G\nsection A\nchords | 4 |\nright | k‸ |\n", 1)).toEqual([
      "1: G4, the 1 of the key (the 5 of C)",
    ]);
    expect(labels("section A\nright | ‸ |\n", 2)).toBe("k1 · k2");
  });

  test("offers letters in a row of letters", () => {
    expect(labels("key Eb\nsection A\nchords | 1 | 4 |\nright | G+Bb | ‸ |\n", 2)).toBe("C · Ab");
  });

  test("takes the place of a tone that is half typed", () => {
    expect(take("section A\nchords | 5:7 |\nright | 3+b‸+9 |\n", "b7")).toBe("right | 3+b7+9 |");
    expect(labels("section A\nchords | 1\nright | 3 ‸", 2)).toBe("3 · 1");
  });

  test("offers = and - only behind what they can repeat or hold", () => {
    expect(labels("section A\nchords | 1 |\nright | ‸ |\n")).not.toMatch(/ · [-=%]/);
    expect(labels("section A\nchords | 1 |\nright | 3 ‸ |\n")).toContain("- · = · r");
    expect(labels("section A\nchords | 1 | 4 |\nright | 3 | ‸ |\n")).toContain("%");
    expect(labels("section A\nchords | 1 |\nright | 1 ‸3 = |\n")).not.toMatch(/ r($| )/);
  });

  test("offers where the row is at home", () => {
    expect(take("section A\nchords | 1 |\nleft f‸ | 1 |\n", "from C2")).toBe("left from C2 | 1 |");
    expect(labels("key G\nsection A\nright from ‸ | 1 |\n", 1)).toBe("G4");
  });
});

test("the lead and the bass are offered the key's degrees with their notes, the chord's first", () => {
  expect(details("key F\nsection A\nchords | 4 |\nlead | ‸ |\n", 4)).toEqual([
    "1: F4, the 1 of the key (the 5 of B♭)",
    "4: B♭4, the 4 of the key (the 1 of B♭)",
    "6: D5, the 6 of the key (the 3 of B♭)",
    "2: G4, the 2 of the key (the 6 of B♭)",
  ]);
  expect(details("key F\nsection A\nbass | ‸ |\n", 1)).toEqual(["1: F2, the 1 of the key"]);
});

describe("in form and play", () => {
  const sections = "section Verse\nchords | 1 |\nsection Last Verse\nchords | 1 |\n";
  test("offers the names of sections, in quotation marks where they need them", () => {
    expect(labels(`form ‸\n${sections}`)).toBe("Verse · Last Verse");
    expect(take(`form Verse "La‸\n${sections}`, "Last Verse")).toBe('form Verse "Last Verse"');
    expect(labels(`use "tags.plagal"\nform T‸\n${sections}`, 1)).toBe("Turnaround");
  });

  test("offers what moves and repeats a section behind its name", () => {
    const after = labels(`key C\nform Verse ‸\n${sections}`);
    expect(after).toContain("x2 · x3 · x4 · up half · up whole · down half · down whole · in D♭");
    expect(labels(`form Verse x2 ‸\n${sections}`)).not.toContain("x3");
    expect(labels(`form Verse up ‸\n${sections}`)).toBe("half · whole");
    expect(take(`form Verse in ‸\n${sections}`, "E♭")).toBe("form Verse in Eb");
  });

  test("play names another section, once", () => {
    expect(labels(`${sections}play ‸\n`)).toBe("Verse");
    expect(labels(`${sections}play Verse ‸\n`, 2)).toBe("x2 · x3");
  });

  test("a new section is offered the names that are played and not written", () => {
    expect(labels("form Verse Bridge\nsection ‸\n")).toBe("Verse · Bridge");
  });
});

describe("in the head", () => {
  test("offers each key, and with the key of before the same chart moved", () => {
    const keys = details("key Eb‸ major\nsection A\nlead | 1 5 |\n");
    expect(keys[0]).toBe("E♭ major: 3 flats, melody E♭4 to B♭4");
    expect(keys[1]).toBe("E major: 4 sharps, up a half step, melody E4 to B4");
    expect(keys[13]).toContain("F major (original E♭): the whole chart up a whole step");
    expect(take("key Eb‸\n", "G♭ major (original E♭)")).toBe("key Gb major (original Eb)");
    expect(labels("key D‸\n")).toContain("D dorian");
    expect(take("key F‸ (original Eb)\n", "G major")).toBe("key G major (original Eb)");
  });

  test("offers values", () => {
    expect(labels("time ‸\n", 3)).toBe("4/4 · 3/4 · 6/8");
    expect(labels("feel s‸\n")).toBe("straight · swing · shuffle");
    expect(labels("tempo ‸\n", 2)).toBe("60 · 66");
    expect(take("reach ‸\n", "left 10 right 9")).toBe("reach left 10 right 9");
    expect(details("key G\nsection A\nlands ‸\n", 2)).toEqual(["1: G: G B D", "4: C: C E G"]);
  });

  test("offers the words that are valid there, with something to fill", () => {
    expect(labels("title A\n‸\nkey C\n")).not.toMatch(/(^| )(?:title|key|lands|play)( |$)/);
    expect(labels("‸")).toContain("new chart · title · key");
    expect(take("ke‸\n", "key")).toBe("key C major");
    expect(take("title A\nsec‸\n", "section")).toBe("section Verse");
  });
});

describe("at the start of a section's line", () => {
  test("offers what a section may have, and the rows that its system lacks", () => {
    const found = labels("section A\nchords | 1 | 4 |\nleft | 1 | 1 |\n‸\n");
    expect(found).toMatch(/(^| )lands /);
    expect(found).toMatch(/ right /);
    expect(found).not.toMatch(/(^| )(?:chords|left|title|reach|use)( |$)/);
  });

  test("offers rows first, also on the empty line behind the last line end", () => {
    expect(labels("section A\n‸", 3)).toBe("chords · lead · right");
    expect(labels("section A\nchords | 1 |\n‸", 2)).toBe("lead · right");
    expect(labels("key C\n‸")).toMatch(/time/);
  });

  test("opens a row with as many bars as its system has, under its bar lines", () => {
    expect(take("section A\nchords | 1 | 4 |\n‸\n", "lead")).toBe("lead   | r | r |");
    expect(take("section A\n‸\nright |: 1 | 1 :|x3\n", "chords")).toBe("chords |: 1 | 1 :|x3");
  });

  test("mends the word of a row that is there", () => {
    expect(take("section A\nchords | 1 |\nrigth‸ | 3+5 |\n", "right")).toBe("right | 3+5 |");
  });
});

test("nothing is offered in comments, printed words, songs' words and cues", () => {
  for (const chart of [
    "key C ; ‸\n",
    "‸; x\n",
    "title A ‸\n",
    "note ‸b\n",
    "section A\nlead | 1 |\nwords | ‸ |\n",
    "section A\ncue | h‸ |\n",
  ]) {
    expect(labels(chart), chart).toBe("");
  }
});

/** How often the line of a place has each problem of reading. */
function unreadIn(document: Document, line: number): Map<string, number> {
  const found = new Map<string, number>();
  for (const { code, span } of document.problems) {
    if (code !== "syntax" && !code.startsWith("unknown-")) continue;
    if (positionAt(document.tree.starts, span.start).line !== line) continue;
    found.set(code, (found.get(code) ?? 0) + 1);
  }
  return found;
}

/** Takes every item that is offered at a place, and looks for what can't be read then and could before. */
function takeAll(text: string, offset: number): void {
  const document = open(text);
  const { line } = positionAt(document.tree.starts, offset);
  const { items } = completion(document, offset);
  expect(items.length).toBeLessThanOrEqual(60);
  expect(new Set(items.map(({ sort }) => sort)).size).toBe(items.length);
  expect([...items.map(({ sort }) => sort)].sort()).toEqual(items.map(({ sort }) => sort));
  const before = items.length === 0 ? new Map<string, number>() : unreadIn(document, line);
  for (const item of items) {
    expect(item.span.start <= offset && offset <= item.span.end).toBe(true);
    expect(text.slice(item.span.start, item.span.end)).not.toMatch(/[\r\n]/);
    const after = openDocument(path, taken(text, item), usedFiles, undefined, document);
    const { line: at } = positionAt(after.tree.starts, item.span.start);
    for (const [code, count] of unreadIn(after, at)) {
      if (count <= (before.get(code) ?? 0)) continue;
      const lineText = after.tree.lines[at]?.text;
      throw new Error(
        `“${item.label}” at ${offset} brings ${code}: ${JSON.stringify(lineText)} of ${JSON.stringify(document.tree.lines[line]?.text)}`,
      );
    }
  }
}

/** Every end of a word or slot, and any other place. */
const placesIn = (text: string): readonly number[] =>
  [...text.matchAll(/[^ \t\r\n|()]+/g)].map((it) => it.index + it[0].length);

property(
  "whatever is offered can be read where it is offered",
  fc.tuple(anyChart(), fc.array(fc.nat(), { minLength: 8, maxLength: 8 })),
  15,
  ([text, seeds]) => {
    const ends = placesIn(text);
    seeds.forEach((seed, i) => {
      takeAll(text, i % 2 === 0 ? seed % (text.length + 1) : (ends[seed % ends.length] ?? 0));
    });
  },
);

property(
  "whatever is offered for a word cut short can be read, in an unfinished line too",
  fc.tuple(
    anyChart(),
    fc.array(fc.tuple(fc.nat(), fc.nat({ max: 4 }), fc.boolean()), { minLength: 6, maxLength: 6 }),
  ),
  20,
  ([text, cuts]) => {
    const ends = placesIn(text);
    for (const [seed, cut, restToo] of cuts) {
      const end = ends[seed % ends.length] ?? 0;
      const lineStart = text.lastIndexOf("\n", end - 1) + 1;
      const at = Math.max(lineStart, end - cut);
      const lineEnd = text.indexOf("\n", end);
      takeAll(text.slice(0, at) + text.slice(restToo && lineEnd >= 0 ? lineEnd : end), at);
    }
  },
);

property(
  "any place of any text has an answer",
  fc.tuple(hostileText, fc.array(fc.nat(), { minLength: 10, maxLength: 10 })),
  60,
  ([text, seeds]) => {
    const document = open(text);
    for (const seed of [...seeds.map((it) => it % (text.length + 1)), -1, text.length + 5]) {
      for (const { span, documentation } of completion(document, seed).items) {
        expect(0 <= span.start && span.start <= span.end && span.end <= text.length).toBe(true);
        if (typeof documentation === "function") documentation();
      }
    }
  },
);

test("a tone offered before others of its slot takes the place of the whole one behind the cursor", () => {
  expect(take("section A\nchords | 1 |\nlead | ‸11 r |\n", "5")).toBe("lead | 5 r |");
  expect(take("section A\nchords | 1 |\nleft | ‸b13+5 |\n", "3")).toBe("left | 3+5 |");
});

test("a use line is offered the other charts, in quotes", () => {
  const paths = ["tags.plagal", "more/tags.plagal", 'a"b.plagal'];
  const after = (chart: string): readonly string[] => {
    const { text, cursor } = atCursor(chart);
    return completion(open(text), cursor, { paths }).items.map((it) => taken(text, it));
  };
  expect(after("use ‸\n")).toEqual(['use "tags.plagal"\n', 'use "more/tags.plagal"\n']);
  expect(after('use "mo‸" ; a word\n')).toEqual([
    'use "tags.plagal" ; a word\n',
    'use "more/tags.plagal" ; a word\n',
  ]);
  expect(after('use "tags.plagal"\nuse "‸"\n')).toEqual(['use "tags.plagal"\nuse "more/tags.plagal"\n']);
});
