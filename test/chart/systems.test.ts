import { describe, expect, test } from "vitest";
import { expectSounds, openChart } from "../support/dump-chart.js";

const systems = (text: string): number => openChart(text).chart.sections[0]?.section.systems.length ?? 0;

describe("a system", () => {
  test("is made of consecutive rows", () => {
    expect(
      systems("chords | 1 |\nlead | 1 |\nright | 1 |\nleft | 1 |\nbass | 1 |\nwords | a |\ncue | soft |"),
    ).toBe(1);
  });

  test("ends at a blank line, at any line that isn't a row, and at a row name that already stands in it", () => {
    expect(systems("lead | 1 |\n\nright | k1 |")).toBe(2);
    expect(systems("section A\nlead | 1 |\ntempo 60\nright | k1 |\nlands 1\nleft | k1 |")).toBe(3);
    expect(systems("lead | 1 |\nright | k1 |\nlead | 2 |")).toBe(2);
    expect(systems("lead | 1 |\nwhat is this\nright | k1 |")).toBe(2);
  });

  test("goes on over a line with only a comment", () => {
    expect(systems("lead | 1 |\n; soft\nright | k1 |")).toBe(1);
  });

  test("takes several words rows together as verses", () => {
    expect(systems("lead | 1 |\nwords | one |\nwords | two |")).toBe(1);
  });
});

describe("bars", () => {
  test("a row that stops early counts as empty bars", () => {
    expectSounds(
      "chords | 1 |\nlead | 1 | 2 | 3 |\nright | 3 | 3 |",
      `
      chords@: C@0:3
      lead@: C4@0:1 D4@1:1 E4@2:1
      right@: E3@0:1 E3@1:1
    `,
    );
  });

  test("and % after one that stopped early repeats an empty bar", () => {
    expectSounds("lead | 1 |\nright | k1 | k3 |\n\nlead | % |", "lead: C4 | |");
  });

  test("a last bar without its closing | is still a bar", () => {
    expectSounds("lead | 1 | 2", "lead: C4 | D4");
  });

  test("|| is one bar line, and an empty bar needs a space in it", () => {
    expectSounds("lead | 1 || 2 | | 3 |", "lead: C4 | D4 | | E4");
  });

  test("an empty bar goes on sounding in chords and rests in the other rows", () => {
    expectSounds(
      "chords | 1 |  |\nright | 3 |  |\nlead | 1 |  |",
      "chords@: C@0:2\nright@: E3@0:1\nlead@: C4@0:1",
    );
  });

  test("a dash after an empty bar goes on with its rest", () => {
    expectSounds("lead | 1 |  | - 3 |", "lead@: C4@0:1 E4@5/2:1/2");
  });
});

describe("over the break between systems", () => {
  test("a row missing from a system rests through it, and what reaches back after it goes on with that rest", () => {
    expectSounds(
      "lead | 1 |\n\nright | k1 |\n\nlead | - 3 |\nright | - _k1 |",
      `
      lead@: C4@0:1 E4@5/2:1/2
      right@: C4@1:2
    `,
    );
    expectSounds("lead | 1 |\n\nright | k1 |\n\nlead | _1 |", "lead@: C4@0:1 C4@2:1\n! nothing-to-hold _1");
  });
});

describe("repeats", () => {
  test("go back to |:", () => {
    expectSounds("lead | 1 |: 2 | 3 :| 4 |", "order: - 1 2 3 2 3 4");
  });

  test(":|x3 plays three times in all", () => {
    expectSounds("lead |: 1 :|x3 2 |", "order: - 1 1 1 2");
  });

  test(":| without |: goes back to the section's start", () => {
    expectSounds("section A\nlead | 1 |\nsection B\nlead | 1 | 2 :| 3 |", "order: A 1, B 1 2 1 2 3");
  });

  test("a repeat may span systems", () => {
    expectSounds("lead | 1 |: 2 |\n\nlead | 3 :| 4 |", "order: - 1 2 3 2 3 4");
  });

  test("one repeat after another each has its own sign", () => {
    expectSounds("lead |: 1 :|: 2 :|x3 3 |", "order: - 1 1 2 2 2 3");
  });

  test("endings: the first every time but the last, then the second", () => {
    expectSounds("lead |: 1 | 1. 2 :| 2. 3 | 4 |", "order: - 1 2 1 3 4");
    expectSounds("lead |: 1 | 1. 2 | 3 :|x3 2. 4 |", "order: - 1 2 3 1 2 3 1 4");
    expectSounds("lead | 1 | 1. 2 :| 2. 3 | 4 |", "order: - 1 2 1 3 4");
  });

  test("two repeats with endings in one section", () => {
    expectSounds("lead |: 1 | 1. 2 :| 2. 3 |: 4 | 1. 5 :| 2. 6 |", "order: - 1 2 1 3 4 5 4 6");
  });

  test("each time its section is played they are played anew", () => {
    expectSounds("section A\nlead |: 1 | 1. 2 :| 2. 3 |\nform A x2", "order: A 1 2 1 3, A 1 2 1 3");
  });

  test("they are written in the system's first row and hold for all its rows", () => {
    expectSounds("chords |: 1 :| 4 |\nlead | 1 | 2 |", "order: - 1 1 2");
    expectSounds("chords |: 1 :| 4 |\nlead |: 1 :| 2 |", "order: - 1 1 2");
  });

  test("the bar before a 2. is the one before its 1.", () => {
    expectSounds(
      "chords | 1 | 1. 4 :| 2. / 5 |\nlead | 1 | 1. 2 :| 2. - 3 |\nright | k1 | 1. k3 :| 2. _k1 |",
      `
      chords@: C@0:3/2 F@1:1 G@5/2:1/2
      lead@: C4@0:3/2 D4@1:1 E4@5/2:1/2
      right@: C4@0:2 E3@1:1
    `,
    );
    expectSounds(
      "chords | 1 4 | 1. 5 :| 2. % |\nlead | 1 2 | 1. 3 :| 2. % |",
      `
      chords: C F | G | C F
      lead: C4 D4 | E4 | C4 D4
    `,
    );
    expectSounds("chords | 1 | 1. 4 :| 2.  |\nright | 3 | 1. 3 :| 2. 3 |", "right: E3 | A3 | E3");
  });

  test("what is held into both endings has the length of its longest pass", () => {
    expectSounds("lead | 1 | 1. - 2 :| 2. - |", "lead@: C4@0:2 D4@3/2:1/2");
    expectSounds("lead | 1 | 1. - :| 2. - 2 |", "lead@: C4@0:2 D4@5/2:1/2");
    expectSounds("chords | 1 | 1. / 4 :| 2. / |", "chords@: C@0:2 F@3/2:1/2");
  });

  test("2. lasts over several bars, and over systems", () => {
    expectSounds("lead | 1 | 1. 2 :| 2. - | - |\n\nlead | - 5 |", "lead@: C4@0:7/2 D4@1:1 G4@9/2:1/2");
  });

  test("a dash after |: that would go on with another tone on the second pass is a check", () => {
    expectSounds(
      "lead | 1 |: - 2 :|",
      `
      lead@: C4@0:3/2 D4@3/2:1/2
      ! repeat-differs - C4 / D4
    `,
    );
    expectSounds("lead | 1 |: - 1 :|", "lead@: C4@0:3/2 C4@3/2:1/2");
    expectSounds(
      "chords | 1 |: / 4 :|",
      `
      chords@: C@0:3/2 F@3/2:1/2
      ! repeat-differs / 1 / 4
    `,
    );
    expectSounds(
      "right | k1 |: _k1+k3 | k5 :|",
      `
      right@: C4@0:2 E4@1:1 G3@2:1
      ! repeat-differs _k1+k3 C4 / G3
    `,
    );
  });

  test("a push before :| that would count from another chord on the second pass is a check", () => {
    expectSounds(
      "chords |: 1 4 :| 5 |\nright | 3 !3 | r |",
      `
      right: E3 !B3 |
      ! repeat-differs !3 1 / 5
    `,
    );
    expectSounds("chords |: 1 4 :| 1 |\nright | 3 !3 | r |", "right: E3 !E3 |");
  });

  test("a pickup sounds each time its system is entered from before, not when |: goes back", () => {
    expectSounds("lead 5 |: 1 | 2 :| 3 |", "order: - <1 2 1 2 3");
    expectSounds("lead | 1 |\n\nlead 5 |: 2 :| 3 |", "order: - 1 <2 2 3");
    expectSounds("section A\nlead 5 | 1 |\nform A x2", "order: A <1, A <1");
    expectSounds("lead |: 1 |\n\nlead 5 | 2 :| 3 |", "order: - 1 <2 1 <2 3");
  });
});

describe("words", () => {
  test("in each bar the syllables go to the sounded notes of the lead, in order", () => {
    expectSounds(
      "lead | 1 2 | 3 - 4 r |\nwords | Har-bour | light now |",
      `
      words 1: Har-@0:1/2 bour@1/2:1/2 | light@1:1/2 now@3/2:1/4
    `,
    );
  });

  test("a dash parts syllables across a bar line too", () => {
    expectSounds("lead | 1 | 2 |\nwords | Har- | bour |", "words 1: Har-@0:1 | bour@1:1");
    expectSounds("lead | 1 | 2 |\nwords | Har - | bour |", "words 1: Har-@0:1 | bour@1:1");
  });

  test("_ lets the one before run over one more note", () => {
    expectSounds(
      "lead | 1 2 3 4 |\nwords | light _ and low |",
      "words 1: light@0:1/2 and@1/2:1/4 low@3/4:1/4",
    );
  });

  test("fewer syllables than notes: the last runs on", () => {
    expectSounds("lead | 1 2 3 4 |\nwords | light and |", "words 1: light@0:1/4 and@1/4:3/4");
  });

  test("more: a check", () => {
    expectSounds(
      "lead | 1 2 |\nwords | one two three four |",
      `
      words 1: one@0:1/2 two@1/2:1/2
      ! too-many-words three four
    `,
    );
  });

  test("a note that lacks its chord is told of once, not by its syllable too", () => {
    expectSounds("lead | 1 c1 |\nwords | one two |", "words 1: one@0:1/2\n! no-chord 1");
  });

  test("a tone that is only held on takes no syllable", () => {
    expectSounds("lead | 1 | - 3 |\nwords | one | two |", "words 1: one@0:3/2 | two@3/2:1/2");
  });

  test("without a lead they stand under the bar", () => {
    expectSounds("chords | 1 4 | 5 |\nwords | one  two | three |", "words 1: one two@0:1 | three@1:1");
  });

  test("words for the lead's pickup stand before the first bar line", () => {
    expectSounds("lead (r 5) | 1 |\nwords the | sea |", "words 1: the@-1/8:1/8 sea@0:1");
  });

  test("several rows are the verses", () => {
    expectSounds(
      "lead | 1 2 |\nwords | one two |\nwords | three four |",
      `
      words 1: one@0:1/2 two@1/2:1/2
      words 2: three@0:1/2 four@1/2:1/2
    `,
    );
  });

  test("a stack, a pushed and a grace note are one sounded note each", () => {
    expectSounds(
      "chords | 1 // 4 |\nlead | 1+3 2~3 !c1 4 |\nwords | one two three four |",
      `
      words 1: one@0:1/4 two@1/4:1/4 three@1/2:1/4 four@3/4:1/4
    `,
    );
  });
});

describe("cue", () => {
  test("prints its words over their bar and changes no sound", () => {
    expectSounds(
      "lead | 1 | 2 |\ncue | hold | cut when the speaker stops |",
      `
      cue: hold | cut when the speaker stops
      lead@: C4@0:1 D4@1:1
    `,
    );
  });
});
