import fc from "fast-check";
import { expect } from "vitest";
import { beatLength } from "../../server/src/chart/bar-time.js";
import { handGrip } from "../../server/src/chart/hand-grips.js";
import { startsEarly } from "../../server/src/chart/hand-path.js";
import type { Bar, Chart, PlacedSection, SlotEvent } from "../../server/src/chart/model.js";
import { unfold } from "../../server/src/chart/unfold.js";
import { tooQuick } from "../../server/src/checks/quick-moves.js";
import { defaultSettings, openDocument, type Settings } from "../../server/src/document/document.js";
import { type Hand, usualReach } from "../../server/src/keyboard/hand.js";
import { catalogue } from "../../server/src/problems/catalogue.js";
import { divide, minus } from "../../server/src/theory/fraction.js";
import { prettyPitch, readPitch } from "../../server/src/theory/pitch.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";

/** A slot as it is struck in the performance. */
interface Struck {
  readonly slot: SlotEvent;
  readonly section: PlacedSection;
  readonly halfSteps: number;
  /** In milliseconds. */
  readonly time: number;
}

const ownRows = { left: ["left", "bass"], right: ["right", "lead"] } as const;

/** What a hand strikes through the whole performance; parted where something is unknown. */
function performance(chart: Chart, hand: Hand): readonly (readonly Struck[])[] {
  const parts: Struck[][] = [[]];
  let clock = 0;
  for (const { section, bar, moved, entered } of unfold(chart).bars) {
    const system = section.section.systems[bar.system];
    const tempo = system?.tempo;
    const last = (): Struck[] => parts[parts.length - 1] as Struck[];
    if (tempo === undefined) {
      parts.push([]);
      continue;
    }
    // A line that can't be read may be the hand's.
    if (system?.unread === true && bar.index === system.firstBar) parts.push([]);
    const after = (slot: SlotEvent): number => beats(minus(slot.at, bar.at), bar) * (60_000 / tempo);
    for (const slot of slotsOf(section, bar, hand, entered)) {
      if (slot.kind === "unread") parts.push([]);
      else if (slot.kind === "stack" && slot.struck.some(({ grace }) => !grace)) {
        const time = clock + after(slot);
        while ((last().at(-1)?.time ?? Number.NEGATIVE_INFINITY) >= time) last().pop();
        last().push({ slot, section, halfSteps: moved.halfSteps, time });
      }
    }
    if (system?.unread === true && bar.index === system.endBar - 1) parts.push([]);
    clock += beats(bar.length, bar) * (60_000 / tempo);
  }
  return parts;
}

const beats = (time: Parameters<typeof divide>[0], { meter }: Bar): number => {
  const { n, d } = divide(time, beatLength(meter));
  return n / d;
};

const slotsOf = ({ section }: PlacedSection, bar: Bar, hand: Hand, entered: boolean): SlotEvent[] =>
  ownRows[hand]
    .flatMap((row) => section.rows[row].slots)
    .filter((slot) => slot.bar === bar.index && slot.hand === hand && (entered || !slot.pickup));

const tonesOf = (slot: SlotEvent): readonly string[] =>
  handGrip(slot).notes.map(({ pitch }) => prettyPitch(pitch));

/** Nothing else is judged. */
const settings: Settings = {
  ...defaultSettings,
  severities: Object.fromEntries(
    Object.keys(catalogue).flatMap((code) => (code === "too-far-too-fast" ? [] : [[code, "off"]])),
  ),
};

let leaps = 0;

property("the leaps that are told are those of the performance", anyChart(), 250, (text) => {
  const { chart, problems } = openDocument(
    "chart.plagal",
    text.replace(/^tempo .*$/gm, "tempo 240"),
    usedFiles,
    settings,
  );
  const { bars, cut } = unfold(chart);
  if (cut || chart.formWords.some(({ section }) => section === undefined)) return;
  const told = new Set(problems.flatMap(({ facts }) => (facts.kind === "leap" ? [nameOf(facts)] : [])));
  const heard = new Set<string>();
  for (const hand of ["left", "right"] as const) {
    for (const part of performance(chart, hand)) {
      part.forEach((it, i) => {
        const before = part[i - 1];
        // Of two slots in other charts nothing is told here.
        if (before === undefined || (before.section.path !== undefined && it.section.path !== undefined))
          return;
        const move = { from: before.slot, to: it.slot, milliseconds: it.time - before.time };
        const reach = chart.header.reach[hand] ?? usualReach;
        const leap = tooQuick(move, hand, reach, before.halfSteps, it.halfSteps);
        // A roll without time for itself is told of as one.
        if (leap !== undefined && leap.distance > 0)
          heard.add(nameOf({ hand, from: tonesOf(before.slot), to: tonesOf(it.slot) }));
      });
    }
  }
  leaps += heard.size;
  expect(
    [...heard].filter((it) => !told.has(it)),
    "heard and not told",
  ).toEqual([]);
  // What isn't played is judged as printed, a vamp goes round, and a section can't know what pickup comes over its end.
  const played = new Set(bars.map(({ section }) => section));
  const isPlain = chart.sections.every(
    (it) =>
      played.has(it) &&
      !it.section.vamp &&
      !startsEarly(it.section) &&
      (it.plays.length === 0 || it.section.longestPickup.n === 0),
  );
  if (isPlain)
    expect(
      [...told].filter((it) => !heard.has(it)),
      "told and not heard",
    ).toEqual([]);
});

/** By its keys: one pair of grips may be spelled in two ways. */
const nameOf = ({ hand, from, to }: Readonly<Record<string, unknown>>): string =>
  `${hand}: ${keysOf(from)} to ${keysOf(to)}`;
const keysOf = (tones: unknown): string => (tones as string[]).map((tone) => readPitch(tone)?.midi).join("+");

property("there were leaps to tell of", fc.constant(undefined), 1, () => {
  expect(leaps).toBeGreaterThan(100);
});
