import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { handTravel, travelTime } from "../../server/src/keyboard/leap.js";
import type { Asked } from "../../server/src/voicing/asked.js";
import { type Candidate, candidatesFor } from "../../server/src/voicing/candidates.js";
import { moveTerms, outlineOf, ownTerms, sumOf } from "../../server/src/voicing/costs.js";
import { alternativesAt, voicePassage } from "../../server/src/voicing/search.js";
import { type Style, type StyleName, styleNamed, styles } from "../../server/src/voicing/styles.js";
import type { Step } from "../../server/src/voicing/voicing.js";
import { property } from "../support/property.js";
import { asking, handsOf, passageText, stepsOf } from "./passages.js";

const voiced = (style: StyleName, text: string, key?: string): string =>
  passageText(voicePassage(stepsOf(text, key), asking(style)), asking(style));

const lines = (...all: readonly string[]): string => all.join("\n");

describe("worked cases, as teachers of the keyboard play them (common practice, no source)", () => {
  test("shells: the root, and the third and the seventh changing places", () => {
    expect(voiced("shell", "Dm7 G7 Cmaj7")).toBe(lines("D3 | F3 C4", "G2 | F3 B3", "C3 E3 | B3"));
    expect(voiced("shell", "Fm7 Bb7 Ebmaj7", "Eb major")).toMatch(/^F\d \| /);
  });

  test("close triads: the common tone stays, the others move by step", () => {
    expect(voiced("close", "C F G C")).toBe(
      lines("C3 | C4 E4 G4", "F2 | C4 F4 A4", "G2 | B3 D4 G4", "C3 | C4 E4 G4"),
    );
  });

  test("rootless: one form and then the other, three voices kept at each change", () => {
    expect(voiced("rootless", "Dm9 G13b9 C6/9")).toBe(
      lines("F3 C4 | E4 A4", "F3 B3 | E4 A♭4", "E3 A3 | D4 G4"),
    );
  });

  test("block chords: the melody on top, and again an octave below", () => {
    expect(voiced("block chords", "Cmaj7 Am7 Dm7 G7 C | E5 C5 A4 B4 C5")).toBe(
      lines(
        "E4 | G4 B4 C5 E5",
        "C4 | E4 G4 A4 C5",
        "A3 | C4 D4 F4 A4",
        "B3 | D4 F4 G4 B4",
        "C4 | E4 G4 A4 C5",
      ),
    );
  });

  test("two hands: root and fifth or octave below, a full chord above", () => {
    expect(voiced("two-hand", "Dm7 G7 Cmaj7")).toBe(
      lines("D2 D3 | C4 D4 F4 A4", "G2 D3 | B3 D4 F4 G4", "C2 C3 | B3 D4 E4 G4"),
    );
    expect(voiced("two-hand", "Ab Eb/G Fm Db", "Ab major")).toBe(
      lines("A♭1 A♭2 | C4 E♭4 A♭4", "G1 G2 | B♭3 E♭4 G4", "F2 C3 | C4 F4 A♭4", "D♭2 D♭3 | D♭4 F4 A♭4"),
    );
  });

  test("open: root and fifth or seventh in the left hand, room between the voices of the right", () => {
    expect(voiced("open", "Dm7 G7 Cmaj7")).toBe(lines("D2 A2 | F4 C5", "G2 D3 | F4 B4", "C3 G3 | E4 B4"));
  });

  test("drop 2: the melody on top, the second voice under it an octave lower", () => {
    expect(voiced("drop 2", "Dm7 G7 Cmaj7 | F5 F5 E5")).toBe(
      lines("D4 A4 | C5 F5", "D4 G4 | B4 F5", "C4 G4 | B4 E5"),
    );
    expect(voiced("drop 2", "Cm7 F7 Bbmaj7", "Bb major")).toBe(
      lines("G3 C4 | E♭4 B♭4", "F3 C4 | E♭4 A4", "F3 B♭3 | D4 A4"),
    );
  });

  test("stacked fourths: three fourths and a third on top", () => {
    expect(voiced("stacked fourths", "Dm7 Dm7 Cmaj7")).toBe(
      lines("D3 G3 | C4 F4 A4", "D3 G3 | C4 F4 A4", "E3 A3 | D4 G4 B4"),
    );
  });

  test("upper structures: a triad of colours over third and seventh", () => {
    expect(voiced("upper-structure triad", "Gm9 C13 Fmaj9", "F major")).toBe(
      lines("G3 B♭3 | D4 F4 A4", "E3 B♭3 | D4 F♯4 A4", "E3 A3 | D4 G4 B4"),
    );
    expect(voiced("upper-structure triad", "Dm7 G7 Cmaj7")).toBe(
      lines("F3 C4 | E4 G4 C5", "F3 B3 | E4 G4 B4", "E3 B3 | D4 F♯4 A4"),
    );
  });

  test("rootless in minor: the half-diminished chord takes its root where a ninth would be foreign", () => {
    expect(voiced("rootless", "Bm7b5 E7b9 Am6", "A minor")).toBe(
      lines("A3 D4 | F4 B4", "G♯3 D4 | F4 B4", "F♯3 C4 | E4 B4"),
    );
  });

  test("a colour in the symbol is played, and none is added that the style doesn't live by", () => {
    expect(voiced("close", "G13b9")).toMatch(/E4.*A♭4/);
    expect(voiced("rootless", "C7#11")).toMatch(/F♯/);
    expect(voiced("drop 2", "Dm7")).toBe("F3 C4 | D4 A4");
    expect(voiced("block chords", "Dm7")).not.toMatch(/[EGB]/);
  });

  test("the left hand alone says third and seventh", () => {
    const alone = stepsOf("Dm7 G7 Cmaj7").map((step) => ({ ...step, right: [] }));
    expect(passageText(voicePassage(alone, asking("close")), asking("close"))).toBe(
      lines("D3 F3 A3 C4 | ", "D3 F3 G3 B3 | ", "C3 E3 G3 B3 | "),
    );
  });
});

describe("a style that can't serve a chord", () => {
  test("takes the nearest, and says which", () => {
    expect(voiced("upper-structure triad", "G7 C")).toMatch(/\n.*\(rootless\)$/);
  });

  test("leaves out what nothing serves, and why, and goes on behind it", () => {
    // Nothing fits under a melody at the bottom of the keyboard.
    expect(voiced("close", "Dm7 G7 C | F5 B0 E5").split("\n")[1]).toBe("none");
    // The right hand strikes a high C and has 20 ms to come to the one below the middle.
    const far = (key: number) => [{ pitch: { fifths: 0, midi: key }, number: { number: 1, alter: 0 } }];
    const [first, second] = stepsOf("C C") as [Step, Step];
    const steps = [
      { ...first, left: [], right: far(96), time: 20 },
      { ...second, right: far(60) },
    ];
    expect(
      voicePassage(
        steps.map((step) => ({ ...step, time: 2000 })),
        asking("close"),
      ).steps[1]?.voicing,
    ).toBeDefined();
    const asked = asking("close");
    expect(voicePassage(steps, asked).steps[1]).toEqual({ voicing: undefined, reason: "time" });
    expect(alternativesAt(steps, asked, 1, 3)).toEqual([]);
  });

  test("nothing is found for nothing", () => {
    expect(voicePassage([], asking("close"))).toEqual({ steps: [], cost: 0 });
    expect(alternativesAt([], asking("close"), 0, 3)).toEqual([]);
  });
});

test("hands that play already keep what they play, and the other is found to it", () => {
  const steps = stepsOf("Dm7 G7 Cmaj7").map((step) => ({ ...step, left: [] }));
  expect(passageText(voicePassage(steps, asking("rootless")), asking("rootless"))).toMatch(
    /^ \| .+\n \| .+\n \| .+$/,
  );
  const [first, ...others] = stepsOf("Dm7 G7 Cmaj7");
  const whole = voicePassage(stepsOf("Dm7 G7 Cmaj7"), asking("close")).steps[0]?.voicing;
  if (first === undefined || whole === undefined) throw new Error("nothing was voiced");
  const fixed = [{ ...first, left: whole.left, right: whole.right }, ...others];
  expect(handsOf(voicePassage(fixed, asking("close")).steps[0]?.voicing ?? whole)).toBe(handsOf(whole));
});

test("the same passage is voiced the same, whatever was voiced before", () => {
  const all = () => styles.map(({ name }) => voiced(name, "Cmaj7 A7b9 Dm9 G7sus G7 C6", "C major"));
  const once = all();
  voiced("close", "Ebmaj7 Ab13 Gm7b5 C7alt Fm9");
  expect(all()).toEqual(once);
});

// Against every way through every candidate.

const symbols = [
  "C",
  "Cmaj7",
  "Dm7",
  "G7",
  "G13",
  "Em7",
  "A7b9",
  "Fmaj7",
  "Fm6",
  "Bdim7",
  "Bm7b5",
  "G7sus",
  "C/E",
  "F/A",
];
const passages = fc.record({
  chords: fc.array(fc.constantFrom(...symbols), { minLength: 1, maxLength: 4 }),
  melody: fc.array(fc.constantFrom("-", "E4", "G4", "A4", "B4", "C5", "D5", "E5"), {
    minLength: 4,
    maxLength: 4,
  }),
  style: fc.constantFrom(...styles.map(({ name }) => name)),
  reach: fc.integer({ min: 8, max: 11 }),
  everyKey: fc.boolean(),
  time: fc.constantFrom(undefined, undefined, 60, 130, 200),
});
type Drawn = typeof passages extends fc.Arbitrary<infer T> ? T : never;

interface Case {
  readonly steps: readonly Step[];
  readonly asked: Asked;
}
const caseOf = ({ chords, melody, style, reach, everyKey, time }: Drawn): Case => ({
  steps: stepsOf(`${chords.join(" ")} | ${melody.join(" ")}`).map((step) => ({ ...step, time })),
  asked: asking(style, { reach: { left: reach, right: reach }, everyKey }),
});

/** Each way's cost, by an own sum over what each voicing and each move costs; infinite where there is no time. */
function everyWay({ steps, asked }: Case, visit: (way: readonly number[], cost: number) => void): boolean {
  const style = styleNamed(asked.style) as Style;
  const served = steps.map((step, i) => {
    const next = steps
      .slice(i + 1)
      .find(
        ({ chord }) =>
          chord.quality.symbol !== step.chord.quality.symbol ||
          chord.root !== step.chord.root ||
          chord.bass !== step.chord.bass,
      );
    return candidatesFor(step, next?.chord, style, asked);
  });
  const counts = served.map(({ candidates }) => candidates.length);
  if (counts.some((count) => count === 0) || counts.reduce((all, count) => all * count, 1) > 60_000)
    return false;
  const own = served.map(({ tones, candidates }) => {
    const most = Math.max(...candidates.map(({ keys }) => keys.length));
    return candidates.map((it) => sumOf(ownTerms(it, { tones, most }, style, asked)));
  });
  const moves = served.slice(1).map(({ candidates, tones }, i) => {
    const before = served[i] as (typeof served)[number];
    return before.candidates.map((from) =>
      candidates.map((to) => {
        const isInTime = steps[i]?.time === undefined || inTime(from, to, steps[i]?.time as number, asked);
        const cost = sumOf(
          moveTerms(outlineOf(from, before.tones, style), outlineOf(to, tones, style), style, asked),
        );
        return isInTime ? cost : Number.POSITIVE_INFINITY;
      }),
    );
  });
  const walk = (way: readonly number[], cost: number): void => {
    if (way.length === counts.length) visit(way, cost);
    const last = way.at(-1);
    for (let i = 0; i < (counts[way.length] as number); i++) {
      const move = last === undefined ? 0 : (moves[way.length - 1]?.[last]?.[i] as number);
      walk([...way, i], cost + move + (own[way.length]?.[i] as number));
    }
  };
  walk([], 0);
  return true;
}

const inTime = (from: Candidate, to: Candidate, time: number, { reach, everyKey }: Asked): boolean =>
  (everyKey ? [-6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5] : [0]).every((by) =>
    (["left", "right"] as const).every((hand) => {
      const [before, after] = [from, to].map((it) => it[`${hand}Keys`].map((key) => key + by)) as [
        number[],
        number[],
      ];
      return (
        before.length === 0 ||
        after.length === 0 ||
        travelTime(handTravel(before, after, hand, reach[hand])) <= time
      );
    }),
  );

let [compared, forbidden] = [0, 0];

property(
  "a passage costs as little as the cheapest of all ways, and its alternatives as the next ones",
  passages,
  700,
  (drawn) => {
    const it = caseOf(drawn);
    const at = it.steps.length - 1 - (drawn.reach % it.steps.length);
    let least = Number.POSITIVE_INFINITY;
    const through = new Map<number, number>();
    const isWhole = everyWay(it, (way, cost) => {
      least = Math.min(least, cost);
      const here = way[at] as number;
      through.set(here, Math.min(through.get(here) ?? Number.POSITIVE_INFINITY, cost));
    });
    if (!isWhole) return;
    if (least === Number.POSITIVE_INFINITY) {
      forbidden++;
      return;
    }
    compared++;
    const found = voicePassage(it.steps, it.asked);
    expect(found.cost).toBe(least);
    expect(found.cost).toBe(
      found.steps.reduce((sum, step) => sum + (step.voicing === undefined ? 0 : sumOf(step.terms)), 0),
    );
    const expected = [...through.values()]
      .filter((cost) => cost < Number.POSITIVE_INFINITY)
      .sort((a, b) => a - b);
    const alternatives = alternativesAt(it.steps, it.asked, at, 4);
    expect(alternatives.map(({ more }) => more)).toEqual(expected.slice(0, 4).map((cost) => cost - least));
    for (const { passage, more } of alternatives) expect(passage.cost).toBe(least + more);
    const hands = alternatives.map(({ passage }) => JSON.stringify(passage.steps[at]?.voicing));
    expect(new Set(hands).size).toBe(hands.length);
  },
);

property("enough passages were compared", fc.constant(undefined), 1, () => {
  expect(compared).toBeGreaterThanOrEqual(300);
  expect(forbidden).toBeGreaterThan(0);
});
