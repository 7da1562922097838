import { describe, expect, test } from "vitest";
import { type Document, openDocument } from "../../server/src/document/document.js";
import { nextVoicing } from "../../server/src/edits/next-voicing.js";
import { transposeChart } from "../../server/src/edits/transpose.js";
import { voiceRows } from "../../server/src/edits/voice.js";
import type { VoicingAsked } from "../../server/src/edits/voicing-asked.js";
import { whyVoicing } from "../../server/src/edits/why-voicing.js";
import { applyEdits, areApart } from "../../server/src/text/edits.js";
import { practicalKeys } from "../../server/src/theory/key.js";
import { prettyPitch } from "../../server/src/theory/pitch.js";
import { type StyleName, styles } from "../../server/src/voicing/styles.js";
import { chartText } from "../support/edit-chart.js";

const reach = { left: undefined, right: undefined };
const plain: VoicingAsked = { hands: ["right"], style: "close", everyKey: false, which: "empty", reach };

const resultOf = (text: string, asked: Partial<VoicingAsked>) =>
  voiceRows(openDocument("chart.plagal", text), { ...plain, ...asked });

/** The chart as it is voiced; of a refused call the reason, in parentheses. */
function voicedText(text: string, asked: Partial<VoicingAsked>): string {
  const result = resultOf(text, asked);
  if ("refused" in result) return `(${result.refused})`;
  expect(areApart(result.edits)).toBe(true);
  return applyEdits(text, result.edits);
}

function voice(before: string, asked: Partial<VoicingAsked>, after: string): void {
  expect(voicedText(chartText(before), asked)).toBe(chartText(after));
}

function notesOf(text: string, asked: Partial<VoicingAsked>): readonly string[] {
  const result = resultOf(chartText(text), asked);
  return "refused" in result ? [result.refused] : result.notes.map(({ message }) => message);
}

const cadence = chartText(`
  key     C major
  chords  | 2m7 5:7 | 1maj7 |
`);

/** What both hands play in each style, read by a keyboard player. */
const cadences: Readonly<Record<StyleName, readonly [right: string, left: string]>> = {
  shell: ["b3+b7 b7+3 | 7", ">1 1 | >1+3"],
  close: ["b7+b3+5 3+b7+1 | 7+3+5", "1 1 | >1"],
  open: [">b3+b7 >b7+3 | >3+7", "1+5 1+5 | >1+5"],
  "drop 2": ["1+5 5+1 | 9+5", ">b3+b7 >b7+3 | >3+7"],
  rootless: [">9+5 5+9 | 9+13", ">b3+b7 >b7+3 | >3+7"],
  "stacked fourths": ["b7+b3+5 >13+9 | 9+5+7", ">1+11 >b7+3 | >3+13"],
  "upper-structure triad": [">9+11+b7 >13+1+3 | 9+#11+13", ">b3+b7 >b7+3 | >3+7"],
  "block chords": ["1+b3+5+b7 5+b7+1+3 | 9+3+5+7", ">>b7 >3 | >7"],
  "two-hand": ["b7+1+b3+5 3+5+b7+1 | 7+9+3+5", "1+1 1+5 | 1+1"],
};

describe("a row that isn't there", () => {
  test.each(styles.map(({ name }) => name))("is added below the chords, in the style %s", (style) => {
    const rows = voicedText(cadence, { hands: ["left", "right"], style })
      .split("\n")
      .slice(2, 4);
    const bars = rows.map((row) => row.replace(/^\w+ +\| /, "").replace(/ +/g, " "));
    expect(bars).toEqual(cadences[style].map((row) => `${row} | ; voiced ${style}`));
  });

  test("has the melody on top and stands below the lead", () =>
    voice(
      `
      key     F major
      chords  | 2m7 5:7 | 1maj7 |
      lead    | 4   2   | 3     |
      words   | Come in | home  |
      `,
      {},
      `
      key     F major
      chords  | 2m7       5:7    | 1maj7   |
      lead    | 4         2      | 3       |
      right   | 5+b7+1+b3 b7+3+5 | 5+7+1+3 |  ; voiced close
      words   | Come      in     | home    |
      `,
    ));

  test("follows repeats, endings, rests and chords that go on", () =>
    voice(
      `
      key     G major
      chords  |: 1 | / 4 | 1. 5:7 / :| x2 2. 5 NC |
      `,
      { style: "shell" },
      `
      key     G major
      chords  |: 1   | / 4    | 1. 5:7 / :| x2 2. 5    NC |
      right   |: 3+5 | - <5+3 | 1. <3+b7 :|    2. <3+5 r  |  ; voiced shell
      `,
    ));

  test("has the pickup of the chords", () =>
    voice(
      `
      key     D minor
      time    3/4
      chords 5:7 | 1 / 4m | (1 /7) 6 / |
      `,
      { style: "close" },
      `
      key     D minor
      time    3/4
      chords  5:7      | 1      / 4m     | (1 /7)          6     / |
      right   1+3+5+b7 | 5+1+b3 - b3+5+1 | (5+1+b3 5+1+b3) 1+3+5 - |  ; voiced close
      `,
    ));

  test("strikes anew each chord that % strikes, and rests in stopped time", () =>
    voice(
      `
      key     C major
      chords  | 1 4 | % | r 5:7 |
      `,
      { style: "close" },
      `
      key     C major
      chords  | 1     4     | %           | r 5:7      |
      right   | 1+3+5 5+1+3 | 1+3+5 5+1+3 | r 3+5+b7+1 |  ; voiced close
      `,
    ));

  test("is written in letters where the chart's hands are", () =>
    voice(
      `
      key     E♭ major
      chords  | E♭ | B♭7/D |
      left    | E♭ | D     |
      `,
      { style: "close" },
      `
      key     E♭ major
      chords  | E♭      | B♭7/D   |
      right   | B♭+E♭+G | B♭+D+A♭ |  ; voiced close
      left    | E♭      | D       |
      `,
    ));

  test("counts from the row's own home octave", () =>
    voice(
      `
      key     C major
      chords  | 1        |
      right from C5 | 3+5+1 |

      chords  | 4 5      |
      `,
      { style: "close" },
      `
      key     C major
      chords  | 1        |
      right from C5 | 3+5+1 |

      chords  | 4      5      |
      right   | <1+3+5 <5+1+3 |  ; voiced close
      `,
    ));

  test("hangs a chord under every melody note where the style is block chords", () =>
    voice(
      `
      key     F major
      chords          | 1maj7   | 2m7 5:7 |
      lead    (5 6)   | 7 - 5 3 | 4   2   |
      `,
      { hands: ["left", "right"], style: "block chords" },
      `
      key     F major
      chords           | 1maj7                      | 2m7       5:7      |
      lead    (5 6)    | 7       - 5       3        | 4         2        |
      right   (>5 >13) | 1+3+5+7 - 7+1+3+5 13+7+9+3 | 5+b7+1+b3 b7+1+3+5 |  ; voiced block chords
      left    (>5 >13) | >7      - >5      >3       | >b3       >5       |  ; voiced block chords
      `,
    ));

  test("ends the file as it ended, with its line ends", () => {
    const text = "key C\r\nchords  | 1 |";
    expect(voicedText(text, {})).toBe("key C\r\nchords  | 1     |\r\nright   | 1+3+5 |  ; voiced close");
  });
});

describe("a row that is there", () => {
  test("is filled where it is empty, and keeps what is written", () =>
    voice(
      `
      key     C major
      chords  | 1     | 4 5:7 | 1 |
      right   | 5+1+3 |       | r |
      `,
      {},
      `
      key     C major
      chords  | 1     | 4     5:7      | 1 |
      right   | 5+1+3 | 3+5+1 3+5+b7+1 | r |
      `,
    ));

  test("keeps an empty bar that a later one repeats or goes on with", () => {
    const text = chartText(`
      key     C major
      chords  | 1 | 4 | 5 | 1 |
      right   |   | % |   | - |
    `);
    expect(voicedText(text, {})).toBe(
      "(The right hand has something written in every bar that has a chord.)",
    );
  });

  test("is written anew where all is asked for, with its own comment", () =>
    voice(
      `
      key     C major
      chords  | 1     | 4 5:7 |
      right   | 1+3   | r     |  ; softly
      `,
      { which: "all", style: "shell", everyKey: true },
      `
      key     C major
      chords  | 1   | 4   5:7  |
      right   | 5+3 | 3+5 b7+3 |  ; softly  ; voiced shell, every key
      `,
    ));

  test("is voiced where it is chosen, in its own rhythm", () => {
    const text = chartText(`
      key     C major
      chords  | 1             | 4     |
      right   | 1 (- 1+3) = r | 1+3+5 |
    `);
    const start = text.indexOf("1+3)");
    const now = voicedText(text, { which: { start, end: start + 3 } });
    expect(now.split("\n").slice(1, 3)).toEqual([
      "chords  | 1                   | 4     |",
      "right   | 1 (- 5+1+3) 5+1+3 r | 1+3+5 |",
    ]);
  });

  test("is voiced in its empty bars alone where a cursor stands in its system", () => {
    const text = chartText(`
      key     C major
      chords  | 1   | 4 |
      right   | 1+3 |   |

      chords  | 5 |
      right   |   |
    `);
    const at = text.indexOf("4 |");
    const lines = voicedText(text, { which: { start: at, end: at } }).split("\n");
    expect([lines[2], lines[5]]).toEqual(["right   | 1+3 | 3+5+1 |", "right   |   |"]);
  });
});

test("the left hand stays below a melody that the right hand plays", () => {
  const text = chartText(`
    key     C major
    chords  | 1maj7 | 6m7 |
    lead    | 3     | 5   |
  `);
  const now = voicedText(text, { hands: ["left"], style: "rootless" });
  expect(openDocument("chart.plagal", now).problems.map(({ code }) => code)).toEqual([]);
});

test("a chord that a style can't serve is said, and voiced as the nearest", () => {
  expect(notesOf("key C major\nchords | 1 |\n", { style: "upper-structure triad" })).toEqual([
    "C can't be voiced as upper-structure triad here, so it is voiced as rootless.",
  ]);
});

test("block chords without a melody are said to be free", () => {
  expect(notesOf("key C major\nchords | 1maj7 |\n", { style: "block chords" })).toEqual([
    "There is no lead row for block chords to follow, so the top voice is free.",
  ]);
});

test("a melody that stands against its chord is said, and not the top voice", () => {
  const text = "key C major\nchords | 5:7sus |\nlead | 7 |\n";
  expect(notesOf(text, {})).toEqual([
    "The melody's B4 stands against G7sus, so it is not the top voice there.",
  ]);
});

test("what can't be read is said", () => {
  expect(notesOf("key C major\nchords | 1 8x |\n", {})).toEqual([
    "“8x” can't be read, so it stays as it is. Mend it before you rely on the voiced chart.",
  ]);
});

test("a chord that no hand can play there is said, and where there is no other, why", () => {
  const text = "key C major\nchords | 1maj7 |\nlead | <<3 |\n";
  const nothing =
    "No voicing of Cmaj7 can be played here: it stays as it was. Voice it by hand, or in another style.";
  expect(notesOf(text, { hands: ["left"], style: "rootless" })).toEqual([nothing]);
});

describe("third and seventh", () => {
  const left: Partial<VoicingAsked> = { hands: ["left"], style: "two-hand" };

  test("are played by the left hand where the right plays the chord without them, and may be missing where it rests", () => {
    voice(
      `
      key     C major
      chords  | 1 | 4    | 5:7    |
      right   | r | >1+5 | >5+1 r |
      `,
      left,
      `
      key     C major
      chords  | 1    | 4      | 5:7       |
      right   | r    | >1+5   | >5+1 r    |
      left    | >1+5 | >5+1+3 | >5+b7+1+3 |  ; voiced two-hand
      `,
    );
    expect(notesOf("key C major\nchords | 1 |\nright | >1+5 |\n", left)).toEqual([
      "C can't be voiced as two-hand here, so it is voiced as close.",
    ]);
  });

  test("are not heard in what is pushed ahead to another chord", () => {
    voice(
      `
      key     C major
      chords  | 1           | 5:7   |
      right   | >5+1 !>13+3 | >3+b7 |
      `,
      left,
      `
      key     C major
      chords  | 1           | 5:7   |
      right   | >5+1 !>13+3 | >3+b7 |
      left    | >1+3+5      | 1+5   |  ; voiced two-hand
      `,
    );
    const text = chartText(`
      key     C major
      chords  | 1    | 5:7 |
      right   | 1 !1 | -   |
      left    | 1 1  | -   |
    `);
    // Each hand's slot in the second half counts from another chord.
    const [start, end] = [text.indexOf("right") + 10, text.indexOf("left") + 16];
    const now = voicedText(text, { which: { start, end }, hands: ["left", "right"], style: "shell" });
    expect(now.split("\n").slice(2, 4)).toEqual([
      "right   | 5+3  !3+b7 | -   |",
      "left    | >1+3 >1+3  | -   |",
    ]);
  });
});

describe("where all is written anew", () => {
  test("a bar with a chord that can't be voiced stays, with the bar that it repeats and what is pushed to it", () => {
    const text = chartText(`
      key     C major
      chords  | 1    | 4 5:7  | 1   |
      right   | >3+5 | <<3 >3 | >3  |
      left    | 1    | %      | 5   |
    `);
    const all: Partial<VoicingAsked> = { hands: ["left"], style: "two-hand", which: "all" };
    const leftRow = (chart: string) => voicedText(chart, all).split("\n")[3]?.replace(/ +/g, " ");
    expect(leftRow(text)).toBe("left | 1 | % | 1+5 |");
    expect(notesOf(text, all)).toEqual([
      "No voicing of F can be played here, so its bar stays as it was. Voice it by hand, or in another style.",
    ]);
    expect(leftRow(text.replace("1    | %", "1 !1 | r"))).toBe("left | 1 !1 | r | >1+5 |");
  });
});

describe("a pickup", () => {
  test("of the other hand sounds over the end of the bar before it, and nothing lies in its way", () => {
    const voiced = (pickup: string): string | undefined => {
      const text = `key C major\nchords | 1 |\nright | >>3+5 |\n\nchords | 5 |\nright ${pickup} | >>3+5 |\n`;
      const now = voicedText(text, { hands: ["left"], style: "close" });
      const told = openDocument("chart.plagal", now).problems.filter(({ code }) => code !== "jump");
      expect(told.map(({ code }) => code)).toEqual([]);
      return now.split("\n")[3];
    };
    expect(voiced(">3")).toBe("left    | >3+5+1 |  ; voiced close");
    expect(voiced("1")).toBe("left    | >1+3  |  ; voiced close");
  });

  test("that goes on with a bar keeps it empty", () => {
    const text = "key C major\nchords | 1 |\nright | 3+5 |\nleft | |\n\nchords | 4 |\nleft - | 1 |\n";
    expect(voicedText(text, { hands: ["left"] })).toBe(
      "(The left hand has something written in every bar that has a chord.)",
    );
  });
});

test("a group keeps its length before slots that only hold", () =>
  voice(
    `
    key     C major
    chords  | ((1 4) r) NC //  | 5   |
    `,
    { hands: ["left"], style: "two-hand" },
    `
    key     C major
    chords  | ((1 4) r)     NC //  | 5   |
    left    | ((1+1 1+5) r) -  - - | 1+5 |  ; voiced two-hand
    `,
  ));

test("block chords double no tone of the player's that contradicts its chord", () => {
  const text = "key C major\nchords | 1 4 |\nright | >3+b3 >3 |\n";
  expect(voicedText(text, { hands: ["left"], style: "block chords" }).split("\n")[3]).toBe(
    "left    | >3+5+6+1 >3 |  ; voiced block chords",
  );
});

test("a chart without chords is refused, and one with nothing to choose", () => {
  expect(notesOf("key C major\nright | 1 |\n", {})).toEqual([
    "There are no chords to voice. Write a chords row first.",
  ]);
  expect(notesOf("key C major\nchords | 1 |\nright | 1 |\n", { which: { start: 0, end: 0 } })).toEqual([
    "Nothing there can be voiced. Select slots of a hand, or put the cursor where a bar or a row is empty.",
  ]);
});

const longer = chartText(`
  key     C major
  tempo   80
  chords  | 1maj7 6:7b9 | 2m7  5:7  | 3m7b5 6:7 | 2m9/5 5:13 | 4m6 b7:9 | 1:6/9 |
`);

test.each(styles.map(({ name }) => name))("%s for every key can be held in all twelve", (style) => {
  const text = voicedText(longer, {
    hands: ["left", "right"],
    style,
    everyKey: true,
    reach: { left: 8, right: 8 },
  });
  for (const { tonic } of practicalKeys("major")) {
    const document = openDocument("chart.plagal", text);
    const moved = transposeChart(document, { tonic, mode: undefined });
    const there: Document = openDocument(
      "chart.plagal",
      "refused" in moved ? text : applyEdits(text, moved.edits),
      undefined,
      { severities: {}, reach: { left: 8, right: 8 } },
    );
    const hands = there.problems.filter(({ code }) => /hand|low-interval|keyboard|other-keys/.test(code));
    expect(hands.map(({ message }) => message)).toEqual([]);
  }
});

describe("the next voicing of a slot", () => {
  const text = voicedText(longer, { hands: ["left", "right"], style: "rootless" });
  const next = (chart: string, at: number): string => {
    const result = nextVoicing(openDocument("chart.plagal", chart), at, reach);
    if ("refused" in result) throw new Error(result.refused);
    return applyEdits(chart, result.edits);
  };

  test("is another each time, and after the last the best again", () => {
    const at = text.indexOf("right") + 10;
    const seen = [text];
    for (let now = next(text, at); now !== text; now = next(now, at)) {
      expect(seen).not.toContain(now);
      seen.push(now);
    }
    expect(seen.length).toBeGreaterThan(3);
  });

  test("changes a slot of the player's own alone", () => {
    const own = chartText(`
      key     C major
      chords  | 1     | 4     | 5     |
      right   | 3+5+1 | 1+3+5 | 5+1+3 |
    `);
    const now = next(own, own.indexOf("1+3+5"));
    const [, , before] = own.split("\n");
    const [, , after] = now.split("\n");
    expect(after).not.toBe(before);
    expect(after?.split("|").filter((bar) => !before?.split("|").includes(bar)).length).toBe(1);
  });

  test("keeps what the player wrote into a voiced row", () => {
    const mixed = text.replace(/^(right +\| )[^ ]+/m, "$1>>1+5");
    const at = mixed.lastIndexOf("|", mixed.indexOf("; voiced") - 4) + 2;
    expect(next(mixed, at)).toContain(">>1+5");
  });

  test("is refused away from a stack over a chord", () => {
    const result = nextVoicing(openDocument("chart.plagal", text), 0, reach);
    expect(result).toEqual({
      refused: "No voicing of a hand stands here. Put the cursor on a stack over a chord.",
    });
  });
});

test("a voiced slot tells its costs and the runner-up, one of the player's own nothing", () => {
  const text = voicedText(cadence, { style: "close", hands: ["left", "right"] });
  const document = openDocument("chart.plagal", text);
  const why = whyVoicing(document, text.indexOf("right") + 10, reach);
  if (why?.runnerUp === undefined) throw new Error("no runner-up");
  expect([why.voiced, why.served, why.rank]).toEqual([{ style: "close", everyKey: false }, "close", 1]);
  expect(why.voicing.right.map(({ pitch }) => prettyPitch(pitch))).toEqual(["C4", "F4", "A4"]);
  expect(why.runnerUp.more).toBeGreaterThanOrEqual(0);
  const sum = Object.values(why.runnerUp.differences).reduce((total, it) => total + it, 0);
  expect(sum).toBe(why.runnerUp.more);
  const own = openDocument("chart.plagal", text.replaceAll(/ *; voiced.*/g, ""));
  expect(whyVoicing(own, text.indexOf("right") + 10, reach)).toBeUndefined();
});

test("a first ending that falls silent is left silent, though the chord before it lasts into the second", () => {
  voice(
    `
    key     Ab major
    chords  |: 1 | 1. NC | 4 :| 2. |
    right   |: r | 1. r  | r :| 2. r |
    `,
    { hands: ["left"], style: "two-hand" },
    `
    key     Ab major
    chords  |: 1 | 1. NC | 4 :| 2. |
    right   |: r | 1. r  | r :| 2. r |
    left    |: <1+1 | 1. r  | <1+5 :| 2. <1+1 |  ; voiced two-hand
    `,
  );
});
