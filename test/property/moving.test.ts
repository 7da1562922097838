import fc from "fast-check";
import { expect } from "vitest";
import { homeOne } from "../../server/src/chart/home-octave.js";
import { type Document, openDocument } from "../../server/src/document/document.js";
import { transposeChart } from "../../server/src/edits/transpose.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { type ModeName, practicalKeys } from "../../server/src/theory/key.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";
import { heardIn, playedBars } from "../support/sounding.js";

const open = (text: string): Document => openDocument("chart.plagal", text, usedFiles);

/** The text in another key; `undefined` where the move is refused. */
function moved(text: string, tonic: number): string | undefined {
  const result = transposeChart(open(text), { tonic, mode: undefined });
  return "refused" in result ? undefined : applyEdits(text, result.edits);
}

/** The tonics that a chart may be moved to. */
function targetsOf({ chart }: Document): readonly number[] {
  const { mode } = chart.header.home.key;
  const practical = practicalKeys(mode as ModeName).map(({ tonic }) => tonic);
  return mode === "major" ? [...practical, 6, 7, -7] : practical;
}

const homeOf = ({ chart }: Document): number => chart.header.original ?? chart.header.home.key.tonic;

const charts = anyChart({ mixedSigns: false });
const journeys = fc.array(fc.nat({ max: 99 }), { minLength: 1, maxLength: 5 });

property(
  "a chart that was moved through any keys and home has the bytes it had at home",
  fc.tuple(charts, journeys),
  60,
  ([written, journey]) => {
    const start = open(written);
    const home = homeOf(start);
    const atHome = moved(written, home);
    if (atHome === undefined) return;
    let text = atHome;
    for (const step of journey) {
      const targets = targetsOf(open(text));
      // A refused move leaves the chart where it is.
      text = moved(text, targets[step % targets.length] as number) ?? text;
    }
    expect(moved(text, home)).toBe(atHome);
  },
);

property(
  "where a chart lands depends on where it was written and on the target alone",
  fc.tuple(charts, fc.nat({ max: 99 }), fc.nat({ max: 99 })),
  60,
  ([written, by, to]) => {
    const atHome = moved(written, homeOf(open(written)));
    if (atHome === undefined) return;
    const targets = targetsOf(open(atHome));
    const target = targets[to % targets.length] as number;
    const way = moved(atHome, targets[by % targets.length] as number);
    if (way === undefined) return;
    expect(moved(way, target)).toBe(moved(atHome, target));
  },
);

property(
  "every sounding note moves by one and the same interval, at most a tritone from where it was written",
  fc.tuple(anyChart(), fc.nat({ max: 99 })),
  80,
  ([written, to]) => {
    const before = open(written);
    const targets = targetsOf(before);
    const text = moved(written, targets[to % targets.length] as number);
    if (text === undefined) return;
    const after = open(text);
    const by = after.chart.header.home.one - before.chart.header.home.one;
    const fromHome = after.chart.header.home.one - homeOne(homeOf(before));
    expect(fromHome).toBeGreaterThanOrEqual(-6);
    expect(fromHome).toBeLessThanOrEqual(5);
    expect(after.chart.sections).toHaveLength(before.chart.sections.length);
    before.chart.sections.forEach(({ section, path }, i) => {
      const there = after.chart.sections[i]?.section;
      if (there === undefined) throw new Error("a section is missing");
      const [old, now] = [heardIn(section), heardIn(there)];
      expect(now.map(({ how }) => how)).toEqual(old.map(({ how }) => how));
      // The name moves as a key of the section does: its bar's own, or that in which the chord was struck.
      const names = section.bars.map(
        ({ home }, bar) => (there.bars[bar]?.home.key.tonic ?? 0) - home.key.tonic,
      );
      old.forEach(({ how, pitch, name }, k) => {
        const moves = (now[k]?.pitch ?? Number.NaN) - pitch;
        expect(how.startsWith("chord") ? (moves - by + 120) % 12 : moves - by).toBe(0);
        // A used section's letters move by the distance of the charts, its later keys by their practical names.
        if (path === undefined) expect(names).toContain((now[k]?.name ?? Number.NaN) - name);
      });
    });
    expect(playedBars(after.chart)).toEqual(playedBars(before.chart));
  },
);

property(
  "a move changes letters, digits of pitches, keys and their (original …), and no other character",
  fc.tuple(anyChart(), fc.nat({ max: 99 })),
  60,
  ([written, to]) => {
    const document = open(written);
    const targets = targetsOf(document);
    const result = transposeChart(document, {
      tonic: targets[to % targets.length] as number,
      mode: undefined,
    });
    if ("refused" in result) return;
    for (const { span, text } of result.edits) {
      const shape = /^(?:[A-G][b#♭♯x]*|-?[0-9]+| ?\(original [A-G][b#♭♯x]*\))?$/u;
      const isNewKeyLine = written.slice(span.start, span.end) === "" && /^key .*\r?\n$/.test(text);
      if (!isNewKeyLine) expect(text).toMatch(shape);
      expect(written.slice(span.start, span.end)).toMatch(shape);
    }
  },
);
