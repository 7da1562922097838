import { describe, expect, test } from "vitest";
import { expectSounds, openChart } from "../support/dump-chart.js";

const codes = (text: string): string[] => openChart(text).problems.map(({ code }) => code);

describe("slots share their bar", () => {
  test("two slots in 4/4 are two halves, four are quarters, eight are eighths", () => {
    expectSounds(
      "lead | 1 2 | 1 2 3 4 | 1 2 3 4 5 6 7 1 |",
      `
      lead@: C4@0:1/2 D4@1/2:1/2 C4@1:1/4 D4@5/4:1/4 E4@3/2:1/4 F4@7/4:1/4 C4@2:1/8 D4@17/8:1/8 E4@9/4:1/8 F4@19/8:1/8 G4@5/2:1/8 A4@21/8:1/8 B4@11/4:1/8 C4@23/8:1/8
    `,
    );
  });

  test("in 12/8 four slots are the beats and twelve are eighths", () => {
    expectSounds(
      "time 12/8\nlead | 1 2 3 4 | 1 2 3 4 5 6 7 1 2 3 4 5 |",
      `
      bars: @0:3/2 @3/2:3/2
      lead@: C4@0:3/8 D4@3/8:3/8 E4@3/4:3/8 F4@9/8:3/8 C4@3/2:1/8 D4@13/8:1/8 E4@7/4:1/8 F4@15/8:1/8 G4@2:1/8 A4@17/8:1/8 B4@9/4:1/8 C4@19/8:1/8 D4@5/2:1/8 E4@21/8:1/8 F4@11/4:1/8 G4@23/8:1/8
    `,
    );
  });

  test("three even slots in a bar of four beats are half-note triplets", () => {
    expectSounds("lead | 1 2 3 |", "lead@: C4@0:1/3 D4@1/3:1/3 E4@2/3:1/3");
  });

  test("a bar of five slots keeps exact time", () => {
    expectSounds("lead | 1 2 3 4 5 |", "lead@: C4@0:1/5 D4@1/5:1/5 E4@2/5:1/5 F4@3/5:1/5 G4@4/5:1/5");
  });
});

describe("a dash keeps the one before sounding", () => {
  test("for one more slot, over bar lines too", () => {
    expectSounds("lead | 1 - | - 3 |", "lead@: C4@0:3/2 E4@3/2:1/2");
  });

  test("and holds every tone of a stack", () => {
    expectSounds("right | k1+k3 - | - k5 |", "right@: C4@0:3/2 E4@0:3/2 G3@3/2:1/2");
  });

  test("after a rest the rest goes on", () => {
    expectSounds(
      "lead | 1 r - 3 | r - | - 3 |",
      `
      lead@: C4@0:1/4 E4@3/4:1/4 E4@5/2:1/2
    `,
    );
  });

  test("over the break between systems", () => {
    expectSounds("lead | 1 |\n\nlead | - 3 |", "lead@: C4@0:3/2 E4@3/2:1/2");
  });

  test("in its section's first slot it has nothing before it", () => {
    expectSounds(
      "section A\nlead | 1 |\nsection B\nlead | - 3 |",
      `
      B
      lead@: E4@1/2:1/2
      ! nothing-to-hold -
    `,
    );
    expectSounds(
      "section A\nlead | - - 3 - |",
      `
      lead@: E4@1/2:1/2
      ! nothing-to-hold -
    `,
    );
  });

  test("in its section's first pickup too", () => {
    expectSounds(
      "lead - 5 | 1 |",
      `
      lead@: G4@-1/4:1/4 C4@0:1
      ! nothing-to-hold -
    `,
    );
  });
});

describe("in a chord row", () => {
  test("/ and - are one more beat of this chord", () => {
    expectSounds("chords | 1 / 4 - | / 5 |", "chords@: C@0:1/2 F@1/2:1 G@3/2:1/2");
  });

  test("// is two of them, in groups and pickups too", () => {
    expectSounds("chords | 1 // 4 |", "chords@: C@0:3/4 F@3/4:1/4");
    expectSounds("chords | ( 1 // ) 4 | (1 // 5) - |", "chords@: C@0:1/2 F@1/2:1/2 C@1:3/8 G@11/8:5/8");
    expectSounds("chords 5 // | 1 |", "chords@: G@-3/4:3/4 C@0:1");
  });

  test("a / in a section's first slot has nothing before it", () => {
    expectSounds(
      "chords | / 4 |",
      `
      chords@: F@1/2:1/2
      ! nothing-to-hold /
    `,
    );
    expectSounds(
      "chords / 5 | 1 |",
      `
      chords@: G@-1/4:1/4 C@0:1
      ! nothing-to-hold /
    `,
    );
  });

  test("so has a bass alone", () => {
    expectSounds(
      "chords | /7 4 |",
      `
      chords@: F@1/2:1/2
      ! nothing-to-hold /7
    `,
    );
  });
});

describe("a group", () => {
  test("puts several slots into the time of one, and nests", () => {
    expectSounds(
      "lead | ( 1 2 ) 3 | (1 (2 (3 (4 5)))) 6 |",
      `
      lead@: C4@0:1/4 D4@1/4:1/4 E4@1/2:1/2 C4@1:1/4 D4@5/4:1/8 E4@11/8:1/16 F4@23/16:1/32 G4@47/32:1/32 A4@3/2:1/2
    `,
    );
  });

  test("holds and rests inside as it does outside", () => {
    expectSounds("lead | 1 ( - 2 ) ( r 3 ) - |", "lead@: C4@0:3/8 D4@3/8:1/8 E4@5/8:3/8");
  });

  test("a sign before it moves the lowest tone of every slot inside by an octave", () => {
    expectSounds("right | >( k1 k3+k5 ) <(k1 k5) |", "right: C5 E4+G4 C3 G2");
  });

  test("a pitch with an octave stays, with a check", () => {
    expectSounds(
      "right | >( C4 C4+k3 k3+C4 C ) |",
      `
      right: C4 C4+E4 C4+E4 C5
      ! octave-sign group C4
      ! octave-sign group C4
    `,
    );
  });

  test("signs add up: two before one group, a group inside a group, and the tone's own", () => {
    expectSounds("right | >>( k1 ) >( <( k1 ) ) >( >k1 ) >( >( <k1 ) ) |", "right: C6 C4 C6 C5");
  });

  test("inside a stack a group's sign moves nothing but the lowest tone", () => {
    expectSounds("right | >( k1+>k3 ) <( k1+>k3 ) |", "right: C5+E6 C3+E4");
  });
});

describe("= strikes the slot before again", () => {
  test("the nearest one that is no - and no =", () => {
    expectSounds("lead | 1 - = = |", "lead@: C4@0:1/2 C4@1/2:1/4 C4@3/4:1/4");
  });

  test("a group counts by its last slot", () => {
    expectSounds("lead | ( 1 2 ) = (3 (4 5)) = |", "lead: C4 D4 D4 E4 F4 G4 G4");
    expectSounds("lead | ( 1 - ) = |", "lead@: C4@0:1/2 C4@1/2:1/2");
  });

  test("it strikes every tone: a _ is dropped", () => {
    expectSounds("right | k1+k5 _k1+k6 = - |", "right@: C4@0:1/2 G4@0:1/4 A4@1/4:1/4 C4@1/2:1/2 A4@1/2:1/2");
  });

  test("its numbers follow the chord under it", () => {
    expectSounds("chords | 1 4 |\nright | 3+5 = |", "right: E3+G3 A3+C4");
  });

  test("signs of a group around the first slot don't come along", () => {
    expectSounds("right | >( k1 k3 ) = |", "right: C5 E4 E3");
  });

  test("those of a group around the = count", () => {
    expectSounds("right | k1 >( = k3 ) - |", "right: C4 C5 E4");
  });

  test("signs in the text do come along", () => {
    expectSounds("right | ~>k1+k3 = |", "right: ~C5+E5 ~C5+E5");
    expectSounds("chords | 1 // 4 |\nright | !1 = - - |", "right: !F3 !F3");
  });

  test("after r, and first in a bar, it is a check", () => {
    expectSounds(
      "lead | 1 r = 2 | = 3 | r - = - |",
      `
      lead: C4 ? D4 | ? E4 | ? ?
      ! misplaced after-rest =
      ! misplaced first =
      ! misplaced after-rest =
    `,
    );
    expectSounds(
      "lead | 1 NC = 2 |",
      `
      lead: C4 ? D4
      ! misplaced after-rest =
    `,
    );
  });

  test("a bar that starts with a dash has nothing to repeat yet", () => {
    expectSounds(
      "lead | 1 | - = |",
      `
      lead: C4 | ?
      ! misplaced first =
    `,
    );
  });

  test("in chords it is a check", () => {
    expect(codes("chords | 1 = |")).toContain("syntax");
  });
});

describe("% plays the text of the bar before", () => {
  test("so that numbers follow the new chord", () => {
    expectSounds("chords | 1 | 4 | 5 |\nright | 3 5 | % | % |", "right: E3 G3 | A3 C4 | B3 D4");
  });

  test("without its pickup", () => {
    expectSounds("lead 5 | 1 2 | % |", "lead: (G4) C4 D4 | C4 D4");
  });

  test("with its holds, groups and =", () => {
    expectSounds(
      "lead | 1 | - (3 4) = | % |",
      `
      lead@: C4@0:4/3 E4@4/3:1/6 F4@3/2:1/6 F4@5/3:2/3 E4@7/3:1/6 F4@5/2:1/6 F4@8/3:1/3
    `,
    );
    expectSounds("right | k1 _k1+k3 | % |", "right@: C4@0:1 E4@1/2:1/2 C4@1:1 E4@3/2:1/2");
  });

  test("over the break between systems, and over systems without the row", () => {
    expectSounds(
      "lead | 1 2 |\n\nlead | % |\n\nright | k1 |\n\nlead | % |",
      "lead: C4 D4 | C4 D4 |  | C4 D4",
    );
  });

  test("an empty bar before it is a rest", () => {
    expectSounds("lead | 1 |  | % |", "lead@: C4@0:1");
  });

  test("in a section's first bar it is a check", () => {
    expectSounds(
      "chords | % |\nlead | % |",
      `
      chords:
      lead: ?
      ! misplaced first-bar %
      ! misplaced first-bar %
    `,
    );
  });

  test("in words and cue it is plain text", () => {
    expectSounds(
      "lead | 1 |\nwords | % |\ncue | % |",
      `
      words 1: %@0:1
      cue: %
    `,
    );
  });
});

describe("% in chords", () => {
  test("strikes every chord that sounded in that bar anew at its place", () => {
    expectSounds("chords | 1 / / 4 | % |", "chords@: C@0:3/4 F@3/4:1/4 C@1:3/4 F@7/4:1/4");
  });

  test("one held into it at its start too", () => {
    expectSounds("chords | 1 | / 4 | % |", "chords@: C@0:3/2 F@3/2:1/2 C@2:1/2 F@5/2:1/2");
    expectSounds("chords | 1 |  | % |", "chords@: C@0:2 C@2:1");
  });

  test("r and NC stay", () => {
    expectSounds("chords | 1 r / 4 | % |", "chords@: C@0:1/4 F@3/4:1/4 C@1:1/4 F@7/4:1/4");
    expectSounds(
      "chords | 1 NC | % |\nright | 3 k1 | 3 3 |",
      `
      chords@: C@0:1/2 C@1:1/2
      right: E3 C4 | E3 -
      ! no-chord 3
    `,
    );
  });

  test("a silence held into the bar stays one", () => {
    expectSounds(
      "chords | 1 r | / 4 | % |\nright | 3 3 | 3 3 | 3 3 |",
      `
      chords@: C@0:1/2 F@3/2:1/2 F@5/2:1/2
      right: E3 E3 | E3 A3 | A3 A3
    `,
    );
  });

  test("a bass alone comes with its chord", () => {
    expectSounds("chords | 1 | /7 5 | % |", "chords: C | C/B G | C/B G");
  });

  test("after a key line its chords keep their sounding roots", () => {
    expectSounds("section A\nchords | 2 5:7 |\nkey D\nchords | % | 1 |", "chords: Dm G7 | Dm G7 | D");
  });

  test("the hands count from what it strikes", () => {
    expectSounds("chords | 1 4 | % |\nright | 3 3 | 3 3 |", "right: E3 A3 | E3 A3");
  });
});

describe("r and NC", () => {
  test("r in chords ends the chord while numbers go on counting from it, and a / stays silent", () => {
    expectSounds(
      "chords | 1 r / 4 |\nright | r 3 5 1 |",
      `
      chords@: C@0:1/4 F@3/4:1/4
      right@: E3@1/4:1/4 G3@1/2:1/4 F3@3/4:1/4
    `,
    );
  });

  test("NC ends the chord, and numbers have nothing to count from", () => {
    expectSounds(
      "chords | 1 NC / 4 |\nright | 3 3 k3 3 |",
      `
      chords@: C@0:1/4 F@3/4:1/4
      right: E3 - E3 A3
      ! no-chord 3
    `,
    );
  });

  test("NC in a hand is a rest", () => {
    expectSounds("lead | 1 NC - 2 |", "lead@: C4@0:1/4 D4@3/4:1/4");
  });
});

describe("a pickup slot", () => {
  test("is one beat", () => {
    expectSounds("lead (r 5) | 1 |", "lead@: G4@-1/8:1/8 C4@0:1");
    expectSounds("lead 5 6 7 | 1 |", "lead@: G4@-3/4:1/4 A4@-1/2:1/4 B4@-1/4:1/4 C4@0:1");
  });

  test("of its own meter", () => {
    expectSounds("time 6/8\nlead (r r 5) | 1 |", "lead@: G4@-1/8:1/8 C4@0:3/4");
    expectSounds("time 2/2\nlead 5 | 1 |", "lead@: G4@-1/2:1/2 C4@0:1");
    expectSounds("section A\nlead | 1 |\ntime 6/8\nlead 5 | 1 |", "lead@: C4@0:1 G4@5/8:3/8 C4@1:3/4");
  });

  test("lies over the end of the bar before, and shortens nothing there", () => {
    expectSounds("lead | 1 2 |\n\nlead 5 | 3 |", "lead@: C4@0:1/2 D4@1/2:1/2 G4@3/4:1/4 E4@1:1");
  });

  test("a first dash goes on with what the row sounded just before it", () => {
    expectSounds("lead | 1 2 |\n\nlead - 5 | 3 |", "lead@: C4@0:3/4 D4@1/2:1/2 G4@3/4:1/4 E4@1:1");
    expectSounds("lead | 1 r r r |\n\nlead - 5 | 3 |", "lead@: C4@0:1/4 G4@3/4:1/4 E4@1:1");
  });

  test("a dash after the pickup goes on with the pickup's last tone", () => {
    expectSounds("lead | 1 |\n\nlead 5 | - 3 |", "lead@: C4@0:1 G4@3/4:3/4 E4@3/2:1/2");
  });

  test("in a hand counts from the chord pickup above it", () => {
    expectSounds("chords | 1 |\n\nchords 4 5:7 | 1 |\nright 3 3 | 3 |", "right:  | (A3 B3) E3");
  });

  test("from that pickup's first chord, if it starts earlier", () => {
    expectSounds("chords 5:7 | 1 |\nright 1 3 | 3 |", "right: (G3 B3) E3");
  });

  test("else from the chord that it leads to", () => {
    expectSounds("chords | 1 |\n\nchords | 4 |\nright 3 | 3 |", "right:  | (A3) A3");
    expectSounds("chords |  4 5 |\nleft 1 | 1 1 |", "left: (F2) F2 G2");
    expectSounds("chords | r 5 |\nleft 1 | r 1 |", "left: (G2) G2");
  });

  test("over a / of the chord pickup it counts from the chord that goes on", () => {
    expectSounds("chords | 4 |\n\nchords / 5:7 | 1 |\nright 3 3 | 3 |", "right:  | (A3 B3) E3");
    expectSounds("chords | 4 1 |\n\nchords / 5:7 | 1 |\nright 3 3 | 3 |", "right:  | (A3 B3) E3");
  });

  test("a chord pickup goes on into its bar", () => {
    expectSounds(
      "chords 5:7 | / 1 |\nright 3 | 3 3 |",
      `
      chords@: G7@-1/4:3/4 C@1/2:1/2
      right: (B3) B3 E3
    `,
    );
    expectSounds("chords 5:7 |  |\nright 3 | 3 |", "chords@: G7@-1/4:5/4\nright: (B3) B3");
  });

  test("rows without a pickup count from the chords of the bar that it covers", () => {
    expectSounds("chords | 4 |\nright | 1 1 1 1 |\n\nchords 5:7 | 1 |", "right: F3 F3 F3 F3 | ");
  });
});
