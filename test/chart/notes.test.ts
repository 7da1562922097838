import { describe, expect, test } from "vitest";
import { expectSounds, openChart } from "../support/dump-chart.js";

const codes = (text: string): string[] => openChart(text).problems.map(({ code }) => code);

describe("what a number counts from", () => {
  test("in right and left from the root of the chord sounding when the slot starts, against its major scale", () => {
    expectSounds("chords | 2 5:7 |\nright | 3 b7 |\nleft | 1 5 |", "right: F#3 F3\nleft: D2 D2");
    expectSounds(
      "chords | 1 |\nright | 1 b3 3 4 | #11 b13 bb7 6 |",
      `
      right: C4 Eb3 E3 F3 | F#3 Ab3 Bbb3 A3
    `,
    );
  });

  test("of a chord that changes inside a slot the one at its start", () => {
    expectSounds("chords | 1 / 4 / |\nright | 3 3 3 | ", "right: E3 E3 A3");
  });

  test("in lead and bass from the key", () => {
    expectSounds("chords | 2 |\nlead | 3 |\nbass | 3 |", "lead: E4\nbass: E2");
    expectSounds("key Cm\nlead | 3 6 7 #7 |", "lead: Eb4 Ab4 Bb4 B4");
  });

  test("k before a number makes it count from the key in any row", () => {
    expectSounds(
      "chords | 2 |\nright | k3 3 |\nleft | k3 |\nlead | k3 |",
      "right: E3 F#3\nleft: E2\nlead: E4",
    );
    expectSounds("key Cm\nchords | 4 |\nright | k3+k6 |", "right: Eb3+Ab3");
  });

  test("c makes it count from the chord in any row", () => {
    expectSounds(
      "chords | 2 |\nlead | c3 3 |\nbass | c5 |\nright | c3 |",
      "lead: F#4 E4\nbass: A1\nright: F#3",
    );
  });

  test("0 is the chord's bass in any row", () => {
    expectSounds(
      "chords | 1/3 4 |\nleft | 0 0 |\nright | 0 0 |\nlead | 0 0 |\nbass | 0 0 |",
      `
      left: E2 F2
      right: E3 F3
      lead: E4 F4
      bass: E2 F2
    `,
    );
    expectSounds("chords | 1/3 |\nleft | k0 c0 b0 |", "left: E2 E2 ?");
  });

  test("in sound 8 9 10 11 13 are 1 2 3 4 6", () => {
    expectSounds("chords | 1 |\nright | 8 9 10 11 13 1 2 3 4 6 |", "right: C4 D4 E3 F3 A3 C4 D4 E3 F3 A3");
    expectSounds("lead | 8 9 10 11 13 |", "lead: C4 D4 E4 F4 A4");
  });

  test("letters are capitals: b3 is a number and B3 a pitch", () => {
    expectSounds("chords | 1 |\nright | b3 B3 |", "right: Eb3 B3");
  });

  test("where no chord sounds it is left out, and the next tone of its stack is the lowest", () => {
    expectSounds(
      "right | 3+5 k3+5 3+k3 |",
      `
      right: - E3 E3
      ! no-chord 3
      ! no-chord 5
      ! no-chord 5
      ! no-chord 3
    `,
    );
    expectSounds(
      "right | 3+<k3+k5 >( 3+k3 ) |",
      `
      right: E2+G2 E4
      ! no-chord 3
      ! no-chord 3
    `,
    );
  });

  test("a letter or a k number needs no chord", () => {
    expectSounds("right | Ab+k1 C4 |", "right: Ab3+C4 C4");
  });
});

describe("the home octave", () => {
  const wholeOctave = (key: string): string =>
    `key ${key}\nlead | C C# D D# E F F# G G# A A# B |\nright | C C# D D# E F F# G G# A A# B |\nleft | C C# D D# E F F# G G# A A# B |\nbass | C C# D D# E F F# G G# A A# B |`;

  test("in C major: lead C4 to B4, right Eb3 to D4, left C2 to B2, bass G1 to F#2", () => {
    expectSounds(
      wholeOctave("C"),
      `
      lead: C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 B4
      right: C4 C#4 D4 D#3 E3 F3 F#3 G3 G#3 A3 A#3 B3
      left: C2 C#2 D2 D#2 E2 F2 F#2 G2 G#2 A2 A#2 B2
      bass: C2 C#2 D2 D#2 E2 F2 F#2 G1 G#1 A1 A#1 B1
    `,
    );
  });

  test("in G major: lead G4 to F#5, right Bb3 to A4, left G2 to F#3, bass D2 to C#3", () => {
    expectSounds(
      wholeOctave("G"),
      `
      lead: C5 C#5 D5 D#5 E5 F5 F#5 G4 G#4 A4 A#4 B4
      right: C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#3 B3
      left: C3 C#3 D3 D#3 E3 F3 F#3 G2 G#2 A2 A#2 B2
      bass: C3 C#3 D2 D#2 E2 F2 F#2 G2 G#2 A2 A#2 B2
    `,
    );
  });

  test("lowest in Bb: lead Bb3 to A4, right C#3 to C4, left Bb1 to A2, bass F1 to E2", () => {
    expectSounds(
      wholeOctave("Bb"),
      `
      lead: C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#3 B3
      right: C4 C#3 D3 D#3 E3 F3 F#3 G3 G#3 A3 A#3 B3
      left: C2 C#2 D2 D#2 E2 F2 F#2 G2 G#2 A2 A#1 B1
      bass: C2 C#2 D2 D#2 E2 F1 F#1 G1 G#1 A1 A#1 B1
    `,
    );
  });

  test("the 1 lies between Bb3 and A4", () => {
    for (const [key, one] of Object.entries({
      Bb: 58,
      B: 59,
      Cb: 59,
      C: 60,
      Db: 61,
      "F#": 66,
      Gb: 66,
      Ab: 68,
      A: 69,
      "A#": 58,
    })) {
      const { chart } = openChart(`key ${key}\nlead | 1 |`);
      expect(chart.sections[0]?.section.rows.lead.notes[0]?.pitch.midi).toBe(one);
    }
  });

  test("one text gives the same spacing of the hands in every key", () => {
    const text =
      "chords | 1 4 5:7 6m |\nlead | 1 <5 3 6 |\nright | 3+5+1 5 b7+3 b3 |\nleft | 1+5 1 0 1 |\nbass | 1 4 5 6 |";
    const keys = (key: string): number[] => {
      const { section } = openChart(`key ${key}\n${text}`).chart.sections[0] ?? {};
      const all = (["lead", "right", "left", "bass"] as const).flatMap(
        (row) => section?.rows[row].notes ?? [],
      );
      return all.map(({ pitch }) => pitch.midi - (section?.start.one ?? 0));
    };
    for (const key of ["Db", "D", "Eb", "E", "F", "F#", "Gb", "G", "Ab", "A", "Bb", "B"]) {
      expect(keys(key)).toEqual(keys("C"));
    }
  });

  test("it is twelve keys, whatever the letter is called", () => {
    expectSounds(
      "lead | Cb B# Fb E# |\nright | Cb B# Ebb D# |",
      "lead: Cb5 B#3 Fb4 E#4\nright: Cb4 B#3 Ebb4 D#3",
    );
  });

  test("each > lifts an octave and each < drops one", () => {
    expectSounds("lead | >1 >>1 <5 <<5 |", "lead: C5 C6 G3 G2");
    expectSounds("right | >k3+k5 <k3+k5 |", "right: E4+G4 E2+G2");
  });

  test("no slot's pitch depends on the slot before", () => {
    expectSounds("lead | >>5 1 <<3 7 | 1 7 1 7 |", "lead: G6 C4 E2 B4 | C4 B4 C4 B4");
  });
});

describe("a stack", () => {
  test("each tone after the lowest is the next one strictly higher: 1+1 is an octave", () => {
    expectSounds(
      "chords | 1 |\nright | 3+5+1 5+3 |\nleft | 1+1 1+5+1 |",
      `
      right: E3+G3+C4 G3+E4
      left: C2+C3 C2+G2+C3
    `,
    );
    expectSounds("right | B#+C Cb+B |", "right: B#3+C5 Cb4+B4");
  });

  test("a > inside lifts an octave further", () => {
    expectSounds("right | k3+>k5 k3+>>k5+k1 k3+>k3 |", "right: E3+G4 E3+G5+C6 E3+E5");
  });

  test("a < inside changes nothing, with a check", () => {
    expectSounds(
      "right | k3+<k5 k3+<>k5 |",
      `
      right: E3+G3 E3+G3
      ! octave-sign inside-stack <
    `,
    );
  });

  test("either sign before a pitch with an octave changes nothing, with a check", () => {
    expectSounds(
      "right | >C4 <C4 k3+>G5 |",
      `
      right: C4 C4 E3+G5
      ! octave-sign exact >
      ! octave-sign exact <
      ! octave-sign exact >
    `,
    );
  });

  test("a pitch with an octave stands where it is, even below the tone before, and the next goes up from it", () => {
    expectSounds("right | k5+C3+k3 k5+C3+>k3 C4+k3 k3+C5+k1 |", "right: C3+E3+G3 C3+G3+E4 C4+E4 E3+C5+C6");
  });

  test("0 inside a stack goes up like any other", () => {
    expectSounds("chords | 1/3 |\nleft | 1+0 0+1 |", "left: C2+E2 E2+C3");
  });
});

describe("from", () => {
  test("starts the home octave at a pitch, for this row alone", () => {
    expectSounds("right from C4 | k1 k7 B |\nleft | k1 |", "right: C4 B4 B4\nleft: C2");
    expectSounds("lead from F#4 | 4 5 #4 Gb |", "lead: F5 G4 F#4 Gb4");
  });

  test("until the row's next from or the section's end", () => {
    expectSounds(
      "section A\nright from C5 | k1 |\n\nright | k3 |\n\nleft | k1 |\n\nright from C3 | k1 |\nright | k3 |\nsection B\nright | k3 |",
      `
      A
      right: C5 | E5 | | C3 | E3
      B
      right: E3
    `,
    );
  });

  test("key lines don't move it", () => {
    expectSounds("section A\nright from C4 | k1 |\nkey F\nright | k1 |", "right: C4 | F4");
  });

  test("(original …) doesn't move it", () => {
    expectSounds("key F (original Ab)\nright from C4 | k1 |\nlead | 1 |", "right: F4\nlead: F4");
    expectSounds("key C (original D)\nlead | 1 |\nright from C4 | k1 |", "lead: C4\nright: C4");
  });
});

describe("~", () => {
  test("before a stack rolls it", () => {
    expectSounds("right | ~k3+k5 k3+k5 |", "right: ~E3+G3 E3+G3");
  });

  test("a~b slips from a into b on the beat, and takes no time of its own", () => {
    expectSounds("chords | 1 |\nright | b3~3 - |", "right: Eb3~E3\nright@: E3@0:1");
  });

  test("a counts as b does and is the nearest such tone below or above it", () => {
    expectSounds("chords | 4 |\nright | b3~3 4~3 7~1 2~1 |", "right: Ab3~A3 Bb3~A3 E3~F3 G3~F3");
    expectSounds("chords | 4 |\nlead | 2~3 #2~3 c2~3 |", "lead: D4~E4 D#4~E4 G4~A4");
    expectSounds("chords | 4 |\nright | 2~k3 C~k3 |", "right: D3~E3 C3~E3");
  });

  test("whatever the home octave", () => {
    expectSounds("lead | 7~1 <1~7 |", "lead: B3~C4 C4~B3");
    expectSounds("lead | 7~>1 7~<1 |", "lead: B4~C5 B2~C3");
  });

  test("a tie goes below, and the same tone is an octave below", () => {
    expectSounds("lead | #4~1 b5~1 1~1 |", "lead: F#3~C4 Gb3~C4 C3~C4");
  });

  test("the signs of b stand after the ~", () => {
    expectSounds(
      "lead | 4~>5 #4~<5 |\nright | 2~_k3 |",
      `
      lead: F5~G5 F#3~G3
      right: D3~E3
      ! nothing-to-hold 2~_k3
    `,
    );
  });

  test("in a stack it belongs to that one tone", () => {
    expectSounds("chords | 1 |\nright | b3~3+5 3+#4~5+1 |", "right: Eb3~E3+G3 E3+F#3~G3+C4");
  });

  test("an exact grace stands where it is", () => {
    expectSounds("lead | B2~1 |", "lead: B2~C4");
  });
});

describe("!", () => {
  test("counts from the next chord written after the slot's start", () => {
    expectSounds("chords | 1 / 4 / |\nright | 3 !3 - - |", "right: E3 !A3");
    expectSounds("chords | 1 4 |\nright | 1 !1 |\nchords | 5 |", "right: C4 !G3 |");
    expectSounds("chords | 1 / |\nright | 3 !3+k1 |\n\nchords | 4 |", "right: E3 !A3+C4 |");
  });

  test("it is played where it stands", () => {
    expectSounds("chords | 1 / 4 / |\nright | 3 !3 - - |", "right@: E3@0:1/4 A3@1/4:3/4");
  });

  test("even if it is the same or a bass alone", () => {
    expectSounds("chords | 1 / 1 4 |\nright | r !3 - - |", "right: !E3");
    expectSounds("chords | 1 / /7 4 |\nleft | 0 !0 - - |", "left: C2 !B2");
  });

  test("skipping NC", () => {
    expectSounds("chords | 1 / NC / | 4 |\nright | 3 !3 - - |", "right: E3 !A3 |");
  });

  test("a chord that % strikes anew is one too", () => {
    expectSounds("chords | 1 4 | % |\nright | 3 3 3 !3 | r |", "right: E3 E3 A3 !E3 |");
  });

  test("a pickup of the next system comes first", () => {
    expectSounds("chords | 1 |\nright | 3 3 3 !3 |\n\nchords 5:7 | 1 |", "right: E3 E3 E3 !E3 |");
    expectSounds("chords | 1 |\nright | 3 3 !3 - |\n\nchords 5:7 | 1 |", "right: E3 E3 !B3 |");
  });

  test("with none left it counts from the plain chord on lands", () => {
    expectSounds("section A\nlands 4\nchords | 5 |\nright | 3 !3 |", "right: B3 !A3");
    expectSounds("section A\nlands 2\nchords | 5 |\nright | b3 !b3 |", "right: Bb3 !F3");
    expectSounds("section A\nlands 1\nkey D\nchords | 5 |\nleft | 1 !1 |", "left: A2 !D2");
  });

  test("without lands it is a check", () => {
    expectSounds(
      "chords | 5 |\nright | 3 !3 |",
      `
      right: B3 !-
      ! no-chord 3
    `,
    );
  });

  test("before r, - or a group it is a check", () => {
    expect(codes("chords | 1 |\nright | !r !- !(3 5) 3 |").filter((code) => code === "syntax")).toHaveLength(
      3,
    );
  });

  test("in a group and in a pickup it looks on alike", () => {
    expectSounds("chords | 1 4 |\nright | (3 !3) - |", "right: E3 !A3");
    expectSounds("chords | 1 4 |\nright !3 | 3 |", "right: (!E3) E3");
  });
});

describe("_", () => {
  test("holds that tone from before while the others move", () => {
    expectSounds("right | k1+k4 _k1+k3 - |", "right: C4+F4 _C4+E4\nright@: C4@0:1 F4@0:1/3 E4@1/3:2/3");
    expectSounds("chords | 1 5 |\nright | 5+>1 _1+3 |", "right: G3+C5 _G3+B3");
  });

  test("by its key, whatever it is called", () => {
    expectSounds("right | C# _Db+F |", "right: C#4 _C#4+F4");
  });

  test("if that very key was not sounding it is struck, with a check that finds it", () => {
    expectSounds(
      "right | k1+k4 _k3+k5 |",
      `
      right: C4+F4 E3+G3
      ! nothing-to-hold _k3
    `,
    );
    expectSounds(
      "right | k3+k5+k1 _k1 _<k1 |",
      `
      right: E3+G3+C4 _C4 C3
      ! nothing-to-hold _<k1 (+1)
    `,
    );
  });

  test("just before: after a rest nothing sounds any more", () => {
    expectSounds("right | k1 r _k1 |", "right: C4 C4\n! nothing-to-hold _k1");
  });

  test("in this row: not what another row sounds", () => {
    expectSounds("right | k1 r |\nlead | r _1 |", "right: C4\nlead: C4\n! nothing-to-hold _1");
  });

  test("over bar lines, systems and dashes", () => {
    expectSounds("right | k1+k3 - | _k1+k4 |\n\nright | _k1+k3 |", "right@: C4@0:3 E4@0:1 F4@1:1 E4@2:1");
  });

  test("through a chain of holds it is one tone", () => {
    expectSounds("chords | 1 / 4 5 |\nleft | 1+5 _1 _5 1 |", "left@: C2@0:3/4 G2@0:1/4 G2@3/4:1/4");
  });
});

describe("whose hand", () => {
  test("lead is the right hand's unless a right row stands in the system, bass the left's unless a left row stands", () => {
    expectSounds("lead | 1 |\nbass | 1 |", "lead hand: right\nbass hand: left");
    expectSounds(
      "lead | 1 |\nright | k1 |\nbass | 1 |\nleft | k1 |",
      `
      lead hand: nobody
      right hand: right
      bass hand: nobody
      left hand: left
    `,
    );
    expectSounds("lead | 1 |\n\nright | k1 |\nlead | 1 |", "lead hand: right nobody");
  });
});
