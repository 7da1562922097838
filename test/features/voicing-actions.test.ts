import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { voicingChoices } from "../../server/src/features/voicing-choices.js";
import { styles } from "../../server/src/voicing/styles.js";
import { acted, offered } from "../support/change-chart.js";
import { chartText } from "../support/edit-chart.js";

const voiceTitles = (chart: string, only?: readonly string[]): readonly string[] =>
  offered(chart, only === undefined ? {} : { only }).flatMap(({ title, kind }) =>
    kind === "refactor.rewrite.voice" ? [title] : [],
  );
const nextTitles = (chart: string): readonly string[] =>
  offered(chart).flatMap(({ title }) => (title.startsWith("Try") ? [title] : []));

const bare = `
  key C
  section Verse
  chords | 2m‸7 | 5:7 | 1maj7 |
  section Tag
  chords | 4 | 1 |
`;

describe("on a row of chords", () => {
  test("three styles that suit are offered for the hands that leave bars empty in the section", () => {
    expect(voiceTitles(bare)).toEqual([
      "Voice the chords of this section for both hands: close",
      "Voice the chords of this section for both hands: open",
      "Voice the chords of this section for both hands: two-hand",
    ]);
    const withLeft = bare.replace("section Tag", "left | 1 | 1 | 1 |\nsection Tag");
    expect(voiceTitles(withLeft)[0]).toBe("Voice the chords of this section for the right hand: rootless");
    const withLead = bare.replace("section Tag", "lead | 4 | 5 | 5 |\nsection Tag");
    expect(voiceTitles(withLead)[0]).toBe("Voice the chords of this section for both hands: drop 2");
  });

  test("asked for them, every style is offered, and those that suit for all twelve keys", () => {
    const all = voiceTitles(bare, ["refactor.rewrite"]);
    expect(all).toHaveLength(styles.length + 3);
    for (const { name } of styles) expect(all.some((it) => it.endsWith(`: ${name}`))).toBe(true);
    expect(all.filter((it) => it.endsWith(": close, playable in every key"))).toHaveLength(1);
    expect(voiceTitles(bare, ["refactor.rewrite.voice"])).toEqual(all);
    expect(voiceTitles(bare, ["refactor.move"])).toEqual([]);
  });

  test("the section is voiced, no other one, and its rows say how", () => {
    const after = acted(bare, "Voice the chords of this section for both hands: close");
    const [verse, tag] = after.split("section Tag");
    expect(verse?.match(/^(?:right|left) .*; voiced close$/gm)).toHaveLength(2);
    expect(tag).toBe("\nchords | 4 | 1 |\n");
  });

  test("where both hands are written throughout, nothing is offered but on demand, and then anew", () => {
    const full = bare.replace("section Tag", "right | 3 | 3 | 3 |\nleft | 1 | 1 | 1 |\nsection Tag");
    expect(voiceTitles(full)).toEqual([]);
    const all = voiceTitles(full, ["refactor.rewrite"]);
    expect(all[0]).toBe("Voice the chords of this section for both hands anew: close");
    expect(acted(full, all[0] ?? "", { only: ["refactor.rewrite"] })).toMatch(/^right .*; voiced close$/m);
  });
});

describe("on a row of a hand", () => {
  const holes = `
    key C
    section Verse
    chords | 2m7 | 5:7 | 1maj7 |
    right  | b3+5 |  ‸   | 5+7   |
  `;

  test("its empty bars are filled, and what the player wrote stays", () => {
    expect(voiceTitles(holes)).toEqual([
      "Voice this row: close",
      "Voice this row: drop 2",
      "Voice this row: two-hand",
    ]);
    expect(acted(holes, "Voice this row: close")).toMatch(/^right +\| b3\+5 +\| \S+\+\S+ +\| 5\+7 +\|$/m);
  });

  test("a row that was voiced may be voiced anew in another style", () => {
    const voiced = acted(bare, "Voice the chords of this section for both hands: close");
    const at = voiced.indexOf("right") + 2;
    const chart = `${voiced.slice(0, at)}‸${voiced.slice(at)}`;
    expect(voiceTitles(chart)).toContain("Voice this row anew: drop 2");
    const after = acted(chart, "Voice this row anew: drop 2");
    expect(after).toMatch(/^right .*; voiced drop 2$/m);
    expect(after).toMatch(/^left .*; voiced close$/m);
  });

  test("a row of the player's own is voiced anew on demand alone", () => {
    const own = "chords | 1 | 4 |\nright | 3+‸5 | 3+5 |\n";
    expect(voiceTitles(own)).toEqual([]);
    expect(voiceTitles(own, ["refactor.rewrite"])).toContain("Voice this row anew: close");
  });

  test("selected slots are voiced and no others", () => {
    const chart = `
      key C
      section Verse
      chords | 2m7    | 5:7  | 1maj7 |
      right  | b3+5+b7 | ⟦3+5⟧ | 5+7 |
    `;
    expect(voiceTitles(chart)[0]).toBe("Voice the selected slots: close");
    const after = acted(chart, "Voice the selected slots: close");
    expect(after).toMatch(/^right +\| b3\+5\+b7 +\| \S+ +\| 5\+7 +\|$/m);
    expect(after).not.toBe(chartText(chart.replace(/[⟦⟧]/g, "")));
  });
});

describe("the next voicing", () => {
  test("is offered on a stack of a hand over a chord, and names the chord", () => {
    expect(nextTitles("key C\nsection A\nchords | 2m7 |\nright | b3+‸5+b7 |\n")).toEqual([
      "Try the next voicing of Dm7",
    ]);
    for (const none of [
      "section A\nchords | 2‸m7 |\nright | 3 |\n",
      "section A\nchords | 2m7 |\nright | r‸ |\n",
      "section A\nchords | 2m7 |\nlead | 3‸ |\n",
      "section A\nright | C‸4+E4 |\n",
      "section A\nchords | 1 | 4 |\nright | 3 | %‸ |\n",
      "section A\nchords | 1 | 4 |\nright | 3 | -‸ |\n",
    ])
      expect(nextTitles(none), none).toEqual([]);
  });

  test("steps through the best few and comes back to where it was", () => {
    let text = acted(bare, "Voice the chords of this section for both hands: close");
    const seen = [text];
    for (let i = 0; i < 10; i++) {
      const at = text.indexOf("| ", text.indexOf("right")) + 2;
      text = acted(`${text.slice(0, at)}‸${text.slice(at)}`, "Try the next voicing of Dm7");
      if (seen.includes(text)) break;
      seen.push(text);
    }
    expect(text).toBe(seen[0]);
    expect(seen.length).toBeGreaterThan(2);
  });
});

describe("what can be voiced, for a picker", () => {
  const choices = (text: string) =>
    voicingChoices(openDocument("chart.plagal", text), { kind: "chart" }).map(
      ({ rows, fills, anew, styles: all, suits }) => [rows, fills, anew, all.length, suits],
    );

  test("is both hands, the right and the left, with what would be filled", () => {
    expect(choices("section A\nchords | 1 | 4 |\nleft | 1 | |\nsection B\nchords | 1 |\n")).toEqual([
      ["both", "fills 5 empty bars", false, styles.length, 3],
      ["right", "fills 3 empty bars", false, styles.length, 3],
      ["left", "fills 2 empty bars", false, styles.length, 3],
    ]);
    expect(choices("section A\nchords | 1 |\nleft | 1 |\n").map(([, fills, anew]) => [fills, anew])).toEqual([
      ["fills the one empty bar", false],
      ["fills the one empty bar", false],
      ["no bar is empty: what is written there is written anew", true],
    ]);
  });

  test("is nothing where there are no chords", () => {
    expect(choices("section A\nright | C4 |\n")).toEqual([]);
  });
});
