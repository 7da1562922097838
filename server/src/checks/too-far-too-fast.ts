import { handGrip } from "../chart/hand-grips.js";
import { endsInHaste, type HandMove, handPath, mayHurry, moveAcross } from "../chart/hand-path.js";
import type { Chart, FormStep, PlacedSection, Section, SlotEvent } from "../chart/model.js";
import { type Following, followings } from "../chart/play-order.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import { whiteKeyWidth } from "../keyboard/key-place.js";
import type { FactsOf } from "../problems/catalogue.js";
import type { Related } from "../problems/problem.js";
import { shift } from "../text/span.js";
import { prettyPitch } from "../theory/pitch.js";
import type { ChartCheck, JudgedSection, SectionCheck } from "./check.js";
import { failingKeys } from "./keys-played.js";
import { type Haste, hastyRoll, type QuickLeap, tooQuick } from "./quick-moves.js";

type Facts = FactsOf<"too-far-too-fast">;

const hands = ["right", "left"] as const;

/** A leap or a roll of one hand for which the tempo leaves no time. */
export const tooFarTooFast: SectionCheck<"too-far-too-fast"> = {
  code: "too-far-too-fast",
  run(judged, report) {
    for (const hand of hands) {
      if (!mayHurry(judged.section, hand)) continue;
      const { rolls, moves } = handPath(judged.section, hand);
      for (const { slot, facts, related } of [
        ...hastyRolls(rolls, hand, judged),
        ...hastyLeaps(moves, hand, judged),
      ])
        report(slot.span, facts, { row: slot.row, related });
    }
  },
};

/** The same from one section to the next, as the form plays them. */
export const tooFarTooFastAcross: ChartCheck<"too-far-too-fast"> = {
  code: "too-far-too-fast",
  run(chart, report, reach) {
    const told = new Set<string>();
    for (const { ended, endBar, moved, next } of hastyBorders(chart)) {
      if (next === "unknown") continue;
      for (const hand of hands) {
        const exit = handPath(ended.section, hand).exits.get(endBar);
        const move = moveAcross(exit, handPath(next.placed.section, hand).entries.get(next.bar));
        if (move === undefined) continue;
        const leap = tooQuick(move, reach[hand] ?? usualReach, moved.halfSteps, next.moved.halfSteps);
        // It is told where it stands in this chart's own text.
        const [place, other] = next.placed.path === undefined ? [next.placed, ended] : [ended, next.placed];
        if (leap === undefined || place.path !== undefined) continue;
        const [slot, otherSlot] = place === next.placed ? [move.to, move.from] : [move.from, move.to];
        const span = shift(slot.span, place.offset);
        const name = `${span.start} ${other.offset + otherSlot.span.start}`;
        if (told.has(name)) continue;
        told.add(name);
        report(span, leapFacts(move, next.placed.section, hand, leap, []), {
          row: slot.row,
          related: other.path === undefined ? [comesFrom(otherSlot, other)] : [],
        });
      }
    }
  },
};

/** Where one section's music ends and another's starts soon: few do, and the others are not looked at. */
function hastyBorders(chart: Chart): readonly Border[] {
  const { sections, form, formWords } = chart;
  const isPlain =
    sections.every(({ plays, section }) => plays.length === 0 && !section.vamp && section.bars.length > 0) &&
    formWords.every(({ section }) => section !== undefined);
  if (!isPlain) return followings(chart);
  const found: Border[] = [];
  const meet = (step: FormStep, next: FormStep): void => {
    const { section: ended, moved } = step;
    if (!endsInHaste(ended.section) && next.section.section.longestPickup.n === 0) return;
    const endBar = ended.section.bars.length;
    found.push({ ended, endBar, moved, next: { placed: next.section, bar: 0, moved: next.moved } });
  };
  form.forEach((step, i) => {
    if (step.times > 1) meet(step, step);
    const next = form[i + 1];
    if (next !== undefined) meet(step, next);
  });
  return found;
}

type Border = Pick<Following, "ended" | "endBar" | "moved" | "next">;

const comesFrom = ({ span }: SlotEvent, { offset }: Pick<PlacedSection, "offset">): Related => ({
  span: shift(span, offset),
  message: "The hand comes from here.",
});

interface Found {
  readonly slot: SlotEvent;
  readonly facts: Facts;
  readonly related: readonly Related[];
}

type Several = Found & { readonly related: Related[] };

/** The rolls that have too little time, each set of tones once. */
function hastyRolls(
  rolls: readonly SlotEvent[],
  hand: Hand,
  { section, played, reach }: JudgedSection,
): readonly Found[] {
  const found = new Map<string, Several>();
  for (const slot of rolls) {
    const judge = (by: number): Haste | undefined => hastyRoll(slot, section, reach[hand] ?? usualReach, by);
    const failing = failingKeys(played, (by) => judge(by) !== undefined);
    const haste = failing && firstOf(played, judge);
    if (haste === undefined) continue;
    const tones = tonesOf(slot, true);
    const name = tones.join(" ");
    const known = found.get(name);
    if (known === undefined) {
      const facts = {
        kind: "roll",
        ...factsOf(slot, section, hand, haste, failing?.names ?? []),
        tones,
      } as const;
      found.set(name, { slot, facts, related: [] });
    } else addAgain(known, slot);
  }
  return [...found.values()];
}

/** The leaps that have too little time, each pair of grips once. */
function hastyLeaps(
  moves: readonly HandMove[],
  hand: Hand,
  { section, played, reach }: JudgedSection,
): readonly Found[] {
  const found = new Map<string, Several>();
  for (const move of moves) {
    const { from, to } = move;
    const judge = (by: number): QuickLeap | undefined => tooQuick(move, reach[hand] ?? usualReach, by, by);
    const failing = failingKeys(played, (by) => judge(by) !== undefined);
    const leap = failing && firstOf(played, judge);
    // A roll that has no time itself is told of as one.
    if (leap === undefined || (from.rolled && leap.distance === 0)) continue;
    const name = `${tonesOf(from).join(" ")} ${tonesOf(to).join(" ")}`;
    const known = found.get(name);
    if (known === undefined) {
      const facts = leapFacts(move, section, hand, leap, failing?.names ?? []);
      found.set(name, { slot: to, facts, related: [comesFrom(from, { offset: 0 })] });
    } else addAgain(known, to);
  }
  return [...found.values()];
}

function firstOf<T>(played: JudgedSection["played"], judge: (by: number) => T | undefined): T | undefined {
  for (const { halfSteps } of played) {
    const it = judge(halfSteps);
    if (it !== undefined) return it;
  }
  return undefined;
}

function addAgain(
  { slot, related }: Found & { readonly related: Related[] },
  { span, repeatedBy }: SlotEvent,
): void {
  const isTold = slot.span.start === span.start || related.some((it) => it.span.start === span.start);
  if (repeatedBy === undefined && !isTold) related.push({ span, message: "Here again." });
}

const tonesOf = (slot: SlotEvent, struck = false): readonly string[] => {
  const { notes } = handGrip(slot);
  return notes.filter((note) => !struck || slot.struck.includes(note)).map(({ pitch }) => prettyPitch(pitch));
};

const factsOf = (
  { system }: SlotEvent,
  { systems }: Section,
  hand: Hand,
  { has, needs }: Haste,
  keys: readonly string[],
) => ({
  hand,
  has: Math.max(0, Math.floor(has)),
  needs: Math.ceil(needs),
  tempo: systems[system]?.tempo ?? 0,
  keys,
});

const leapFacts = (
  { from, to }: HandMove,
  section: Section,
  hand: Hand,
  leap: QuickLeap,
  keys: readonly string[],
): Facts => ({
  kind: "leap",
  ...factsOf(to, section, hand, leap, keys),
  from: tonesOf(from),
  to: tonesOf(to),
  distance: distanceName(leap.distance),
  afterRoll: from.rolled,
});

const steps = ["", "a second", "a third", "a fourth", "a fifth", "a sixth", "a seventh"];
const octaveCounts = ["", "an octave", "two octaves", "three octaves", "four octaves", "five octaves"];

/** A way along the keyboard, in micrometres, as an interval of white keys: `an octave and a third`. */
function distanceName(distance: number): string {
  const keys = Math.max(1, Math.round(distance / whiteKeyWidth));
  const octaves = octaveCounts[Math.floor(keys / 7)] ?? `${Math.floor(keys / 7)} octaves`;
  return [octaves, steps[keys % 7]].filter((it) => it !== "").join(" and ");
}
