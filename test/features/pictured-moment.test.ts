import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { openDocument, type Settings } from "../../server/src/document/document.js";
import { groundOf, type PictureTheme } from "../../server/src/exports/keyboard-picture.js";
import { pictures } from "../../server/src/exports/pictures.js";
import { momentWords, picturedMoment } from "../../server/src/features/pictured-moment.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { hostileCharts } from "../support/hostile-charts.js";
import { atCursor } from "../support/marked.js";
import { property } from "../support/property.js";

/** What is drawn at the cursor, in words; "" where nothing is. */
function drawnAt(chart: string, settings?: Settings): string {
  const { text, cursor } = atCursor(chart);
  const found = picturedMoment(openDocument("chart.plagal", text, undefined, settings), cursor);
  return found === undefined ? "" : pictures.keyboard(found.keys, found.chord, found.hands, "light").words;
}

const rows = (...lines: readonly string[]): string => `key C major\nsection Verse\n${lines.join("\n")}\n`;

describe("at a tone, a stack or a chord both hands are drawn", () => {
  const both =
    "G7. Left hand: G2 (1, finger 1). Right hand: B3 (3, finger 1), F4 (♭7, finger 3), A4 (9, finger 5).";
  test.each([
    ["chords | ‸5:7 |", "right | 3+b7+9 |"],
    ["chords | 5:7 |", "right | 3+b‸7+9 |"],
    ["chords | 5:7 |", "right | 3‸+b7+9 |"],
    ["chords | 5:7 |", "right | b6~‸3+b7+9 |"],
  ])("%s %s", (...lines) => expect(drawnAt(rows(...lines, "left | 1 |"))).toBe(both));

  test("what somebody sings is in no hand, and without a right hand's row that hand plays the melody", () => {
    expect(drawnAt(rows("chords | ‸1 |", "lead | 5 |", "right | 3 |"))).toBe(
      "C. Right hand: E3 (3, finger 1).",
    );
    expect(drawnAt(rows("chords | ‸1 |", "lead | 5 |", "bass | 1 |"))).toBe(
      "C. Left hand: C2 (1, finger 1). Right hand: G4 (5, finger 1).",
    );
    expect(drawnAt(rows("lead | ‸5 |", "right | 3 |"))).toBe("");
    expect(drawnAt(rows("chords | 1 |", "lead | ‸5 |", "right | 3 |"))).toBe(
      "C. Right hand: E3 (3, finger 1).",
    );
  });

  test("what was struck before is held over, with the fingers that struck it", () => {
    const held = "held over";
    expect(drawnAt(rows("chords | 1 |", "right | 3+5 3 |", "left | 1+5 ‸- |"))).toBe(
      `C. Left hand: C2 (1, finger 5, ${held}), G2 (5, finger 1, ${held}). Right hand: E3 (3, finger 1).`,
    );
    expect(drawnAt(rows("chords | 2m7 ‸5:7 |", "right | b3+b7 _b7+3 |", "left | 1 |"))).toBe(
      `G7. Left hand: D2 (5, finger 1, ${held}). Right hand: F3 (♭7, finger 1, ${held}), B3 (3, finger 4).`,
    );
    expect(drawnAt(rows("chords | 1 4 | / |", "right | 3+5 - | - ‸- |"))).toBe(
      `F. Right hand: E3 (7, finger 1, ${held}), G3 (2, finger 2, ${held}).`,
    );
  });

  test("on a sign that goes on with a chord it is the moment of the sign", () => {
    expect(drawnAt(rows("chords | 1 ‸/ |", "right | 3 5 |"))).toBe("C. Right hand: G3 (5, finger 3).");
    expect(drawnAt(rows("chords | 1 ‸- |", "right | 3 5 |"))).toBe("C. Right hand: G3 (5, finger 3).");
  });

  test("on a rest it is what the other hand plays", () => {
    expect(drawnAt(rows("chords | 1 |", "right | 3 ‸r |", "left | 1 |"))).toBe(
      "C. Left hand: C2 (1, finger 1, held over).",
    );
  });

  test("in a pickup, pushed, and in a bar that % repeats", () => {
    expect(drawnAt(rows("chords | 1 |", "right ‸5 | 3 |"))).toBe("C. Right hand: G3 (5, finger 3).");
    expect(drawnAt(rows("chords | 1 4 |", "right | (3+5 !‸3+5) 1 |"))).toBe(
      "F. Right hand: A3 (3, finger 3), C4 (5, finger 5).",
    );
    expect(drawnAt(rows("chords | 1 | ‸4 |", "right | 3+5 | % |"))).toBe(
      "F. Right hand: A3 (3, finger 3), C4 (5, finger 5).",
    );
  });

  test("without a chord no number is said, and without a finger that can hold it no finger", () => {
    expect(drawnAt(rows("right | ‸C4+E4 |"))).toBe("Right hand: C4 (finger 1), E4 (finger 2).");
    expect(drawnAt(rows("right | C4‸+C7 |"))).toBe("Right hand: C4, C7.");
    const reach = { left: undefined, right: 12 };
    expect(drawnAt(rows("right | C4‸+F5 |"), { severities: {}, reach })).toMatch(
      /C4 \(finger 1\), F5 \(finger 5\)/,
    );
    expect(drawnAt(rows("right | C4‸+F5 |"))).toBe("Right hand: C4, F5.");
  });

  test("a key is drawn once a hand, and no key that a piano doesn't have", () => {
    expect(drawnAt(rows("right | C4‸+C4+Dbb4 |"))).toBe("Right hand: C4 (finger 1).");
    expect(drawnAt(rows("right | C9‸+C4 |"))).toMatch(/^Right hand: C4/);
    expect(drawnAt(rows("right | C‸9 |"))).toBe("");
  });

  test("its notes are said in words too", () => {
    const wordsAt = (...lines: readonly string[]) => {
      const { text, cursor } = atCursor(rows(...lines));
      const found = picturedMoment(openDocument("chart.plagal", text), cursor);
      return found && momentWords(found);
    };
    expect(wordsAt("chords | 2m7 ‸5:7 |", "right | b3+b7 _b7+3 |", "left | 1 |")).toBe(
      "Left hand: D2 (held). Right hand: F3 (held) B3.",
    );
    expect(wordsAt("right | ‸C4+E4 |")).toBe("Right hand: C4 E4.");
    expect(wordsAt("chords | 1 |", "right | r |", "left | 1+5 ‸- |")).toBe("Left hand: C2 G2 (held).");
  });

  test("there is room for every hand that plays in the section, and for no other", () => {
    const handsAt = (...lines: readonly string[]) => {
      const { text, cursor } = atCursor(rows(...lines));
      return picturedMoment(openDocument("chart.plagal", text), cursor)?.hands;
    };
    expect(handsAt("chords | 1 | 1 |", "right | ‸3 | 3 |", "left | r | 1 |")).toEqual(["right", "left"]);
    expect(handsAt("chords | 1 |", "right | ‸3 |", "section B", "left | C2 |")).toEqual(["right"]);
    expect(handsAt("chords | ‸1 |", "lead | 5 |", "right | 3 |")).toEqual(["right"]);
    expect(handsAt("chords | 1 |", "lead | 5 |", "right | 3 |", "", "lead | 1 |", "bass | ‸1 |")).toEqual([
      "right",
      "left",
    ]);
  });
});

test.each([
  rows("chords | ‸1 |"),
  rows("chords | 1 | ‸% |", "right | 3 | 3 |"),
  rows("chords | 1 | 1 |", "right | 3 | ‸% |"),
  rows("chords | 1 ‸r |", "right | 3 |"),
  rows("chords | 1 ‸NC |", "right | 3 |"),
  rows("chords | ‸/3 |", "right | C4 |"),
  rows("right | ‸3 |"),
  rows("chords | 1 |", "right | ‸- |"),
  rows("lead | 1 |", "words | l‸a |"),
  rows("‸chords | 1 |", "right | 3 |"),
  rows("chords ‸| 1 |", "right | 3 |"),
  "key ‸C\nsection A\nright | C4 |\n",
  "‸",
])("nothing is drawn at the cursor of %j", (chart) => expect(drawnAt(chart)).toBe(""));

/** Draws at each of the places, and judges what any picture must be. */
function drawEverywhere(text: string, places: Iterable<number>): void {
  const document = openDocument("chart.plagal", text, usedFiles);
  for (const at of places) {
    const found = picturedMoment(document, at);
    if (found === undefined) continue;
    const { keys, chord, hands } = found;
    const names = keys.map(({ hand, pitch }) => `${hand} ${pitch.midi}`);
    expect(new Set(names).size).toBe(names.length);
    expect(keys.length).toBeGreaterThan(0);
    for (const { hand, pitch } of keys) {
      expect(hands).toContain(hand);
      expect(pitch.midi >= 21 && pitch.midi <= 108).toBe(true);
    }
    for (const theme of Object.keys(groundOf) as PictureTheme[]) {
      const { svg, words } = pictures.keyboard(keys, chord, hands, theme);
      expect(svg).toMatch(/^<svg [^>]*><title>[^<]+<\/title>.*<\/svg>$/);
      expect(words).not.toMatch(/No key is down|undefined|NaN/);
      expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    }
  }
}

property(
  "wherever something is drawn, it is keys of the piano in the hands that play",
  fc.oneof(anyChart({ mixedSigns: true, furtherKeys: true, notation: "mixed" }), hostileText),
  40,
  (text) =>
    drawEverywhere(
      text,
      Array.from(text, (_, i) => i).filter((i) => i % 3 === 0),
    ),
);

test.each(hostileCharts.filter(([, text]) => text.length < 30_000))(
  "a chart that nobody writes is drawn, or not: %s",
  (_, text) => {
    const step = Math.ceil(text.length / 40);
    drawEverywhere(
      text,
      Array.from({ length: 40 }, (_, i) => i * step),
    );
  },
);
