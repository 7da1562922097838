import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { pageView } from "../../server/src/exports/page-view.js";
import { type PartName, type Performance, perform } from "../../server/src/exports/performance.js";
import type { Fraction } from "../../server/src/theory/fraction.js";
import { type BareBrowser, browserMissing, startBrowser } from "./bare-browser.js";
import { type Engine, startEngine } from "./engine.js";
import { cyclesAt, onsets, pitchAt } from "./listen.js";

const missing = browserMissing();

/** Every tone has silence before it in its hand, so that the ear needs no help from the score. */
const chart = `title Five Minutes
key C
feel swing
tempo 97
section A
right | (C5 r) (r E5) r G5  | r (D5 r) (r F5) r |
left  | C3+G3  r (r E3) r   | F2+C3 r A2 r      |

section B
time 3/4
right | (E5 r) r (r C5)  | r B4 r   |
left  | r A2+E3 r        | E3 r r   |

section C
time 6/8
tempo 71
right | (C5 r r) (r r G4) | r (A4 r r) |
left  | (r C3 r) r        | F2 r       |

form A x2 B C A B x2 A C x2 ${"A B A C ".repeat(17)}
`;
const document = openDocument("drift.plagal", chart);
const performance: Performance = perform(document.chart, { balance: true });

/** Seconds of a time of the performance, by whole numbers alone up to the last division. */
function exactSeconds({ bars, length }: Performance): (time: Fraction) => number {
  const beatOf = (beats: number, unit: number): [bigint, bigint] =>
    unit === 8 && [6, 9, 12].includes(beats) ? [3n, 8n] : [1n, BigInt(unit)];
  type Exact = readonly [n: bigint, d: bigint];
  const minus = (a: Fraction, b: Fraction): Exact => [
    BigInt(a.n) * BigInt(b.d) - BigInt(b.n) * BigInt(a.d),
    BigInt(a.d) * BigInt(b.d),
  ];
  const plus = ([n, d]: Exact, [m, e]: Exact): Exact => [n * e + m * d, d * e];
  /** Whole notes at a bar's tempo. */
  const paced = ([n, d]: Exact, { meter, tempo }: Performance["bars"][number]): Exact => {
    const [beat, of] = beatOf(meter.beats, meter.unit);
    return [n * of * 60n, d * beat * BigInt(tempo)];
  };
  const starts: Exact[] = [];
  let at: Exact = [0n, 1n];
  bars.forEach((bar, i) => {
    starts.push(at);
    at = plus(at, paced(minus(bars[i + 1]?.at ?? length, bar.at), bar));
  });
  return (time) => {
    const index = bars.findLastIndex((bar) => minus(time, bar.at)[0] >= 0n);
    const bar = bars[index];
    if (bar === undefined) throw new Error("This chart has no pickup.");
    const [n, d] = plus(starts[index] as Exact, paced(minus(time, bar.at), bar));
    return Number((n * 1_000_000_000n) / d) / 1e9;
  };
}

const seconds = exactSeconds(performance);
const total = seconds(performance.length);

/** When each stroke of a part sounds, once for those that fall together; and its lowest key. */
function strokes(name: PartName): readonly (readonly [seconds: number, midi: number])[] {
  const notes = performance.parts.find((part) => part.name === name)?.notes ?? [];
  const all = new Map<number, number>();
  for (const { at, pitch } of notes) {
    const time = seconds(at);
    all.set(time, Math.min(pitch.midi, all.get(time) ?? 127));
  }
  return [...all].sort(([a], [b]) => a - b);
}

/** From the button to the first sound. */
const lead = 0.08;
/** Milliseconds that an onset may lie beside its time, those that all may drift in five minutes, and parts of a half step. */
const [late, drifting, outOfTune] = [5, 1, 0.3];

const mean = (all: readonly number[]): number => all.reduce((sum, it) => sum + it, 0) / all.length;

/** Each onset that is heard is one that was wanted, in time, and they don't run away from each other. */
function expectInTime(heard: readonly number[], wanted: readonly number[]): void {
  expect(heard.length).toBe(wanted.length);
  const errors = heard.map((time, i) => (time - lead - (wanted[i] as number)) * 1000);
  const worst = errors.reduce((most, it) => (Math.abs(it) > Math.abs(most) ? it : most), 0);
  console.log(
    `${heard.length} onsets in ${Math.round(heard.at(-1) ?? 0)} s, the worst ${worst.toFixed(2)} ms beside its time`,
  );
  errors.forEach((error, i) => {
    expect(Math.abs(error), `onset ${i} is heard at ${heard[i]}`).toBeLessThan(late);
  });
  const some = Math.floor(errors.length / 8);
  expect(Math.abs(mean(errors.slice(-some)) - mean(errors.slice(0, some)))).toBeLessThan(drifting);
}

const only = (part: string): readonly [number, string] => [0, `player.setSounding(new Set(["${part}"]))`];
/** Looks of a timer that is kept from its work now and then. */
const uneven = [0.05, 0.05, 0.13, 0.05, 0.2, 0.07, 0.05, 0.24];

describe.skipIf(missing !== undefined)(
  "over five minutes every onset is where the performance has it",
  () => {
    let browser: BareBrowser;
    let engine: Engine;
    beforeAll(async () => {
      browser = await startBrowser();
      engine = await startEngine(browser, [pageView(document.chart, performance)]);
    });
    afterAll(async () => {
      expect(engine.open.errors).toEqual([]);
      expect(engine.open.requests).toEqual([]);
      await browser.stop();
    });

    test("in a chart of that length, swung, and with changes of meter and tempo", () => {
      expect(total).toBeGreaterThan(320);
      expect(new Set(performance.bars.map(({ meter }) => `${meter.beats}/${meter.unit}`)).size).toBe(3);
      // A swung half-beat, 3 to 2.
      expect(strokes("right")[1]?.[0]).toBeCloseTo((1.6 * 60) / 97, 8);
    });

    test("in the right hand, with a timer that comes late now and then", async () => {
      const { sound, told } = await engine.render(total + 1, [only("right"), [0, "player.play()"]], {
        steps: uneven,
      });
      expect(told.at(-1)).toBe("ended");
      const wanted = strokes("right");
      const heard = onsets(sound);
      expectInTime(
        heard,
        wanted.map(([time]) => time),
      );
      for (const i of [0, 1, 2, 7, 50, 111, 200, wanted.length - 2, wanted.length - 1]) {
        const [, midi] = wanted[i] as readonly [number, number];
        const pitch = pitchAt(sound, (heard[i] as number) + 0.06) ?? 0;
        expect(Math.abs(pitch - midi), `tone ${i}`).toBeLessThan(outOfTune);
      }
    });

    test("in the left hand, in a page that isn’t seen and whose timer comes once a second", async () => {
      const { sound } = await engine.render(total + 1, [only("left"), [0, "player.play()"]], {
        steps: [1],
        isHidden: true,
      });
      expectInTime(
        onsets(sound),
        strokes("left").map(([time]) => time),
      );
    });

    test("at three quarters of the speed", async () => {
      const { sound } = await engine.render(330, [
        only("right"),
        [0, "player.setSpeed(0.75)"],
        [0, "player.play()"],
      ]);
      const wanted = strokes("right").map(([time]) => time / 0.75);
      expectInTime(
        onsets(sound),
        wanted.filter((time) => time + lead < 329.9),
      );
    });

    test("in a loop of two bars, the fortieth time round", async () => {
      const length = (8 * 60) / 97;
      const rounds = 41;
      const { sound } = await engine.render(rounds * length, [
        only("right"),
        [
          0,
          `player.setLoop(engine.loopBetween(songs[0], { section: 0, bar: 0 }, { section: 0, bar: 1 }, 0))`,
        ],
        [0, "player.play()"],
      ]);
      const inBars = strokes("right")
        .map(([time]) => time)
        .filter((time) => time < length - 1e-6);
      expect(inBars).toHaveLength(5);
      const wanted = Array.from({ length: rounds }, (_, i) => inBars.map((time) => time + i * length)).flat();
      expectInTime(
        onsets(sound),
        wanted.filter((time) => time + lead < rounds * length - 0.01),
      );
    });

    test("in the clicks of the metronome, and each bar’s first one is higher", async () => {
      const { sound } = await engine.render(total + 1, [
        [0, `player.setSounding(new Set())`],
        [0, "player.setMetronome(true)"],
        [0, "player.play()"],
      ]);
      const wanted = performance.bars.flatMap(({ at, meter, tempo }) =>
        Array.from({ length: meter.unit === 8 ? meter.beats / 3 : meter.beats }, (_, beat) => ({
          time: seconds(at) + (beat * 60) / tempo,
          isFirst: beat === 0,
        })),
      );
      const heard = onsets(sound);
      expectInTime(
        heard,
        wanted.map(({ time }) => time),
      );
      wanted.forEach(({ isFirst }, i) => {
        expect(cyclesAt(sound, heard[i] as number), `click ${i}`).toBeCloseTo(isFirst ? 2000 : 1200, -2);
      });
    });
  },
);
