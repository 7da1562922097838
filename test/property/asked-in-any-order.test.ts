import { expect } from "vitest";
import type { SlotEvent } from "../../server/src/chart/model.js";
import { openDocument } from "../../server/src/document/document.js";
import { anyChart } from "../support/generate-chart.js";
import { property } from "../support/property.js";

type Question = (slot: SlotEvent) => unknown;

const asText = (parts: readonly unknown[]): string => JSON.stringify(parts);
const struck: Question = (slot) =>
  asText(
    slot.struck.map(({ text, pitch, at, length, heldBy, span }) => [text, pitch, at, length, heldBy, span]),
  );
const held: Question = (slot) =>
  asText(slot.held.map(({ text, pitch, length, span }) => [text, pitch, length, span]));
const lasts: Question = (slot) => asText([slot.at, slot.length, slot.lasts]);

/** What all slots of a chart answer, in written order; they are asked from the last to the first where that is said. */
function answers(
  text: string,
  questions: readonly Question[],
  isBackwards: boolean,
): ReadonlyMap<string, unknown> {
  const { sections } = openDocument("chart.plagal", text).chart;
  const slots = sections.flatMap(({ section: { rows } }) =>
    [rows.lead, rows.right, rows.left, rows.bass].flatMap((it) => it.slots),
  );
  const found = new Map<string, unknown>();
  const order = slots.map((slot, i) => ({ slot, i }));
  if (isBackwards) order.reverse();
  for (const ask of questions) for (const { slot, i } of order) found.set(`${i} ${ask.name}`, ask(slot));
  return new Map([...found].sort(([a], [b]) => (a < b ? -1 : 1)));
}

property("notes are the same, whatever is asked first", anyChart(), 120, (text) => {
  const plain = answers(text, [struck, held, lasts], false);
  for (const questions of [
    [lasts, held, struck],
    [held, lasts, struck],
  ]) {
    expect(answers(text, questions, false)).toEqual(plain);
    expect(answers(text, questions, true)).toEqual(plain);
  }
});
