import { describe, expect, test } from "vitest";
import { type Files, openDocument, type Settings } from "../../server/src/document/document.js";
import { check, fix, fixTitles } from "../support/check-chart.js";
import { chartText } from "../support/edit-chart.js";

const settings: Settings = { severities: { jump: "off" }, reach: { left: undefined, right: undefined } };
const factsIn = (chart: string, files?: Files): readonly Readonly<Record<string, unknown>>[] =>
  openDocument("chart.plagal", chartText(chart), files, settings).problems.flatMap(({ code, facts }) =>
    code === "too-far-too-fast" ? [facts] : [],
  );
/** What is told, a line each: from what to what, the time that there is and the time that it takes. */
const told = (chart: string, files?: Files): readonly string[] =>
  factsIn(chart, files).map(({ kind, from, to, tones, has, needs }) => {
    const names = (list: unknown): string => (list as string[]).join("+");
    const what = kind === "roll" ? `~${names(tones)}` : `${names(from)} to ${names(to)}`;
    return `${what}: ${has} of ${needs}`;
  });

describe("too-far-too-fast", () => {
  describe("a leap", () => {
    test("is told of with the time that there is, where the tempo leaves too little, and where the hand comes from", () => {
      check(
        "too-far-too-fast",
        `
      tempo 150
      section A
      chords | 1                  |
      left   | (<1 >3+5+1) - - -  |
                ~~ The hand comes from here.
                   ^^^^^^ At tempo 150 the left hand has 200 ms to get from C1 to E3, G3 and C4, two octaves and one white key beyond what it covers, and needs 285. Play one of the two in a nearer octave, leave one out, or slow down.
      `,
      );
    });

    // The worked leaps: the quickest beat at which each is played on successive beats, rounded.
    test.each([
      ["left", "C2", "E3+G3+C4", 262],
      ["left", "C2+C3", "E3+G3+C4", 275],
      ["left", "C2", "E3+Bb3+D4", 250],
      ["left", "F1", "A3+C4+F4", 211],
      ["right", "C4+E4+G4", "C5+E5+G5", 315],
      ["left", "C3+C4", "C4+C5", 275],
    ])(
      "of the %s hand from %s to %s may come at %i beats a minute and hardly faster",
      (hand, from, to, tempo) => {
        const chart = (beats: number): string => `tempo ${beats}\n${hand} | ${from} ${to} - - |\n`;
        expect(told(chart(tempo - 1))).toEqual([]);
        expect(told(chart(tempo + 1))).toHaveLength(1);
        // In eighths at half the tempo.
        const eighths = `tempo ${Math.ceil((tempo + 2) / 2)}\n${hand} | (${from} ${to}) - - - |\n`;
        expect(told(eighths)).toHaveLength(1);
      },
    );

    test.each([
      ["C4", "G4"],
      ["C4+C5", "E4+G4"],
      ["C4+E4+G4", "D4+F4+A4"],
      // The hand holds both at once, and rocks.
      ["C4", "C5"],
      ["C4+E4+G4", "C5"],
    ])("from %s to %s needs no time", (from, to) => {
      expect(told(`tempo 999\nright | ${from} ${to} (${from} ${to} ${from} ${to}) - |\n`)).toEqual([]);
    });

    test("is none in a tremolo that the hand holds as a grip, at its reach and in every key that is played", () => {
      const octave = "right | ((1 >1 1 >1 1 >1 1 >1)) - - - |\n";
      expect(told(`tempo 92\nchords | 1 |\n${octave}`)).toEqual([]);
      expect(told(`reach 7\ntempo 92\nchords | 1 |\n${octave}`)).toEqual([
        "C4 to C5: 81 of 124",
        "C5 to C4: 81 of 124",
      ]);
      const tenth = (form: string): string =>
        `tempo 120\nreach 10\n${form}section A\nleft | (C3 E4 C3 E4) - - - |\n`;
      expect(told(tenth(""))).toEqual([]);
      expect(told(tenth("form A A in Db\n"))).toEqual(["C3 to E4: 125 of 165", "E4 to C3: 125 of 165"]);
      expect(told("tempo 240\nleft | (C3 G3+E4 C3 G3+E4) - - - |\n")).toHaveLength(2);
    });

    test("is not judged without a tempo", () => {
      expect(told("left | (C1 C5 C1 C5 C1 C5 C1 C5) - - - |\n")).toEqual([]);
      expect(told("left | (C1 C5 C1 C5) - - - |\n\ntempo 60\nleft | (C1 C4) - - - |\n")).toEqual([]);
      expect(told("left | (C1 C5 C1 C5) - - - |\n\ntempo 300\nleft | C1 C4 - - |\n")).toEqual([
        "C1 to C4: 200 of 285",
      ]);
    });

    test("counts the tempo in the meter's beats", () => {
      // A dotted quarter of 400 ms: its eighths are 133 ms.
      expect(told("time 6/8\ntempo 150\nleft | C2 C3 - - - - |\n")).toEqual([]);
      expect(told("time 6/8\ntempo 150\nleft | C2 E3 - - - - |\n")).toEqual(["C2 to E3: 133 of 151"]);
      expect(told("time 3/4\ntempo 150\nleft | C2 E3 - |\n")).toEqual([]);
    });

    test("over what stays down is none", () => {
      expect(told("tempo 500\nleft | C3 _C3+E4 - - |\n")).toEqual([]);
      expect(told("tempo 500\nleft | C3 C4+E5 - - |\n")).toHaveLength(1);
    });

    test("has the time of what is held and rested before it", () => {
      expect(told("tempo 300\nleft | C1 C4 - - |\n")).toEqual(["C1 to C4: 200 of 285"]);
      expect(told("tempo 300\nleft | C1 - C4 - |\n")).toEqual([]);
      expect(told("tempo 300\nleft | C1 r C4 - |\n")).toEqual([]);
      expect(told("tempo 300\nleft | (C1 r) (r r C4 r) - - |\n")).toEqual([]);
      expect(told("tempo 300\nleft | (C1 r) C4 - - |\n")).toEqual(["C1 to C4: 200 of 285"]);
    });

    test("is told of once for each pair of grips, and where it comes again", () => {
      check(
        "too-far-too-fast",
        `
      tempo 300
      section A
      left   | C1 C4 r C1 | C4 - - - |
               ~~ The hand comes from here.
                  ^^ … 200 ms to get from C1 to C4, two octaves and one white key beyond what it covers, and needs 285. …
                            ~~ Here again.
      `,
      );
      expect(told("tempo 300\nleft | C1 C4 - - | % | % |\n")).toHaveLength(1);
      expect(told("tempo 300\nleft | C1 C4 C1 - |\n")).toEqual([
        "C1 to C4: 200 of 285",
        "C4 to C1: 200 of 285",
      ]);
    });

    test("goes over the break between systems, from the melody's row to the hand's own", () => {
      expect(told("tempo 300\nlead | r r r C4 |\n\nright | C7 - - - |\n")).toEqual(["C4 to C7: 200 of 285"]);
      expect(told("tempo 300\nbass | r r r C1 |\n\nleft | C4 - - - |\n")).toEqual(["C1 to C4: 200 of 285"]);
    });

    test("of a melody that somebody else sings or plays is none", () => {
      expect(told("tempo 300\nlead | C4 C7 - - |\nright | C4 - - - |\n")).toEqual([]);
      expect(told("tempo 300\nlead | C4 C7 - - |\n")).toHaveLength(1);
    });

    test("after something that can't be read is unknown", () => {
      expect(told("tempo 300\nleft | C1 hm C4 - |\n")).toEqual([]);
      expect(told("tempo 999\nleft | C1 (hm C4) - - |\n")).toEqual([]);
    });

    test("is judged in the keys that the form plays", () => {
      check(
        "too-far-too-fast",
        `
      form A A in Db
      section A
      tempo 380
      left | C2 E3 - - |
             ~~ The hand comes from here.
                ^^ At tempo 380 the left hand has 157 ms to get from C2 to E3 when it is played in D♭ major, four white keys beyond what it covers, and needs 165. …
      `,
      );
    });

    test("by a grace note costs nothing of its own", () => {
      expect(told("tempo 300\nchords | 1 |\nright | 3 b3~3 5 - |\n")).toEqual([]);
    });
  });

  describe("on its way through repeats", () => {
    test("a hand goes back to the start", () => {
      expect(told("tempo 300\nleft |: C1 - - C4 :|\n")).toEqual(["C4 to C1: 200 of 285"]);
      expect(told("tempo 300\nleft | C1 - - - | r - - C4 :|\n")).toEqual(["C4 to C1: 200 of 285"]);
      expect(told("tempo 300\nleft | C1 - - - |: C3 - - C4 :| C4 - - - |\n")).toEqual([]);
      expect(told("tempo 300\nleft |: C1 - - C4 :| x3\n")).toEqual(["C4 to C1: 200 of 285"]);
    });

    test("a hand goes into a second ending from before the first", () => {
      const chart = (first: string, second: string): string =>
        `tempo 300\nleft |: C1 - - C2 | 1. ${first} - - C2 :| 2. ${second} - - - ||\n`;
      expect(told(chart("C2", "C2"))).toEqual([]);
      expect(told(chart("C2", "C5"))).toEqual(["C2 to C5: 200 of 285"]);
      expect(told(chart("C5", "C2"))).toEqual(["C2 to C5: 200 of 285"]);
      expect(told("tempo 300\nleft |: C2 - - - | 1. C2 - - C5 :| 2. C2 - - - ||\n")).toEqual([
        "C5 to C2: 200 of 285",
      ]);
    });

    test("a pickup is played where the music comes from before, in place of what it covers", () => {
      expect(told("tempo 300\nleft | C1 - - - |\n\nleft C4 | C4 - - - |\n")).toEqual([]);
      expect(told("tempo 300\nleft | C1 - C1 - |\n\nleft C4 | C4 - - - |\n")).toEqual([
        "C1 to C4: 200 of 285",
      ]);
      expect(told("tempo 300\nleft | C4 - - C1 |\n\nleft C4 | C4 - - - |\n")).toEqual([]);
      expect(told("tempo 300\nleft | C1 - - C1 |\n\nleft C4\n")).toEqual([]);
      expect(told("tempo 300\nleft C1 |: C4 - - C4 :|\n")).toEqual(["C1 to C4: 200 of 285"]);
    });
  });

  describe("a roll", () => {
    test("takes no longer than half of its tones and half a beat", () => {
      check(
        "too-far-too-fast",
        `
      tempo 380
      section A
      left | ~C2+G2+E3 - - - | ~C2+G2+E3 - - - |
             ^^^^^^^^^ The left hand needs 80 ms to roll C2, G2 and E3, and at tempo 380 it has 78: half the time that they last, and at most half a beat. Strike the tones together, roll fewer of them, or slow down.
                               ~~~~~~~~~ Here again.
      `,
      );
      expect(told("tempo 370\nleft | ~C2+G2+E3 - - - |\n")).toEqual([]);
      // An eighth of 162 ms; held on for another one.
      expect(told("tempo 185\nleft | (~C2+G2+E3 r) r - - |\n")).toEqual([]);
      expect(told("tempo 190\nleft | (~C2+G2+E3 r) r - - |\n")).toEqual(["~C2+G2+E3: 78 of 80"]);
      expect(told("tempo 190\nleft | (~C2+G2+E3 -) r - - |\n")).toEqual([]);
    });

    test("takes longer from key to key than a hand covers", () => {
      // 40 ms to the octave's end, and 151 for the tenth.
      expect(told("tempo 120\nleft | ~C2+E3 - - - |\n")).toEqual([]);
      expect(told("tempo 200\nleft | ~C2+E3 - - - |\n")).toEqual(["~C2+E3: 150 of 151"]);
      expect(told("reach 11\ntempo 200\nleft | ~C2+E3 - - - |\n")).toEqual(["~C2+E3: 150 of 151"]);
    });

    test("is left by its last tone, when that has been struck", () => {
      expect(told("tempo 200\nleft | C2+G2+C3 C1 - - |\n")).toEqual([]);
      expect(told("tempo 200\nleft | ~C2+G2+C3 C1 - - |\n")).toEqual(["C2+G2+C3 to C1: 220 of 230"]);
      check(
        "too-far-too-fast",
        `
      tempo 200
      right | ~C5+G5+C6 C4 - - |
              ~~~~~~~~~ The hand comes from here.
                        ^^ At tempo 200 the right hand has 220 ms to get from C5, G5 and C6, once they are rolled, to C4, an octave and one white key beyond what it covers, and needs 230. …
      `,
      );
    });

    test("is come into by its lowest tone", () => {
      expect(told("tempo 290\nleft | C1 C2+G2+C3 - - |\n")).toEqual(["C1 to C2+G2+C3: 206 of 218"]);
      expect(told("tempo 290\nleft | C1 ~C2+G2+C3 - - |\n")).toEqual([]);
    });
  });

  describe("from section to section", () => {
    const sections = (first: string, second: string): string =>
      `section A\ntempo 300\nleft | C3 - - ${first} |\nsection B\ntempo 300\nleft | ${second} - - C3 |\n`;

    test("a hand moves as the form plays them", () => {
      check(
        "too-far-too-fast",
        `
      tempo 300
      form A B B
      section A
      left | C3 - - C1 |
                    ~~ The hand comes from here.
      section B
      left | C4 - - C4 |
             ^^ At tempo 300 the left hand has 200 ms to get from C1 to C4, two octaves and one white key beyond what it covers, and needs 285. …
      `,
      );
      expect(told(`form A A\n${sections("C1", "C4")}`)).toEqual(["C1 to C3: 200 of 230"]);
      expect(told(`form A B\n${sections("C1", "C4")}`)).toEqual(["C1 to C4: 200 of 285"]);
      expect(told(sections("C1", "C4"))).toEqual(["C1 to C4: 200 of 285"]);
      expect(told(`form B A\n${sections("C1", "C4")}`)).toEqual([]);
      expect(told("tempo 300\nform A x2\nsection A\nleft | C1 - - C4 |\n")).toEqual(["C4 to C1: 200 of 285"]);
      expect(told("tempo 300\nsection A\nvamp\nleft | C1 - - C4 |\n")).toEqual(["C4 to C1: 200 of 285"]);
    });

    test("each section has its own tempo and its own key", () => {
      // Where one has none, nothing is judged.
      expect(told("section A\ntempo 300\nleft | C3 - - C1 |\nsection B\nleft | C4 |\n")).toEqual([]);
      expect(told("section A\nleft | C3 - - C1 |\nsection B\ntempo 300\nleft | C4 |\n")).toEqual([]);
      expect(told("tempo 70\nsection A\nleft | C3 - - C1 |\nsection B\ntempo 300\nleft | C4 |\n")).toEqual(
        [],
      );
      expect(told("tempo 70\nsection A\ntempo 300\nleft | C3 - - C1 |\nsection B\nleft | C4 |\n")).toEqual([
        "C1 to C4: 200 of 285",
      ]);
      const near = "tempo 300\nform A B in F\nsection A\nleft | C3 - - C3 |\nsection B\nleft | C4+E4 |\n";
      expect(told(near)).toEqual(["C3 to C4+E4: 200 of 206"]);
      expect(told(near.replace(" in F", ""))).toEqual([]);
    });

    test("a pickup is played over the end of what came before it", () => {
      expect(told("tempo 300\nsection A\nleft | C4 - - C1 |\nsection B\nleft C4 | C4 |\n")).toEqual([]);
      expect(told("tempo 300\nsection A\nleft | C4 - C1 r |\nsection B\nleft C4 | C4 |\n")).toEqual([
        "C1 to C4: 200 of 285",
      ]);
    });

    test("a section that plays another is left and come back to", () => {
      check(
        "too-far-too-fast",
        `
      tempo 300
      form A
      section A
      left | C3 - - C1 |
                    ~~ The hand comes from here.

      play B
      left | C1 - - - |
             ^^ … from C4 to C1, …
      section B
      left | C4 - - C4 |
             ^^ … from C1 to C4, …
                    ~~ The hand comes from here.
      `,
      );
      expect(
        told(
          "tempo 300\nform A\nsection A\nleft | C3 - - C1 |\nplay B\nleft | C4 - - - |\nsection B\nleft | C2 |\n",
        ),
      ).toEqual([]);
    });

    test("a section of another chart is judged where this chart's text meets it", () => {
      const files: Files = {
        find: (_from, path) => ({ kind: "text", path, text: "section B\nleft | C4 - - C4 |\n" }),
      };
      const chart = `use "b.plagal"\ntempo 300\nform A B A\nsection A\nleft | C1 - - C1 |\n`;
      expect(told(chart, files)).toEqual(["C4 to C1: 200 of 285", "C1 to C4: 200 of 285"]);
    });
  });

  describe("its fixes", () => {
    test("bring the later grip an octave nearer, wherever the pair comes", () => {
      fix(
        "too-far-too-fast",
        "tempo 150\nchords | 1 | 1 |\nright | (1 >>1+3+5) - - - | 1 - (1 >>1+3+5) 1 |\n",
        "tempo 150\nchords | 1 | 1 |\nright | (1 >1+3+5) - - - | 1 - (1 >1+3+5) 1 |\n",
      );
      expect(fixTitles("too-far-too-fast", "tempo 300\nleft | C4 C2 - C3 |\n")).toEqual([
        "Move C2 up an octave",
      ]);
    });

    test("leave the last grip where it is, for another section may follow", () => {
      expect(fixTitles("too-far-too-fast", "tempo 300\nleft | C4 C2 - - |\n")).toEqual([]);
    });

    test("leave the melody as it is, and bring nothing so low or near that it is unclear", () => {
      expect(fixTitles("too-far-too-fast", "tempo 300\nlead | C4 C7 - - |\n")).toEqual([]);
      expect(fixTitles("too-far-too-fast", "tempo 150\nchords | 1 |\nleft | (<1 >3+5+1) - - - |\n")).toEqual(
        [],
      );
    });

    test("keep out of the other hand's way", () => {
      const chart = (left: string): string =>
        `tempo 150\nchords | 1 |\nright | (1 >>1+3+5) - - 1 |\nleft | ${left} |\n`;
      expect(fixTitles("too-far-too-fast", chart("C3"))).toEqual(["Move C6, E6 and G6 down an octave"]);
      expect(fixTitles("too-far-too-fast", chart("C3 - (A4 r) r"))).toEqual([
        "Move C6, E6 and G6 down an octave",
      ]);
      expect(fixTitles("too-far-too-fast", chart("C3 - (C5 r) r"))).toEqual([]);
    });

    test("strike a roll together where the hand holds it", () => {
      fix(
        "too-far-too-fast",
        "tempo 380\nleft | ~C2+G2+C3 - - - |\n",
        "tempo 380\nleft | C2+G2+C3 - - - |\n",
      );
      expect(fixTitles("too-far-too-fast", "tempo 380\nleft | ~C2+G2+E3 - - - |\n")).toEqual([]);
      const leap = "tempo 200\nright | ~C5+G5+C6 C4 - C5 |\n";
      expect(fixTitles("too-far-too-fast", leap)).toEqual([
        "Move C4 up an octave",
        "Strike it together (without ~)",
      ]);
      fix("too-far-too-fast", leap, "tempo 200\nright | C5+G5+C6 C4 - C5 |\n", 1);
    });
  });
});
