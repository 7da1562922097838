import { describe, expect, test } from "vitest";
import { openDocument, type Settings } from "../../server/src/document/document.js";
import { check } from "../support/check-chart.js";
import { chartText } from "../support/edit-chart.js";

const settings: Settings = { severities: { jump: "off" }, reach: { left: undefined, right: undefined } };
const found = (chart: string, reach: Settings["reach"] = settings.reach) =>
  openDocument("chart.plagal", chartText(chart), undefined, { ...settings, reach }).problems.filter(
    ({ code }) => code === "other-keys",
  );
const keysIn = (chart: string, reach?: Settings["reach"]): readonly unknown[] =>
  found(chart, reach).map(({ facts: { hand, keys } }) => `${hand}: ${(keys as string[]).join(" ")}`);

describe("other-keys", () => {
  test("names the keys in which a grip that holds here can't be held", () => {
    check(
      "other-keys",
      `
      reach 10
      section A
      chords | 1    | 4   |
      left   | 1+>3 | 1+5 |
               ^^^^ With the chart's reach of a tenth the left hand holds C2 and E3 here, but not in D♭ and B. If you take it there, roll it (~), leave a tone out or give one to the other hand.
      `,
    );
  });

  test("tells of neighbouring grips once, with the keys of all of them and the hardest", () => {
    check(
      "other-keys",
      `
      reach 10
      section A
      chords | 1    | 4    | 1   | 1   | 2maj |
      left   | 1+>3 | 1+>3 | 1+5 | 1+5 | 1+>3 |
               ^^^^^^^^^^^ With the chart's reach of a tenth the left hand holds these 2 grips here, but not all of them in D♭, G♭, A♭ and B. The hardest is C2 and E3. If you take …
                                         ^^^^ … holds D2 and F♯3 here, but not in A and B. …
      `,
    );
    expect(keysIn("reach 10\nchords | 1 | 4 | 1 |\nleft | 1+>3 1 | 1+5 1+>3 | 1 |\n")).toEqual([
      "left: Db Gb Ab B",
    ]);
  });

  test("goes over the break between systems, and says where the same grips come again", () => {
    check(
      "other-keys",
      `
      reach 10
      section A
      chords | 1    | 1    |
      left   | 1    | 1+>3 |
                      ^^^^ … holds these 2 grips here, but not all of them in D♭, G♭, A♭ and B. …

      chords | 4    | 4    |
      left   | 1+>3 | %    |
               ~~~~ And these.

      chords | 1    | 4    |
      left   | 1+>3 | 1+>3 |
               ~~~~~~~~~~~ Here again.
      `,
    );
  });

  test("counts a text that is repeated under another chord with its first place", () => {
    check(
      "other-keys",
      `
      reach 10
      section A
      chords | 1    | 1 | 1 | 4 |
      left   | 1+>3 | % | % | % |
               ^^^^ … holds C2 and E3 here, but not in D♭, G♭, A♭ and B. …
      `,
    );
  });

  test("says where it can be held, where that is in few keys", () => {
    check(
      "other-keys",
      `
      key F
      chords | 1m     |
      left   | 1+>b3  |
               ^^^^^ With a reach of a ninth (taken where nobody says) the left hand holds F2 and A♭3 here, and elsewhere only in A♭. …
      `,
    );
    // The minor seventh between the second finger and the fifth.
    expect(keysIn("reach 8\nkey Bb\nchords | 1:7 |\nleft | 1+3+5+b7+1 |\n")).toEqual(["left: C Db F Gb"]);
  });

  test("counts from the section's own key, by the names that players write", () => {
    expect(keysIn("reach 10\nsection A\nkey C# minor\nchords | b7maj |\nleft | 1+>3 |\n")).toEqual([]);
    expect(keysIn("reach 10\nsection A\nkey Bb minor\nchords | 3 |\nleft | 1+>3 |\n")).toEqual([]);
    expect(keysIn("reach 10\nsection A\nkey A minor\nchords | 3 |\nleft | 1+>3 |\n")).toEqual([
      "left: G# Bb",
    ]);
  });

  test("leaves the keys that the form plays to the check of the hand", () => {
    const chart = (form: string): string =>
      `reach 10\nform ${form}\nsection A\nchords | 1 |\nleft | 1+>3 |\n`;
    expect(keysIn(chart("A A in F"))).toEqual(["left: Db B"]);
    // There it can't be held, which is an error of its own.
    expect(keysIn(chart("A A in Db"))).toEqual([]);
    check(
      "other-keys",
      `
      reach 10
      form A in F
      section A
      chords | 1    |
      left   | 1+>3 |
               ^^^^ With the chart's reach of a tenth the left hand holds C2 and E3 in F, but not in D♭ and B. …
      `,
    );
  });

  test("says nothing of a grip that can't be held here", () => {
    expect(keysIn("chords | 1 |\nleft | 1+>3 |\n")).toEqual([]);
    expect(keysIn("chords | 1 |\nleft | 1+>>3 |\n")).toEqual([]);
  });

  test("takes the reach in force for each hand", () => {
    const chart = "chords | 1 |\nleft | 1+>3 |\nright | 1+>3 |\n";
    expect(keysIn(chart, { left: 10, right: 11 })).toEqual(["left: Db B"]);
    expect(keysIn(chart, { left: 11, right: 10 })).toEqual(["right: Db B"]);
    expect(keysIn(chart, { left: 11, right: 11 })).toEqual([]);
  });

  test("counts of a roll only what stays down", () => {
    expect(keysIn("reach 10\nchords | 1 |\nleft | ~1+>3 |\n")).toEqual([]);
    expect(keysIn("reach 10\nchords | 1 - |\nleft | ~1+5+3 _1+_>3 |\n")).toEqual(["left: Db B"]);
    // While its last tone is struck.
    expect(keysIn("reach 10\nchords | 1 - |\nleft | ~1+5+3 _1+5 |\n")).toEqual(["left: Db B"]);
  });

  test("judges fingers too, not the width alone", () => {
    // The thumb takes two white neighbours, or two black ones a whole step apart.
    expect(keysIn("chords | 1:6 |\nright | >1+2+3+5+6+1 |\n")).toEqual(["right: Eb E Bb B"]);
  });

  test("judges the melody and the bass line where the hand plays them", () => {
    expect(keysIn("reach 10\nchords | 1 |\nlead | 1+>3 |\nbass | 1+>3 |\n")).toEqual([
      "right: Db B",
      "left: Db B",
    ]);
    expect(keysIn("reach 10\nchords | 1 |\nlead | 1+>3 |\nright | r |\n")).toEqual([]);
  });

  test("is silent where every grip holds in every key", () => {
    check("other-keys", "chords | 1 | 4 |\nright | 3+5+1 1+3+5+1 | 5+1+3 |\nleft | 1+5 1+1 | 1+b7 |\n");
  });
});
