import { describe, expect, test } from "vitest";
import { expectSounds, openChart } from "../support/dump-chart.js";

const problemsOf = (text: string): string[] =>
  openChart(text).problems.map(
    ({ code, span }) => `${code} ${openChart(text).text.slice(span.start, span.end)}`,
  );

describe("a degree of the key", () => {
  test("the key supplies the third and the fifth of a plain chord", () => {
    expectSounds("key Eb\nchords | 1 2 3 4 | 5 6 7 1 |", "chords: Eb Fm Gm Ab | Bb Cm Ddim Eb");
    expectSounds("key Cm\nchords | 1 2 3 4 | 5 6 7 1 |", "chords: Cm Ddim Eb Fm | Gm Ab Bb Cm");
    expectSounds("key D dorian\nchords | 1 2 3 4 | 5 6 7 1 |", "chords: Dm Em F G | Am Bdim C Dm");
  });

  test("and nothing else: the quality says more than the key does", () => {
    expectSounds("key Eb\nchords | 3m7b5 4 1add2/3 2:6 |", "chords: Gm7b5 Ab Ebadd2/G Fm6");
    expectSounds("key Eb\nchords | 2:7 6:9 3:11 2:13 |", "chords: F7 C9 G11 F13");
    expectSounds("key Eb\nchords | 2maj 1m 2maj7 1m7 |", "chords: F Ebm Fmaj7 Ebm7");
  });

  test("the third where a quality leaves it unsaid", () => {
    expectSounds("chords | 2add9 6:6 2:69 4:6 |", "chords: Dmadd9 Am6 Dm69 F6");
  });

  test("6 9 11 13 count from the root's own major scale", () => {
    expectSounds("chords | 3:9 3m9 |\nright | 9 9 |", "chords: E9 Em9\nright: F#3 F#3");
  });

  test("one with b and no quality is a major chord, one with # a diminished one", () => {
    expectSounds("chords | b2 b3 b6 b7 | #1 #4 #5 #2 |", "chords: Db Eb Ab Bb | C#dim F#dim G#dim D#dim");
  });

  test("where their quality leaves the third unsaid it is major with b, minor with #", () => {
    expectSounds("chords | b3:6 b7add9 #4:6 #1add9 |", "chords: Eb6 Bbadd9 F#m6 C#madd9");
  });

  test("a quality that starts with a digit or an accidental stands behind a colon", () => {
    expectSounds("chords | 6:7 2:9#11 5:7sus 5:b9 |", "chords: A7 D9#11 G7sus G7b9");
  });

  test("6 7 9 11 13 69 run together are read, and nothing else is", () => {
    expectSounds("chords | 67 29 111 513 | 169 56 5b9 4#11 |", "chords: A7 D9 C11 G13 | C69 G6 G7b9 Fadd#11");
    expect(problemsOf("chords | 67 45 15 5b9 |")).toEqual([
      "run-together 67",
      "unknown-chord 45",
      "unknown-chord 15",
      "run-together 5b9",
    ]);
  });

  test("what can't be read leaves its numbers unread, without a word about them", () => {
    expectSounds("chords | 45 4 |\nright | 3 3 |", "chords: F\nright: - A3");
  });
});

describe("a letter", () => {
  test("with no quality is major, and the flat behind it is the root's", () => {
    expectSounds("key Eb\nchords | G Ab Cb9 C:b9 | F7 F:7 D6 Em |", "chords: G Ab Cb9 C7b9 | F7 F7 D6 Em");
  });

  test("with ♭ and ♯ is the same as with b and #", () => {
    expectSounds("chords | B♭ F♯m7♭5 ♭3 5:7♯5 |", "chords: Bb F#m7b5 Eb G7#5");
  });
});

describe("the bass after the slash", () => {
  test("is a degree after a degree and a letter after a letter", () => {
    expectSounds("key Eb\nchords | 1/3 1/b7 4/5 F7/A |", "chords: Eb/G Eb/Db Ab/Bb F7/A");
  });

  test("one kind after the other is read, with a check", () => {
    expectSounds("key Eb\nchords | 1/G Eb/3 |", "chords: Eb/G Eb/G");
    expect(problemsOf("key Eb\nchords | 1/G Eb/3 |")).toEqual(["spelling 1/G", "spelling Eb/3"]);
  });

  test("6/9 is the quality 69: 9 is no degree", () => {
    expectSounds("chords | 1:6/9 C6/9 |", "chords: C69 C69");
  });

  test("alone is the chord before over that bass", () => {
    expectSounds("chords | 1 /7 6m /5 |", "chords: C C/B Am Am/G");
    expectSounds("chords | 1:7/3 /5 | /B / |", "chords: C7/E C7/G | C7/B");
    expectSounds("chords | 1 | /7 |\n\nchords | /6 |", "chords: C | C/B | C/A");
  });

  test("alone looks past NC, and past a silence", () => {
    expectSounds("chords | 1 NC /7 r | /6 |", "chords@: C@0:1/4 C/B@1/2:1/4 C/A@1:1");
  });

  test("alone is struck at its place", () => {
    expectSounds("chords | 1 / /7 / |", "chords@: C@0:1/2 C/B@1/2:1/2");
  });

  test("alone counts in the key in force there", () => {
    expectSounds("section A\nchords | 1 |\nkey D\nchords | /7 |", "chords: C | C/C#");
  });
});

describe("degrees in minor and the church modes", () => {
  test("count along the mode's own scale", () => {
    expectSounds("key A minor\nchords | 3 6 7 #7dim |", "chords: C F G G#dim");
    expectSounds("key D dorian\nchords | 3 6m7b5 |", "chords: F Bm7b5");
    expectSounds("key F lydian\nchords | 4 2 |", "chords: Bdim G");
  });

  test("b3, b6 and b7 in minor sound as 3, 6 and 7, with a check", () => {
    expectSounds(
      "key A minor\nchords | b3 b6 b7 5/b7 |",
      `
      chords: C F G Em/G
      ! minor-degree b3
      ! minor-degree b6
      ! minor-degree b7
      ! minor-degree b7
    `,
    );
  });

  test("a sign for what a mode already has is treated alike", () => {
    expectSounds(
      "key F lydian\nchords | #4 |\nlead | #4 |",
      `
      chords: Bdim
      lead: B4
      ! minor-degree #4
      ! minor-degree #4
    `,
    );
  });

  test("marks inside a quality always count from the chord's own root", () => {
    expectSounds("key A minor\nchords | 5:7#9 2m7b5 |\nright | #9 b5 |", "chords: E7#9 Bm7b5\nright: Fx4 F4");
  });
});

describe("the chord row over its bars", () => {
  test("an empty bar goes on sounding", () => {
    expectSounds("chords | 1 |  | 4 |\nright | 3 | 3 | 3 |", "chords@: C@0:2 F@2:1\nright: E3 | E3 | A3");
  });

  test("a chord goes on over the break between systems", () => {
    expectSounds(
      "chords | 1 4 |\n\nchords | / 5 |\nright | 3 3 |",
      "chords@: C@0:1/2 F@1/2:1 G@3/2:1/2\nright: | A3 B3",
    );
  });

  test("a system without chords has no chord, and what reaches back after it neither", () => {
    expectSounds(
      "chords | 1 |\n\nright | 3 |\n\nchords | / 4 |\nright | 3 3 |",
      `
      chords@: C@0:1 F@5/2:1/2
      right: | - | - A3
      ! no-chord 3
      ! no-chord 3
    `,
    );
  });

  test("% after it repeats the row's last written bar", () => {
    expectSounds("chords | 1 4 |\n\nright | k3 |\n\nchords | % |", "chords: C F | | C F");
  });
});
