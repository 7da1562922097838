import { handGrip } from "../chart/hand-grips.js";
import { endsInHaste, type HandMove, handPath, moveAcross, startsEarly } from "../chart/hand-path.js";
import type { Chart, FormStep, PlacedSection, Section, SlotEvent } from "../chart/model.js";
import { type Following, followings } from "../chart/play-order.js";
import { usualReach } from "../keyboard/hand.js";
import { whiteKeyWidth } from "../keyboard/key-place.js";
import type { FactsOf } from "../problems/catalogue.js";
import type { Related } from "../problems/problem.js";
import { shift } from "../text/span.js";
import { prettyPitch } from "../theory/pitch.js";
import type { ChartCheck, SectionCheck } from "./check.js";
import { type HurriedLeap, type HurriedRoll, type Hurry, hurryIn } from "./haste.js";
import { hasteFixes } from "./haste-fixes.js";
import { type Haste, tooQuick } from "./quick-moves.js";

type Facts = FactsOf<"too-far-too-fast">;

/** A leap or a roll of one hand for which the tempo leaves no time. */
export const tooFarTooFast: SectionCheck<"too-far-too-fast"> = {
  code: "too-far-too-fast",
  run(judged, report) {
    const { leaps, rolls } = hurryIn(judged);
    if (leaps.length + rolls.length === 0) return;
    const { section } = judged;
    const fixes = hasteFixes(judged);
    for (const roll of rolls) {
      const [slot] = roll.slots as [SlotEvent];
      const extras = { row: slot.row, related: again(roll.slots), fixes: fixes.ofRoll(roll) };
      report(slot.span, rollFacts(roll, slot, section), extras);
    }
    for (const leap of leaps) {
      const [move] = leap.moves as [HandMove];
      const related = [comesFrom(move.from, 0), ...again(leap.moves.map(({ to }) => to))];
      report(move.to.span, leapFacts(leap, move, section), {
        row: move.to.row,
        related,
        fixes: fixes.ofLeap(leap),
      });
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
      for (const hand of ["right", "left"] as const) {
        const exit = handPath(ended.section, hand).exits.get(endBar);
        const move = moveAcross(exit, handPath(next.placed.section, hand).entries.get(next.bar));
        const leap =
          move && tooQuick(move, hand, reach[hand] ?? usualReach, moved.halfSteps, next.moved.halfSteps);
        // It is told where it stands in this chart's own text.
        const isLater = next.placed.path === undefined;
        const [place, other] = isLater ? [next.placed, ended] : [ended, next.placed];
        // A roll that has no time itself is told of as one.
        if (move === undefined || leap === undefined || leap.distance === 0 || place.path !== undefined)
          continue;
        const [slot, otherSlot] = isLater ? [move.to, move.from] : [move.from, move.to];
        const span = shift(slot.span, place.offset);
        const name = `${span.start} ${other.path ?? ""} ${other.offset + otherSlot.span.start}`;
        if (told.has(name)) continue;
        told.add(name);
        report(span, leapFacts({ hand, haste: leap, keys: [] }, move, next.placed.section), {
          row: slot.row,
          related: other.path === undefined ? [comesFrom(otherSlot, other.offset)] : [],
        });
      }
    }
  },
};

type Border = Pick<Following, "ended" | "endBar" | "moved" | "next">;

/** Where one section's music ends and another's starts soon: few do, and the others are not looked at. */
function hastyBorders(chart: Chart): readonly Border[] {
  const { sections, form, formWords } = chart;
  const isPlain =
    sections.every(({ plays, section }) => plays.length === 0 && !section.vamp && section.bars.length > 0) &&
    formWords.every(({ section }) => section !== undefined);
  if (!isPlain) return followings(chart);
  const found: Border[] = [];
  const meet = ({ section: ended, moved }: FormStep, next: FormStep): void => {
    if (!endsInHaste(ended.section) && !startsEarly(next.section.section)) return;
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

const comesFrom = ({ span }: SlotEvent, offset: PlacedSection["offset"]): Related => ({
  span: shift(span, offset),
  message: "The hand comes from here.",
});

/** The later places of a text, those that are written out. */
function again([first, ...later]: readonly SlotEvent[]): readonly Related[] {
  const starts = new Set([first?.span.start]);
  return later.flatMap(({ span, repeatedBy }) => {
    if (repeatedBy !== undefined || starts.has(span.start)) return [];
    starts.add(span.start);
    return [{ span, message: "Here again." }];
  });
}

const factsOf = ({ hand, haste, keys }: Hurry<Haste>, { system }: SlotEvent, { systems }: Section) => ({
  hand,
  has: Math.max(0, Math.floor(haste.has)),
  needs: Math.ceil(haste.needs),
  tempo: systems[system]?.tempo ?? 0,
  keys,
});

const rollFacts = (roll: HurriedRoll, slot: SlotEvent, section: Section): Facts => ({
  kind: "roll",
  ...factsOf(roll, slot, section),
  tones: handGrip(slot)
    .notes.filter((note) => slot.struck.includes(note))
    .map(({ pitch }) => prettyPitch(pitch)),
});

const leapFacts = (leap: Omit<HurriedLeap, "moves">, { from, to }: HandMove, section: Section): Facts => ({
  kind: "leap",
  ...factsOf(leap, to, section),
  from: tonesOf(from),
  to: tonesOf(to),
  distance: distanceName(leap.haste.distance),
  afterRoll: from.rolled,
});

const tonesOf = (slot: SlotEvent): readonly string[] =>
  handGrip(slot).notes.map(({ pitch }) => prettyPitch(pitch));

const counts = ["", "one", "two", "three", "four", "five", "six"];
const octaveCounts = ["", "an octave", "two octaves", "three octaves", "four octaves", "five octaves"];

/** A way along the keyboard, in micrometres, as a player counts it: `an octave and two white keys`. */
function distanceName(distance: number): string {
  const keys = Math.max(1, Math.round(distance / whiteKeyWidth));
  const octaves = octaveCounts[Math.floor(keys / 7)] ?? `${Math.floor(keys / 7)} octaves`;
  // No name of an interval: “a second” would be read as time.
  const rest = keys % 7 === 0 ? "" : `${counts[keys % 7]} white key${keys % 7 === 1 ? "" : "s"}`;
  return [octaves, rest].filter((it) => it !== "").join(" and ");
}
