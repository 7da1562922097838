import { describe, expect, test } from "vitest";
import { check, fix, fixTitles } from "../support/check-chart.js";

describe("name-twice", () => {
  test("tells of each line of the head that stands again", () => {
    check(
      "name-twice",
      `
      title One
      ~~~~~ This one counts.
      title Two
      ^^^^^ This is the second title line of the chart, and the first one counts. Take one of them away.
      by    A
      ~~ This one counts.
      key   C major
      ~~~ This one counts.
      ~~~ This one counts.
      time  3/4
      ~~~~ This one counts.
      tempo 60
      ~~~~~ This one counts.
      feel  swing
      ~~~~ This one counts.
      reach 9
      ~~~~~ This one counts.
      by    B
      ^^ This is the second by line …
      key   G major
      ^^^ This is the second key line of the chart, and the first one counts. Take one away, or put this one into the section that it is for.
      time  4/4
      ^^^^ This is the second time line …
      tempo 70
      ^^^^^ This is the second tempo line …
      feel  swing
      ^^^^ This is the second feel line …
      reach left 8
      ^^^^^ This is the second reach line …
      key   G major
      ^^^ This is the second key line …

      section A
      chords | 1 |
      `,
    );
  });

  test("lets notes, forms, the reach of each hand, and lines inside sections stand as often as they like", () => {
    check(
      "name-twice",
      `
      note  one
      note  two
      key   C major
      reach left 8
      reach right 9
      form  A
      form  A

      section A
      chords | 1 |
      key D major
      chords | 1 |
      key E major
      chords | 1 |
      `,
    );
  });

  test("lets a line count that comes after one that can't be read", () => {
    check(
      "name-twice",
      `
      tempo quick
            ^^^^^ syntax: A tempo is …
      tempo 60
      title
      ^^^^^ syntax: Write the words …
      title Evening
      section A
      chords | 1 |
      `,
    );
  });

  test("tells of a second section of one name, with quotes or without", () => {
    check(
      "name-twice",
      `
      section Turn Home
              ~~~~~~~~~ This one is played.
              ~~~~~~~~~ This one is played.
      chords | 1 |
      section "Turn Home"
               ^^^^^^^^^ A section “Turn Home” stands above already, and that one is played wherever the name stands. Give this one another name.
      chords | 4 |
      section Turn Home
              ^^^^^^^^^ A section “Turn Home” stands above already, …
      chords | 5 |
      section turn home
      chords | 6 |
      `,
    );
  });

  test("tells of a name that an earlier use line brings in already", () => {
    check(
      "name-twice",
      `
      use "one.plagal"
      use "two.plagal"
           ^^^^^^^^^^ “two.plagal” brings in “Tag”, which another use line above brings in already. The first one counts: give it another name in one of the two charts.
      section A
      chords | 1 |
      play Tag
      `,
      {
        "one.plagal": "section Tag\nchords | 1 |\n",
        "two.plagal": "section Tag\nchords | 4 |\nsection Other\nchords | 5 |\n",
      },
    );
  });

  test("says nothing of a used section whose name the chart has itself", () => {
    check(
      "name-twice",
      `
      use "one.plagal"
      use "two.plagal"
      section Tag
      chords | 1 |
      `,
      {
        "one.plagal": "section Tag\nchords | 1 |\n",
        "two.plagal": "section Tag\nchords | 4 |\n",
      },
    );
  });

  test("takes the second line away", () => {
    fix(
      "name-twice",
      `
      key C major ; home
      key G major ; later
      section A
      chords | 1 |
      `,
      `
      key C major ; home
      section A
      chords | 1 |
      `,
    );
    const half = "reach left 9\nreach 8\nsection A\nchords | 1 |\n";
    expect(fixTitles("name-twice", half)).toEqual([]);
  });

  test("gives the second section a number that is free", () => {
    fix(
      "name-twice",
      'section Verse\nchords | 1 |\nsection "Verse"\nchords | 4 |\nsection Verse 2\nchords | 5 |\n',
      'section Verse\nchords | 1 |\nsection "Verse 3"\nchords | 4 |\nsection Verse 2\nchords | 5 |\n',
    );
    fix(
      "name-twice",
      "section Verse 2\nchords | 1 |\nsection Verse 2\nchords | 4 |\n",
      "section Verse 2\nchords | 1 |\nsection Verse 3\nchords | 4 |\n",
    );
  });
});
