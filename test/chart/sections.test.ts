import { describe, test } from "vitest";
import { expectSounds } from "../support/dump-chart.js";

describe("a section reads alike wherever it stands", () => {
  test("it starts in the chart's own key, meter, tempo and feel", () => {
    const text = `
      key F
      time 3/4
      tempo 60
      feel swing
      section A
      key G
      time 4/4
      tempo 90
      feel straight
      lead | 1 |
      section B
      lead | 1 |
    `;
    expectSounds(
      text,
      `
      A
      keys: G major 67
      bars: @0:1
      sounds: tempo 90, straight
      lead: G4
      B
      keys: F major 65
      bars: @0:3/4
      sounds: tempo 60, swing
      lead: F4
    `,
    );
  });

  test("nothing is carried in from the section before: not its chord", () => {
    expectSounds(
      "section A\nchords | 1 |\nsection B\nchords |  4 |\nright | 3 |\nleft | k1 |",
      `
      B
      chords@: F@0:1
      right: A3
    `,
    );
    expectSounds(
      "section A\nchords | 1 |\nsection B\nchords |  | 4 |\nright | 3 | 3 |",
      `
      B
      right: - | A3
      ! no-chord 3
    `,
    );
  });

  test("nor its from, nor what its rows sounded", () => {
    expectSounds(
      "section A\nlead from C5 | 1 |\nsection B\nlead | _1 |",
      "B\nlead: C4\n! nothing-to-hold _1",
    );
  });

  test("rows before any section are a nameless one", () => {
    expectSounds("lead | 1 |\nsection B\nlead | 2 |", "order: - 1, B 1");
  });

  test("header lines inside hold from there to its end", () => {
    expectSounds(
      "section A\nlead | 1 |\ntime 3/4\nkey D\nlead | 1 |\n\nlead | 2 |",
      `
      bars: @0:1 @1:3/4 @7/4:3/4
      keys: C major 60 | D major 62 | D major 62
      lead: C4 | D4 | E4
    `,
    );
  });

  test("C major, 4/4 and a straight feel where the chart doesn't say; the first key line counts", () => {
    expectSounds("lead | 1 |", "key: C major, 1 at 60\nbars: @0:1\nsounds: tempo unsaid, straight");
    expectSounds("key F\nkey G\nlead | 1 |", "key: F major, 1 at 65");
  });
});

describe("the form", () => {
  const three = "section A\nlead | 1 |\nsection B\nlead | 2 |\nsection C\nlead | 3 | 4 |\n";

  test("without one the sections play as written, once", () => {
    expectSounds(three, "order: A 1, B 1, C 1 2");
  });

  test("says the playing order; several lines go on; before or after the sections", () => {
    expectSounds(`${three}form C A x2\nform B`, "order: C 1 2, A 1, A 1, B 1");
    expectSounds(`form C A x2\n${three}form B`, "order: C 1 2, A 1, A 1, B 1");
  });

  test("names of several words stand in quotes", () => {
    expectSounds('section Last Verse\nlead | 1 |\nform "Last Verse" x2', "order: Last Verse 1, Last Verse 1");
  });

  test("a name that nobody has is left out", () => {
    expectSounds(`${three}form A Bridge C`, "order: A 1, C 1 2");
  });

  test("in KEY moves the whole section so that its starting key becomes KEY, the shorter way from the chart's own", () => {
    expectSounds(
      `${three}form A in D A in A A in Gb A in F# B`,
      "order: A in D +2 1, A in A -3 1, A in Gb -6 1, A in F# -6 1, B 1",
    );
  });

  test("a section that starts in a key of its own goes to KEY as a block", () => {
    expectSounds(
      "section A\nkey F\nlead | 1 |\nform A in D A in F A in Eb",
      "order: A in D -3 1, A 1, A in Eb -2 1",
    );
    expectSounds("section A\nkey A\nlead | 1 |\nform A in Bb", "key: A major, 1 at 57\norder: A in Bb +1 1");
  });

  test("up half and its kin go the way they say", () => {
    expectSounds(
      `${three}form A up half A up whole A down half A down whole`,
      `
      order: A in Db +1 1, A in D +2 1, A in B -1 1, A in Bb -2 1
    `,
    );
  });

  test("the new key takes its practical name, the one nearer on the line of fifths", () => {
    expectSounds("key F\nsection A\nlead | 1 |\nform A up half", "order: A in Gb +1 1");
    expectSounds("key E\nsection A\nlead | 1 |\nform A up whole", "order: A in F# +2 1");
    expectSounds(
      "key B\nsection A\nlead | 1 |\nform A up half A up whole",
      "order: A in C +1 1, A in Db +2 1",
    );
    expectSounds("key G minor\nsection A\nlead | 1 |\nform A up half", "order: A in G# +1 1");
  });

  test("they hold for that section and nothing after it; with x2 both times sound the same", () => {
    expectSounds(`${three}form A up half x2 B`, "order: A in Db +1 1, A in Db +1 1, B 1");
  });
});

describe("play", () => {
  test("puts another section here", () => {
    expectSounds(
      "section Tag\nlead | 1 |\nsection A\nlead | 1 |\nplay Tag x2\nlead | 2 |\nform A",
      "order: A 1, Tag 1, Tag 1, A 2",
    );
  });

  test("before the first bar and after the last", () => {
    expectSounds(
      "section Tag\nlead | 1 |\nsection A\nplay Tag\nlead | 1 |\nplay Tag up half\nform A",
      "order: Tag 1, A 1, Tag in Db +1 1",
    );
  });

  test("a section of nothing but play", () => {
    expectSounds("section Tag\nlead | 1 |\nsection A\nplay Tag\nplay Tag\nform A", "order: Tag 1, Tag 1");
  });

  test("nested moves add up: play Tag in F inside a section played up half sounds in Gb", () => {
    expectSounds(
      "section Tag\nlead | 1 |\nsection A\nplay Tag in F\nplay Tag\nform A up half",
      "order: Tag in Gb +6 1, Tag in Db +1 1",
    );
  });

  test("inside a section moved by in KEY it moves along, past the tritone too", () => {
    expectSounds(
      "section Tag\nlead | 1 |\nsection A\nlead | 1 |\nplay Tag in F\nform A in E",
      "order: A in E +4 1, Tag in A +9 1",
    );
  });

  test("a circle of sections is played once through", () => {
    expectSounds("section A\nlead | 1 |\nplay B\nsection B\nlead | 2 |\nplay A\nform A", "order: A 1, B 1");
  });

  test("a repeat around it plays it again", () => {
    expectSounds(
      "section Tag\nlead | 1 |\nsection A\nlead |: 1 |\nplay Tag\nlead | 2 :|\nform A",
      "order: A 1, Tag 1, A 2 1, Tag 1, A 2",
    );
  });
});

describe("use", () => {
  const tags =
    "key Eb\ntime 3/4\ntempo 100\nfeel swing\nsection Tag\nlands 1\nchords | 5 Bb7/D |\nright from C4 | Bb4+D 3 |\nlead | 5 Bb |\nkey Ab\nlead | 1 |\n";

  test("brings in the sections written in that file", () => {
    expectSounds('use "tags"\nsection A\nlead | 1 |\nform A Tag', "order: A 1, Tag 1 2", { tags });
  });

  test("a used section sounds as if its text stood in this chart: key and home octaves, letters and pitches by the distance of the 1s", () => {
    expectSounds(
      'key C\ntempo 60\nuse "tags"\nform Tag',
      `
      Tag
      key: C major, 1 at 60
      keys: C major 60 | F major 65
      bars: @0:3/4 @3/4:3/4
      sounds: tempo 60, swing
      chords: G G7/B |
      right: G4+B4 B3 |
      lead: G4 G4 | F4
    `,
      { tags },
    );
  });

  test("the distance takes the (original …) of both charts in", () => {
    expectSounds('key C (original G)\nuse "tags"\nform Tag', "Tag\nlead: G5 G5 | F5\nright: G5+B5 B4 |", {
      tags,
    });
  });

  test("in its own chart's mode", () => {
    expectSounds('key C\nuse "m"\nform Tag', "Tag\nkey: C minor, 1 at 60\nchords: Cm Eb", {
      m: "key A minor\nsection Tag\nchords | 1 3 |\n",
    });
  });

  test("with what they play, and each name once", () => {
    expectSounds('use "tags"\nform Tag', "order: Tag 1, Out 1", {
      tags: "section Tag\nlead | 1 |\nplay Out\nsection Out\nlead | 2 |\n",
    });
    expectSounds('use "tags"\nform Tag Out', "order: Tag 1, Out 1, Out 1", {
      tags: 'use "deeper"\nsection Tag\nlead | 1 |\nplay Out\n',
      deeper: "section Out\nlead | 2 |\nsection Other\nlead | 3 |\n",
    });
    expectSounds('use "tags"\nsection A\nlead | 1 |\nform A Other', "order: A 1", {
      tags: 'use "deeper"\nsection Tag\nlead | 1 |\nplay Out\n',
      deeper: "section Out\nlead | 2 |\nsection Other\nlead | 3 |\n",
    });
  });

  test("a name of this chart's own wins; of two use lines the first", () => {
    expectSounds('use "one"\nuse "two"\nsection Tag\nlead | 1 |\nform Tag Out', "order: Tag 1, Out 1 2", {
      one: "section Tag\nlead | 1 | 2 |\nsection Out\nlead | 1 | 2 |\n",
      two: "section Out\nlead | 1 | 2 | 3 |\n",
    });
  });

  test("its own play words move by the distance too", () => {
    expectSounds('key C\nuse "tags"\nform Tag', "order: Tag 1, Out in D +2 1", {
      tags: "key Eb\nsection Tag\nlead | 1 |\nplay Out in F\nsection Out\nlead | 1 |\n",
    });
  });

  test("and take practical names there", () => {
    expectSounds('key F#\nuse "tags"\nform Tag', "order: Tag 1, Out in C -6 1", {
      tags: "key C\nsection Tag\nlead | 1 |\nplay Out in F#\nsection Out\nlead | 1 |\n",
    });
  });

  test("charts that use each other are no mistake", () => {
    expectSounds('use "other"\nsection A\nlead | 1 |\nform A B', "order: A 1, B 1, A 1", {
      other: 'use "chart.plagal"\nsection B\nlead | 1 |\nplay A\n',
      "chart.plagal": 'use "other"\nsection A\nlead | 1 |\nform A B',
    });
  });
});
