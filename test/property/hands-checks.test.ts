import fc from "fast-check";
import { expect } from "vitest";
import { handGrips } from "../../server/src/chart/hand-grips.js";
import type { Note, Section, SlotEvent } from "../../server/src/chart/model.js";
import { meetings } from "../../server/src/chart/two-hands.js";
import type { JudgedSection } from "../../server/src/checks/check.js";
import { unheldGrips } from "../../server/src/checks/unheld-grips.js";
import { openDocument } from "../../server/src/document/document.js";
import type { Hand } from "../../server/src/keyboard/hand.js";
import { compare, plus, printFraction } from "../../server/src/theory/fraction.js";
import { holds, usualGeometry } from "../support/exhaustive-grip.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";

const sectionsOf = (text: string): readonly Section[] =>
  openDocument("chart.plagal", text, usedFiles).chart.sections.map(({ section }) => section);

/** The keys that are down at a moment in a slot that sounds then, without any short cut. */
function keysAt(slot: SlotEvent, isStart: boolean): readonly number[] {
  const isDown = (note: Note): boolean => {
    if (note.grace) return false;
    const isStruckNow = isStart && slot.struck.includes(note);
    return !note.rolled || isStruckNow || note.heldBy.some(({ text }) => text !== "-");
  };
  return [...slot.struck, ...slot.held].filter(isDown).map(({ pitch }) => pitch.midi);
}

const strikes = ({ kind, struck }: SlotEvent): boolean =>
  kind === "stack" && struck.some(({ grace }) => !grace);

/** Every two slots of the hands that sound together in a bar, the left hand's highest key not below the right's lowest. */
function pairsInBars({ rows }: Section): readonly string[] {
  const slotsOf = (hand: Hand): readonly SlotEvent[] =>
    Object.values(rows)
      .flatMap(({ slots }) => slots)
      .filter((slot) => slot.hand === hand);
  const found: string[] = [];
  for (const left of slotsOf("left")) {
    for (const right of slotsOf("right")) {
      if (left.bar !== right.bar) continue;
      const order = compare(left.at, right.at);
      const [first, second] = order <= 0 ? [left, right] : [right, left];
      if (compare(plus(first.at, first.length), second.at) <= 0) continue;
      if (!(order >= 0 && strikes(left)) && !(order <= 0 && strikes(right))) continue;
      const low = keysAt(left, order >= 0);
      const high = keysAt(right, order <= 0);
      if (low.length === 0 || high.length === 0 || Math.max(...low) < Math.min(...high)) continue;
      found.push(nameOf(left, right));
    }
  }
  return found.sort();
}

const nameOf = (left: SlotEvent, right: SlotEvent): string =>
  `${printFraction(left.at)} ${left.written.start} / ${printFraction(right.at)} ${right.written.start}`;

let meetingsFound = 0;

property(
  "the hands meet just where two slots that sound together overlap in keys",
  fc.oneof(anyChart(), hostileText),
  150,
  (text) => {
    for (const section of sectionsOf(text)) {
      if (section.source.holds.pickup) continue;
      const found = meetings(section).map(({ left, right }) => nameOf(left.slot, right.slot));
      meetingsFound += found.length;
      expect([...found].sort()).toEqual(pairsInBars(section));
    }
  },
);

let unheldFound = 0;

property(
  "a grip is told just where an exhaustive search finds no fingering in a key that is played",
  fc.tuple(fc.oneof(anyChart(), hostileText), fc.integer({ min: 7, max: 12 })),
  150,
  ([text, reach]) => {
    for (const section of sectionsOf(text)) {
      const played = [0, 3, 8].map((halfSteps) => ({ key: section.start.key, halfSteps }));
      const judged: JudgedSection = {
        section,
        played,
        reach: { left: reach, right: reach },
        reachBy: { left: "chart", right: "chart" },
      };
      const expected = new Set<string>();
      for (const hand of ["left", "right"] as const) {
        for (const { slot, keys } of handGrips(section, hand)) {
          if (slot.rolled) continue;
          const fails = played.some(
            ({ halfSteps }) =>
              !holds(
                keys.map((key) => key + halfSteps),
                hand,
                reach,
                usualGeometry,
              ),
          );
          if (fails) expected.add(`${hand} ${keys.join(" ")}`);
        }
      }
      const told = [...unheldGrips(judged, "few"), ...unheldGrips(judged, "many")]
        .filter(({ grips }) => grips.some(({ slot }) => !slot.rolled))
        .map(({ hand, keys }) => `${hand} ${keys.join(" ")}`);
      unheldFound += told.length;
      expect(told.sort()).toEqual([...expected].sort());
    }
  },
);

property("there were hands to judge", fc.constant(undefined), 1, () => {
  expect(meetingsFound).toBeGreaterThan(20);
  expect(unheldFound).toBeGreaterThan(20);
});
