import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { handGrips } from "../server/src/chart/hand-grips.js";
import { defaultSettings, noFiles, openDocument } from "../server/src/document/document.js";
import type { Hand } from "../server/src/keyboard/hand.js";
import type { Code } from "../server/src/problems/catalogue.js";
import type { Problem } from "../server/src/problems/problem.js";
import { alone } from "./support/charts-of.js";
import { holds, usualGeometry } from "./support/exhaustive-grip.js";
import { sampleCharts } from "./support/sample-charts.js";

/**
 * Forty charts in ten styles of church playing, written to be played by hands that reach a ninth. Whatever a check of
 * the hands says of them is a false alarm; of their twins, each changed in one place, it must speak.
 */
const styles: Readonly<Record<string, readonly string[]>> = {
  "a slow ballad in 12/8": ["lamps-along-the-levee", "orchard-in-november", "slow-bread", "tell-the-harbor"],
  "a shout vamp": ["kitchen-table-shout", "red-clay-praise", "run-to-the-river", "sunday-best-vamp"],
  "a walking bass": ["corner-store-walk", "grain-elevator", "night-bus", "upstairs-choir"],
  "an altar call": ["come-in-from-the-cold", "leave-the-door", "nobody-hurry", "while-lights-are-low"],
  "a verse like a hymn": ["carpenters-verse", "evening-lantern", "seven-candles", "stone-in-the-meadow"],
  "a minor call and response": [
    "long-way-to-the-well",
    "salt-on-the-road",
    "seven-times-down",
    "who-opened-the-gate",
  ],
  "a turnaround study": ["eight-ways-home", "porch-step-study", "round-the-corner", "window-seat-changes"],
  "a praise groove": ["eleven-oclock-sun", "every-porch-light", "first-bus-praise", "open-the-windows"],
  "a gospel waltz": ["garden-gate-waltz", "last-pew-waltz", "shoes-by-the-river", "three-for-the-elders"],
  "a modal piece": ["bright-gravel", "deep-in-the-quarry", "glass-and-cedar", "two-lane-mercy"],
};

const hands: readonly Hand[] = ["left", "right"];
const ofTheHands: readonly Code[] = [
  "hand-span",
  "too-many-notes",
  "hands-collide",
  "hands-cross",
  "too-far-too-fast",
  "other-keys",
];

const textOf = (name: string): string => readFileSync(`test/charts/corpus/${name}.plagal`, "utf8");
const problemsOf = (text: string, reach?: number): readonly Problem[] =>
  openDocument("chart.plagal", text, noFiles, { ...defaultSettings, reach: { left: reach, right: reach } })
    .problems;

const names = Object.values(styles).flat();

test("the corpus is four charts in each of ten styles, and no file beside them", () => {
  expect(Object.values(styles).map((charts) => charts.length)).toEqual(Array(10).fill(4));
  const files = sampleCharts.filter((name) => name.startsWith("corpus"));
  expect(files.map((name) => name.slice("corpus/".length, -".plagal".length)).sort()).toEqual(
    [...names].sort(),
  );
});

test("the corpus is in all twelve major keys, in minor keys and in modes", () => {
  const keys = names.map((name) => /^key +(.*)$/m.exec(textOf(name))?.[1]?.split(" ") ?? []);
  const tonics = keys.filter(([, mode]) => mode === "major").map(([tonic]) => tonic);
  expect([...new Set(tonics)].sort()).toEqual(
    ["A", "Ab", "B", "Bb", "C", "D", "Db", "E", "Eb", "F", "F#", "G", "Gb"].sort(),
  );
  expect(keys.filter(([, mode]) => mode === "minor").length).toBeGreaterThanOrEqual(6);
  expect(new Set(keys.map(([, mode]) => mode)).size).toBeGreaterThanOrEqual(5);
});

describe.each(Object.entries(styles))("of %s", (_, charts) => {
  test.each(charts)("%s is 12 to 40 lines with a tempo, and plays both hands", (name) => {
    const text = textOf(name);
    const lines = text.trimEnd().split("\n").length;
    expect(lines).toBeGreaterThanOrEqual(12);
    expect(lines).toBeLessThanOrEqual(40);
    expect(text).toMatch(/^tempo /m);
    const { sections } = alone(text).at("chart.plagal").chart;
    for (const hand of hands)
      expect(sections.flatMap(({ section }) => handGrips(section, hand)).length, hand).toBeGreaterThan(4);
  });

  test.each(charts)("%s is called sound: by its own reach, and at a ninth", (name) => {
    const text = textOf(name);
    for (const reach of [undefined, 9]) {
      const loud = problemsOf(text, reach).filter(({ severity }) => /error|warning/.test(severity));
      expect(loud.map(({ code, message }) => `${code}: ${message}`)).toEqual([]);
    }
  });

  test.each(charts)("%s is held at a ninth by fingers that were tried one by one", (name) => {
    const { sections } = alone(textOf(name)).at("chart.plagal").chart;
    for (const hand of hands) {
      const grips = sections.flatMap(({ section }) => handGrips(section, hand));
      const unheld = grips.filter(({ tied }) => !holds(tied, hand, 9, usualGeometry));
      expect(unheld.map(({ keys }) => keys)).toEqual([]);
    }
  });
});

test("the checks of the hands raise no false alarm in forty charts", () => {
  const alarms = names.flatMap((name) =>
    problemsOf(textOf(name), 9)
      .filter(({ code }) => ofTheHands.includes(code) && code !== "other-keys")
      .map(({ code, message }) => `${name}: ${code}: ${message}`),
  );
  expect(alarms).toEqual([]);
});

test("other keys are named for one grip of them all, and rightly", () => {
  const told = names.flatMap((name) =>
    problemsOf(textOf(name), 9).flatMap(({ code, message }) =>
      code === "other-keys" ? [`${name}: ${message}`] : [],
    ),
  );
  expect(told).toHaveLength(1);
  expect(told[0]).toMatch(/^two-lane-mercy: .* holds G2, G3 and A3 here, but not in E♭, E, B♭ and B\./);
  // The thumb lies on the octave and the ninth: both white, or both black.
  const failing = Array.from({ length: 12 }, (_, up) => up).filter(
    (up) => !holds([43 + up, 55 + up, 57 + up], "left", 9, usualGeometry),
  );
  const tonics = ["G", "A♭", "A", "B♭", "B", "C", "D♭", "D", "E♭", "E", "F", "G♭"];
  expect(failing.map((up) => tonics[up])).toEqual(["B♭", "B", "E♭", "E"]);
});

/** A change of one place in a chart, and what must be told of it. */
interface Twin {
  readonly chart: string;
  /** The text that is changed, runs of spaces as one; it stands in the chart once. */
  readonly from: string;
  readonly to: string;
  /** All that is told above a hint: code, row, what is marked. */
  readonly told: readonly string[];
}

const twins: Readonly<Record<string, Twin>> = {
  "a last tenth that is no longer rolled": {
    chart: "garden-gate-waltz",
    from: "~Bb1+F2+D3",
    to: "Bb1+F2+D3",
    told: ["hand-span left Bb1+F2+D3"],
  },
  "a tenth struck at once that the form plays a whole step up": {
    chart: "tell-the-harbor",
    from: "~1+5+3",
    to: "1+5+3",
    told: ["hand-span left 1+5+3"],
  },
  "an octave with a fifth on top, not rolled": {
    chart: "seven-candles",
    from: "~G1+G2+D3",
    to: "G1+G2+D3",
    told: ["hand-span left G1+G2+D3"],
  },
  "a tenth in place of a rolled ninth": {
    chart: "while-lights-are-low",
    from: "left | ~1+5+9 - - - | 0",
    to: "left | 1+5+3 - - - | 0",
    told: ["hand-span left 1+5+3"],
  },
  "a minor tenth that is held in F and not a half step up": {
    chart: "seven-times-down",
    from: "left | 1+5 - - - | 1+5 - 1+5 -",
    to: "left | 1+>b3 - - - | 1+5 - 1+5 -",
    told: ["hand-span left 1+>b3"],
  },
  "held ninths for hands of an octave": {
    chart: "glass-and-cedar",
    from: "feel straight",
    to: "feel straight\nreach 8",
    told: [
      "hand-span right 11+b7+b3+5",
      "hand-span left 1+5+9",
      "hand-span left 1+5+9",
      "hand-span right b3+b7+11",
    ],
  },
  "the fifth two octaves up in one hand": {
    chart: "carpenters-verse",
    from: "5+1+3 6+1+b3",
    to: "5+1+3+>5 6+1+b3",
    told: ["hand-span right 5+1+3+>5"],
  },
  "a chord doubled to seven keys": {
    chart: "eight-ways-home",
    from: "b3+5+b7+9",
    to: "b3+5+b7+1+b3+5+b7",
    told: ["too-many-notes right b3+5+b7+1+b3+5+b7"],
  },
  "a fist of an octave doubled to seven keys": {
    chart: "run-to-the-river",
    from: "(1+3+5+1 =)",
    to: "(1+3+5+1+3+5+1 =)",
    told: ["too-many-notes right 1+3+5+1+3+5+1"],
  },
  "a tenth that rolls into the right hand's lowest tone": {
    chart: "come-in-from-the-cold",
    from: "left | ~1+5 - ~0+5 - | ~1+5 - 0 ",
    to: "left | ~1+5+3 - ~0+5 - | ~1+5 - 0 ",
    told: ["hands-collide right 3"],
  },
  "the chord of a waltz turned over, into the right hand": {
    chart: "last-pew-waltz",
    from: "<0 1+3+5 =",
    to: "<0 3+5+1 =",
    told: ["hands-collide right 1"],
  },
  "a broken chord that ends on a key the right hand holds": {
    chart: "nobody-hurry",
    from: "| 0 - >5 -",
    to: "| 0 - >3 -",
    told: ["hands-collide left >3"],
  },
  "a walking tone written two octaves too high": {
    chart: "grain-elevator",
    from: "C2 Eb2 F2 A1",
    to: "C2 Eb4 F2 A1",
    told: ["hands-collide left Eb4"],
  },
  "a bass that climbs past the right hand's lowest tone, which is struck again over it": {
    chart: "slow-bread",
    from: "(1 - 5) - (1 - >5) 1",
    to: "(1 - 5) >1 (1 - >5) 1",
    told: ["hands-cross left >1"],
  },
  "the left hand's octave two octaves up, between the right hand's fingers": {
    chart: "long-way-to-the-well",
    from: "left | 0+0 - 0+0 - | 0+0",
    to: "left | 0+0 - >>0+0 - | 0+0",
    told: ["hands-cross right 1+3+5"],
  },
  "a walking tone above the right hand": {
    chart: "corner-store-walk",
    from: "left | 1 3 5 6 | 1 3 5 #4 | 1 2",
    to: "left | 1 3 >>5 6 | 1 3 5 #4 | 1 2",
    told: ["hands-cross left >>5"],
  },
  "the right hand dropped an octave, below the left": {
    chart: "seven-candles",
    from: "B3+E4+G4 - B3+D4+G4",
    to: "B2+E3+G3 - B3+D4+G4",
    told: ["hands-cross right B2+E3+G3"],
  },
  "a roll of four tones on a quick half-beat": {
    chart: "run-to-the-river",
    from: "right from B3 | (5+1+3+5 =)",
    to: "right from B3 | (~5+1+3+5 =)",
    told: ["too-far-too-fast right ~5+1+3+5"],
  },
  "a tremolo that leaves its octave for a double one": {
    chart: "run-to-the-river",
    from: "(<1 1 <1 1 <1 1) (<1",
    to: "(<1 >1 <1 1 <1 1) (<1",
    told: ["too-far-too-fast left >1", "too-far-too-fast left <1"],
  },
  "a stride at 280": {
    chart: "round-the-corner",
    from: "tempo 108",
    to: "tempo 280",
    told: ["too-far-too-fast left <1", "too-far-too-fast left 5+7"],
  },
  "a waltz at 290": {
    chart: "last-pew-waltz",
    from: "tempo 120",
    to: "tempo 290",
    told: ["too-far-too-fast left <1"],
  },
  "a swung vamp at twice its tempo": {
    chart: "sunday-best-vamp",
    from: "tempo 152",
    to: "tempo 304",
    told: ["too-far-too-fast right 3+b7+#9"],
  },
  "a shuffle at twice its tempo": {
    chart: "red-clay-praise",
    from: "tempo 144",
    to: "tempo 288",
    told: ["too-far-too-fast left 1+1"],
  },
  "an octave that falls by one more within a half-beat and comes back": {
    chart: "kitchen-table-shout",
    from: "1+1 2+2 0+0 0+0",
    to: "1+1 (2+2 <2+2) 0+0 0+0",
    told: ["too-far-too-fast left <2+2", "too-far-too-fast left 0+0"],
  },
  "a minor tenth that lies well in this key and one other": {
    chart: "deep-in-the-quarry",
    from: "1 >5 >1 - - - | 1 >5 >1 - - - |\n\n",
    to: "1 >5 >1 - - - | 1+>b3 - >1 - - - |\n\n",
    told: ["other-keys left 1+>b3"],
  },
};

const collapsed = (name: string): string => textOf(name).replace(/(\S) +/g, "$1 ");

/** What is told of a text above a hint, in order of the text. */
const toldOf = (text: string): readonly { readonly line: number; readonly told: string }[] =>
  problemsOf(text)
    .filter(({ severity }) => severity !== "hint")
    .map(({ code, row, span }) => ({
      line: text.slice(0, span.start).split("\n").length,
      told: `${code} ${row} ${text.slice(span.start, span.end)}`,
    }));

test.each(Object.entries(twins))("%s is told where it stands, and nothing else", (_, twin) => {
  const before = collapsed(twin.chart);
  expect(before.split(twin.from).length).toBe(2);
  expect(toldOf(before)).toEqual([]);
  const after = before.replace(twin.from, twin.to);
  expect(toldOf(after).map(({ told }) => told)).toEqual(twin.told);
});

test("a place that is changed is told in its own system", () => {
  for (const [name, { chart, from, to }] of Object.entries(twins)) {
    if (/^(?:tempo|feel) /.test(from)) continue;
    const after = collapsed(chart).replace(from, to);
    const changed = after.indexOf(to);
    const start = after.lastIndexOf("\n\n", changed);
    const end = after.indexOf("\n\n", changed + to.trimEnd().length);
    const firstLine = after.slice(0, start).split("\n").length;
    const lastLine = after.slice(0, end < 0 ? after.length : end).split("\n").length;
    for (const { line } of toldOf(after)) {
      expect(line, name).toBeGreaterThan(firstLine);
      expect(line, name).toBeLessThanOrEqual(lastLine);
    }
  }
});

test("a tremolo of octaves is one because the hand holds them: at the reach of a seventh it is told", () => {
  const codes = (reach: number): readonly Code[] =>
    problemsOf("key E major\ntempo 132\nleft | (<B B <B B <B B) - - - |\n", reach)
      .map(({ code }) => code)
      .filter((code) => ofTheHands.includes(code));
  expect(codes(8)).toEqual([]);
  expect(codes(7)).toEqual(["too-far-too-fast", "too-far-too-fast"]);
});

test("each check of the hands is heard in a twin", () => {
  const heard = Object.values(twins).flatMap(({ told }) => told.map((it) => it.split(" ")[0]));
  for (const code of ofTheHands) expect(heard).toContain(code);
});

test("a ninth that is struck and not rolled is no trouble to a hand that reaches a ninth", () => {
  for (const chart of ["slow-bread", "nobody-hurry", "while-lights-are-low", "leave-the-door"]) {
    const text = textOf(chart).replace(/^reach .*\n/m, "");
    expect(toldOf(text.replaceAll("~", ""))).toEqual([]);
  }
});
