import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { posix } from "node:path";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Files, openDocument } from "../../server/src/document/document.js";
import { hover } from "../../server/src/features/hover.js";
import { markdown, plainText } from "../../server/src/features/markup.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { firstLine, hoverAt, hoverMarkdown, hoverPage } from "../support/hover-text.js";
import { dedent } from "../support/memory-io.js";
import { property } from "../support/property.js";

const says = (chart: string, expected: string): void => {
  expect(`${hoverAt(chart)}\n`).toBe(dedent(expected));
};

const rows = (...lines: readonly string[]): string => `key C major\nsection Verse\n${lines.join("\n")}\n`;

describe("on a tone", () => {
  test("a player reads its name, numbers, hand, chord, and all that sounds with it", () => {
    says(
      rows(
        "chords | 5:7    | 1     |",
        "lead   | 5      | 3     |",
        "right  | 3+b‸7+9 | 3+5+1 |",
        "left   | 1      | 1     |",
        "words  | Home   | now   |",
      ),
      `
        F4, the ♭7 of G7 (the 4 of the key) · right hand

        Flat seven, a guide tone. G7 (5:7), the 5, and goes to the 1.

        Finger 3 of 1 3 5, from the lowest key up; easy in all twelve keys.

        sounds      notes     of G7   of the key
        lead        G4        1       5
        right hand  B3 F4 A4  3 ♭7 9  7 4 6
        left hand   G2        1       5

        Sung: “Home”.

        Bar 1, beat 1, for 4 beats.
      `,
    );
  });

  test("of the melody its number in the key comes first", () => {
    expect(firstLine(rows("chords | 4 |", "lead | ‸3 |", "right | 3+5 |"))).toBe(
      "E4, the 3 of the key (the 7 of F) · lead",
    );
    expect(firstLine(rows("chords | 4 |", "lead | ‸3 |"))).toBe(
      "E4, the 3 of the key (the 7 of F) · lead, right hand",
    );
    expect(firstLine(rows("chords | 4 |", "bass | ‸0 |"))).toBe(
      "F2, the 4 of the key (the 1 of F) · bass, left hand",
    );
  });

  test("that is held its start and what it was before are told", () => {
    const said = hoverAt(rows("chords | 2m7 5:7 |", "right | b3+5+b7 _‸b7+9+3 |"));
    expect(said).toContain("F3, the ♭7 of G7");
    expect(said).toContain("Held from bar 1, beat 1, where it was the ♭3 of Dm7.");
  });

  test("that is pushed the next chord is its chord", () => {
    const said = hoverAt(rows("chords | 1 4 |", "right | (3+5 !‸3+5) 1 |"));
    expect(said).toContain("A3, the 3 of F (the 6 of the key)");
    expect(said).toContain("Pushed: played early, and its numbers count from the next chord.");
  });

  test("with two accidentals its plain name is shown, and its strict one told", () => {
    const said = hoverAt("key Gb major\nsection A\nchords | 4m7b5 |\nright | b5‸ |\n");
    expect(said).toContain("F4, the ♭5 of");
    expect(hoverAt("key Gb major\nsection A\nchords | 4m |\nright | b‸3 |\n")).toContain(
      "Strictly spelled E♭♭4.",
    );
  });

  test("that slips into another both are told", () => {
    expect(firstLine(rows("chords | 1 |", "right | b‸3~3 |"))).toBe(
      "E♭3, the ♭3 of C (the ♭3 of the key) · right hand",
    );
    expect(hoverAt(rows("chords | 1 |", "right | b‸3~3 |"))).toContain("it slips into the next tone");
    expect(hoverAt(rows("chords | 1 |", "right | b3~3‸+5 |"))).toContain("E♭3 slips into E3.");
  });

  test("with no chord to count from the way out is told", () => {
    says(
      rows("right | ‸3 |"),
      `
        3 doesn't sound · right hand

        There is no chord here that the number could count from. Write a chord above it, a k before the number to count from the key, or a letter.
      `,
    );
  });

  test.each([
    ["5:7", "3", "Major third, a guide tone."],
    ["5:7", "5", "Fifth."],
    ["5:7", "b9", "Flat nine, added to the chord."],
    ["5:7b9", "b9", "Flat nine, a colour tone."],
    ["5:7#9", "#9", "Sharp nine, a colour tone."],
    ["5:7#5", "#5", "Sharp five, a colour tone."],
    ["4maj7#11", "#11", "Sharp eleven, a colour tone."],
    ["5:7sus", "4", "Suspended fourth."],
    ["5:7sus", "3", "Major third, against the symbol."],
    ["1add2", "2", "Added second."],
    ["7m7b5", "b5", "Flat five."],
    ["#1dim7", "bb7", "Diminished seven, a guide tone."],
    ["1:6", "6", "Sixth, a colour tone."],
    ["1", "1", "Root."],
  ])("over %s the %s is the %s", (chord, tone, expected) => {
    expect(hoverAt(rows(`chords | ${chord} |`, `right | ‸${tone} |`))).toContain(`${expected} `);
  });
});

describe("on a stack and on the signs among slots", () => {
  test.each([
    ["right  | 3‸+5+1 |", "E3 G3 C4: 3 5 1 of C (3 5 1 of the key) · right hand"],
    ["right  | ‸~3+5+1 |", "E3 G3 C4, rolled: 3 5 1 of C (3 5 1 of the key) · right hand"],
    ["right  | 3+5 ‸- |", "E3 G3, held: 3 5 of C (3 5 of the key) · right hand"],
    ["right  | 3+5 ‸= |", "E3 G3: 3 5 of C (3 5 of the key) · right hand"],
    ["right  | 3+5 ‸r |", "Rest · right hand"],
    ["right  | ‸- |", "Goes on · right hand"],
    ["right  | ‸= |", "The slot before, struck again · right hand"],
    ["lead   | (1 ‸- 3) |", "C4, held: 1 of the key (1 of C) · lead, right hand"],
    ["lead   | ‸>(1 2) |", "2 slots in the time of one"],
  ])("%s", (row, expected) => expect(firstLine(rows("chords | 1 |", row))).toBe(expected));

  test("% lists what it plays again", () => {
    says(
      rows("chords | 1 | 4 |", "right | 3+5 1 | ‸% |"),
      `
        The bar before once more · right hand

        Its numbers follow the chords of this bar.

        - beat 1: A3 C4 (3 5 of F)
        - beat 3: F3 (1 of F)
      `,
    );
  });

  test("a group with > says where it moves what is inside", () => {
    expect(hoverAt(rows("lead | ‸>(1 2) |"))).toContain("moves every slot inside an octave up");
  });
});

describe("on a chord", () => {
  test("a player reads tones, guide and colour tones, what it does, where it goes, and its scales", () => {
    says(
      rows("chords | 2:7‸#9 5:7 |"),
      `
        D7♯9 (2:7♯9), dominant of the 5, and goes there

        tone  in the chord  in the key  what it is
        D     1             2           root
        F♯    3             ♯4          major third, a guide tone
        A     5             6           fifth
        C     ♭7            1           flat seven, a guide tone
        E♯    ♯9            ♯3          sharp nine, a colour tone

        Then G7, the 5:7.
        Colours to add: flat nine (E♭), sharp eleven (G♯), thirteen (B).
        Scale: D half-whole diminished, D E♭ E♯ F♯ G♯ A B C
      `,
    );
  });

  test("its bass stands first", () => {
    expect(hoverAt(rows("chords | 1:7‸/3 4 |")).split("\n")[3]).toBe("E     3             3           bass");
  });

  test("scales can be left out", () => {
    const document = openDocument("chart.plagal", rows("chords | 5:7 |"));
    const found = hover(document, document.text.indexOf("5:7"), { scales: false });
    expect(plainText(found?.text ?? [])).not.toMatch(/Scale|Colours/);
  });

  test("repeats and endings give it more than one way on", () => {
    const said = hoverAt(rows("chords |: 1 ‸5:7 |1. 4 :|2. 6 |"));
    expect(said).toContain("Then F, the 4 (first ending) and Am, the 6 (second ending).");
  });

  test.each([
    ["chords | 1 ‸/ / 4 |", "C, the 1 · one more beat"],
    ["chords | 1 ‸- |", "C, the 1 · goes on"],
    ["chords | 5 ‸r |", "Stop time: the chord is silent"],
    ["chords | 5 ‸NC |", "No chord from here"],
    ["chords | 1 | ‸% |", "The bar before once more"],
    ["chords | ‸/3 |", "A bass alone"],
    ["chords | ‸/ 1 |", "Goes on with the chord before"],
    ["chords | 1 ‸= |", ""],
    ["chords | ‸4m 1 |", "Fm (4m), the 4, borrowed from the parallel minor"],
    ["chords | ‸b2:7 1 |", "D♭7 (b2:7), tritone substitute for the dominant of the 1"],
  ])("%s", (row, expected) => expect(firstLine(rows(row))).toBe(expected.replace("b2", "♭2")));
});

describe("on a key", () => {
  test("the singer's keys stand with the melody's lowest and highest note", () => {
    says(
      "key ‸Eb major\nsection A\nlead | <5 1 3 >1 |\n",
      `
        E♭ major: 3 flats (B♭ E♭ A♭), relative minor C minor

        Its tones, 1 to 7: E♭ F G A♭ B♭ C D.

        The melody goes from B♭3 to E♭5. In other keys:

        key       signs  half steps  lowest  highest
        E♭ major  3♭     here        B♭3     E♭5
        E major   4♯     1 up        B3      E5
        F major   1♭     2 up        C4      F5
        G♭ major  6♭     3 up        D♭4     G♭5
        G major   1♯     4 up        D4      G5
        A♭ major  4♭     5 up        E♭4     A♭5
        A major   3♯     6 down      E3      A4
        B♭ major  2♭     5 down      F3      B♭4
        B major   5♯     4 down      F♯3     B4
        C major   –      3 down      G3      C5
        D♭ major  5♭     2 down      A♭3     D♭5
        D major   2♯     1 down      A3      D5
      `,
    );
  });

  test.each([
    ["key ‸C", "C major: no sharps or flats, relative minor A minor"],
    ["key F# m‸inor", "F♯ minor: 3 sharps (F♯ C♯ G♯), relative major A major"],
    ["key ‸D dorian", "D dorian: no sharps or flats, the notes of C major"],
    ["key ‸G mixolydian", "G mixolydian: no sharps or flats, the notes of C major"],
    ["key ‸G# major", "G♯ major: 8 sharps, more than a signature has, relative minor E♯ minor"],
    ["key C\nkey ‸F", "The chart is in C major"],
    ["section A\nkey ‸F\nlead | 1 |", "F major: 1 flat (B♭), relative minor D minor"],
  ])("%s", (chart, expected) => expect(firstLine(chart)).toBe(expected));

  test("a chart that was moved says from where, and counts the way to each key from its home", () => {
    const said = hoverAt("key Ab major (or‸iginal F)\nsection A\nlead | 1 |\n");
    expect(said).toContain("Written in F; here the whole chart sounds 3 half steps up.");
    expect(said).toContain("B major   5♯     9 down      B3      B3");
  });

  test("sections that are played in other keys count for the melody's range", () => {
    expect(hoverAt("key ‸C\nform A A up whole\nsection A\nlead | 1 5 |\n")).toContain(
      "The melody goes from C4 to A4.",
    );
  });

  test("without a melody there is nothing to choose by", () => {
    expect(hoverAt("key ‸C\n")).toContain("There is no lead row");
  });
});

describe("on the other lines", () => {
  test.each([
    ["time ‸6/8", "6/8: 2 beats in a bar, each a dotted quarter"],
    ["time ‸3/4", "3/4: 3 beats in a bar, each a quarter"],
    ["time ‸2/2", "2/2: 2 beats in a bar, each a half note"],
    ["time ‸5/8", "5/8: 5 beats in a bar, each an eighth"],
    ["tempo ‸72", "72 beats a minute"],
    ["feel ‸shuffle", "shuffle: the first half of a beat is twice as long as the second"],
    ["reach ‸9", "Each hand reaches a ninth"],
    ["reach left 8 ‸right 10", "The left hand reaches an octave and the right hand reaches a tenth"],
    ["title ‸Quiet *Water*", "title: Quiet *Water*"],
    ["section A\nlands ‸b7\nlead | 1 |", "Leads into the ♭7"],
    ['section "Long ‸Name"\nchords | 1 | 4 |', "Long Name: 2 bars of 4/4, C major"],
    ["section ‸A", "A: no bars"],
    ["section A\nlead | 1 |\nform A‸ x2", "A twice: 1 bar of 4/4, C major"],
    ["section A\nlead | 1 |\nform ‸B", "B: no section has this name"],
    ["section A\nlead | 1 |\nform A ‸in Eb", "A in E♭ major, 3 half steps up from where it is written"],
    ["section A\nlead | 1 |\nform A x‸3", "A is played 3 times"],
    ["section A\nlead fr‸om C3 | 1 |", "The lead row is at home from C3"],
    ['use "lost‸.plagal"', "The sections of lost.plagal"],
  ])("%s", (chart, expected) => expect(firstLine(chart)).toBe(expected));

  test("a section where it opens says what it holds and in which keys it is played", () => {
    says(
      `key C
section ‸Verse
lands 4
vamp
chords | 1 | 5:7 |
lead   | 1 | 5   |
words  | a | b   |
words  | c | d   |
form Verse Verse up half
`,
      `
        Verse: 2 bars of 4/4, C major

        Rows: chords, lead, words (2 verses).
        It starts on C (1) and ends on G7 (5:7).
        The melody goes from C4 to G4.
        It leads into the 4.
        It is repeated until cued.
        It is played in C major and D♭ major.
      `,
    );
  });

  test("a section moved in the form is told in the key in which it sounds", () => {
    expect(hoverAt("section A\nchords | 1 | 5:7/4 |\nform A‸ up half\n")).toContain(
      "It starts on D♭ (1) and ends on A♭7/G♭ (5:7/4).",
    );
  });

  test("a used chart says what it brings in", () => {
    expect(hoverAt('use "tags‸.plagal"\n', usedFiles)).toContain("It brings in Turnaround and Amen.");
  });

  test("every first word of a line is explained, a row with its home octave", () => {
    const words = "title by note key time tempo feel reach form use section lands vamp play".split(" ");
    for (const word of words) expect(hoverAt(`‸${word} `).split("\n")[0]).toMatch(new RegExp(`^${word}: .`));
    for (const row of "chords lead right left bass words cue".split(" ")) {
      expect(hoverAt(`‸${row} | 1 |`).split("\n")[0]).toMatch(new RegExp(`^${row}: .`));
    }
    expect(hoverAt("key Ab\nsection A\nri‸ght | r |")).toContain("At home from B3 to B♭4 in A♭ major");
    expect(hoverAt("section A\nleft from G2 | C |\n\nle‸ft | D |")).toContain("At home from G2 to F♯3:");
  });

  test("bar lines and endings say what is played next", () => {
    const chart = (text: string): string => firstLine(rows(`chords ${text}`));
    expect(chart("‸|: 1 | 4 :|")).toBe("A repeat starts");
    expect(chart("|: 1 | 4 :‸| x3")).toBe("A repeat ends");
    expect(hoverAt(rows("chords |: 1 | 4 :‸| x3"))).toContain("Played 3 times in all");
    expect(chart("| 1 ‸| 4 |")).toBe("Bar line");
    expect(chart("| 1 ‸|| 4 |")).toBe("Double bar line");
    expect(chart("|: 1 |‸1. 4 :|2. 5 |")).toBe("First ending");
    expect(chart("|: 1 |1. 4 :|‸2. 5 |")).toBe("Second ending");
    expect(chart("|: 1 ‸:|: 4 :|")).toBe("A repeat ends here, and the next one starts");
  });

  test("a syllable says its notes, a cue its bar", () => {
    says(
      rows("chords | 4 |", "lead | 4 5 |", "words | ‸Light |"),
      `
        “Light” on F4 G4, the 4 5 of the key

        Over F (4).
        Bar 1, beat 1.
      `,
    );
    expect(firstLine(rows("lead | 4 |", "words | a b‸ |"))).toBe("No note for this syllable");
    expect(firstLine(rows("chords | 4 |", "words | a b‸ |"))).toBe("“a b”");
    expect(firstLine(rows("chords | 4 |", "cue | hold ‸it |"))).toBe("Cue: hold it");
  });

  test.each(["‸", "key C ; wh‸y", "wrong‸", "section A\nlead | ‸ |", "key C ‸ major"])(
    "there is nothing to say at %s",
    (chart) => expect(hoverAt(chart)).toBe(""),
  );
});

describe("on what a hand holds", () => {
  const under = (chart: string): string =>
    hoverAt(chart).split("\n\nsounds")[0]?.split("\n\n").slice(2).join("\n") ?? "";

  test("its fingers are those of the whole passage", () => {
    const scale = (at: string): string => `key C major\nsection A\nlead | ${at} |\n`;
    expect(hoverAt(scale("1 2 3 ‸4 5 6 7 >1"))).toContain("Finger 1.");
    expect(hoverAt(scale("1 2 ‸3 4 5 6 7 >1"))).toContain("Finger 3.");
  });

  test("the twelve keys stand by where it is easy, a stretch, or can't be held", () => {
    expect(under(rows("chords | 1 |", "left | 1‸+>b3 |", "right | 3 |"))).toBe(
      [
        "The left hand can't hold it here: from C2 to E♭3 is a minor tenth of 202.1 mm, and a reach of a ninth holds 200.5.",
        "left hand, reach of a ninth  in these keys",
        "a stretch                    F A♭",
        "can't be held                C D♭ D E♭ E G♭ G A B♭ B",
        "A stretch can be held and is not easy: warm up, and stop if it hurts. If your hand is smaller, say so with the setting plagal.reach.left.",
        "Where it can't be held, roll it (~), or leave a tone out. If your own hand reaches further, write “reach left 10” at the top, or say so with the setting plagal.reach.left.",
      ].join("\n"),
    );
  });

  test("what lies alike in all twelve keys needs no row", () => {
    expect(under(rows("chords | 1 |", "left | 1‸+>2 |", "right | 3 |"))).toBe(
      [
        "Fingers 5 1, from the lowest key up; a stretch in all twelve keys.",
        "A stretch can be held and is not easy: warm up, and stop if it hurts. If your hand is smaller, say so with the setting plagal.reach.left.",
      ].join("\n"),
    );
  });

  test("what can't be held has no fingers, and the reach that would say otherwise", () => {
    const said = under(rows("chords | 1 |", "left | 1‸+>3 |"));
    expect(said).not.toContain("Finger");
    expect(said).toContain("“reach left 10” at the top, or say so with the setting plagal.reach.left");
  });

  test("what can't be held has its reason in a line", () => {
    const why = (reach: number, line: string): string =>
      under(`reach ${reach}\n${rows("chords | 1 |", line)}`).split("\n")[0] ?? "";
    expect(why(8, "left | C3‸+E3+G3+Bb3+C4 |")).toBe(
      "The left hand can't hold it here: from C3 to B♭3 its fingers 5 and 2 would have to stand 132.6 mm apart, and with a reach of an octave they stand 130 apart at most.",
    );
    expect(why(9, "right | C4‸+E4+G4+Bb4+C5+D5 |")).toBe(
      "The right hand can't hold it in any key: six keys need two of them under the thumb, and C4 and E4 are no neighbours of one colour.",
    );
    expect(why(9, "left | C2‸+D2+E2+F2+G2+A2+B2 |")).toBe(
      "The left hand can't hold it in any key: these are 7 keys, and a hand holds 6 at most.",
    );
  });

  test("a roll needs no span", () => {
    expect(under(rows("chords | 1 |", "left | ~1‸+5+>3 |"))).not.toContain("reach of");
  });

  test("the chart's own reach counts", () => {
    expect(under(`reach 10\n${rows("chords | 1 |", "left | 1‸+>3 |")}`)).toContain(
      "left hand, reach of a tenth",
    );
  });

  test("somebody else's line has no fingers", () => {
    expect(hoverAt(rows("lead | ‸1 |", "right | C4 |"))).not.toContain("Finger");
  });
});

describe("Markdown", () => {
  test("has the words in bold, tables and line breaks", () => {
    expect(hoverMarkdown(rows("chords | 1 |", "right | 3‸+5 |", "left | 1 |"))).toBe(
      [
        "**E3 G3: 3 5 of C (3 5 of the key) · right hand**",
        "",
        "C, the 1.",
        "",
        "Fingers 1 2, from the lowest key up; easy in all twelve keys.",
        "",
        "| sounds | notes | of C | of the key |",
        "| --- | --- | --- | --- |",
        "| right hand | E3 G3 | 3 5 | 3 5 |",
        "| left hand | C2 | 1 | 1 |",
        "",
        "Bar 1, beat 1, for 4 beats.",
      ].join("\n"),
    );
  });

  test("takes nothing in the chart's own text for a sign", () => {
    expect(hoverMarkdown("title ‸*a* _b_ [c](d) <e> `f` | ~g~ & h")).toContain(
      "**title: \\*a\\* \\_b\\_ \\[c\\](d) \\<e\\> \\`f\\` \\| \\~g\\~ \\& h**",
    );
    expect(markdown([{ kind: "lines", lines: ["# a", "- b", "1. c", "> d"] }])).toBe(
      "\\# a  \n\\- b  \n1\\. c  \n\\> d",
    );
    expect(markdown([{ kind: "table", head: ["a|b"], rows: [["c\nd"]] }])).toBe(
      "| a\\|b |\n| --- |\n| c␊d |",
    );
  });
});

property(
  "Something short, or nothing, is said at every place of any text",
  fc.oneof(anyChart({ mixedSigns: true, furtherKeys: true, original: true, notation: "mixed" }), hostileText),
  40,
  (text) => {
    const document = openDocument("chart.plagal", text, usedFiles);
    for (let at = 0; at <= text.length; at++) {
      const found = hover(document, at);
      if (found === undefined) continue;
      const sizes = [markdown(found.text), plainText(found.text)].map((it) => Buffer.byteLength(it));
      expect(Math.max(...sizes)).toBeLessThan(20 * 1024);
      expect(Math.min(...sizes)).toBeGreaterThan(0);
    }
  },
);

test("Long names and lists stay short", () => {
  const long = "x".repeat(50_000);
  const many = Array.from({ length: 500 }, () => "3").join(" ");
  const chart = `title ${long}\nkey C\nsection ${long}\nchords | 1 | 4 |\nright | ${many} | % |\ncue | ${long} |\n`;
  const document = openDocument("chart.plagal", chart);
  for (const part of [long, `section ${long}`, "%", "cue | x"]) {
    const at = chart.indexOf(part) + part.length - 1;
    const found = hover(document, at);
    expect(found).toBeDefined();
    expect(Buffer.byteLength(markdown(found?.text ?? []))).toBeLessThan(20 * 1024);
  }
  const tones = Array.from({ length: 2000 }, (_, i) => `B${i % 8}~C${i % 9}`).join("+");
  for (const sign of ["+B1", "-", "%", "1 |", "C0"]) {
    const piled = `key C\nchords | 1 1 |\nright | ${tones} - | % |\nleft | C2 ${tones} |\n`;
    const found = hover(openDocument("chart.plagal", piled), piled.indexOf(sign));
    expect(Buffer.byteLength(markdown(found?.text ?? []))).toBeLessThan(20_000);
  }
  expect(hoverAt(`right | ${tones.replace("+", "‸+")} |\n`)).toContain("…: ");
});

/** `PLAGAL_GOLDEN=write` takes what is said now as expected; then read what changed, as a musician. */
const isWriting = process.env.PLAGAL_GOLDEN === "write";
const folder = new URL("../charts/", import.meta.url);
const charts = Object.fromEntries(
  readdirSync(folder)
    .filter((name) => name.endsWith(".plagal"))
    .map((name) => [name, readFileSync(new URL(name, folder), "utf8")]),
);
const files: Files = {
  find: (from, path) => {
    const wanted = posix.join(posix.dirname(from), path);
    const text = charts[wanted];
    return text === undefined ? { kind: "missing" } : { kind: "text", path: wanted, text };
  },
};

test.each(["harbour-evening", "sunday-vamp"])("%s is explained as expected at every word", (name) => {
  const page = hoverPage(`${name}.plagal`, charts[`${name}.plagal`] as string, files);
  const golden = new URL(`../golden/hover-${name}.txt`, import.meta.url);
  if (isWriting) writeFileSync(golden, page);
  expect(page).toBe(readFileSync(golden, "utf8"));
});
