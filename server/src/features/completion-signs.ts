import type { BarPlace, LocatedAs } from "../chart/located.js";
import type { Slot, SlotContent } from "../syntax/tree.js";
import type { Span } from "../text/span.js";
import type { Offer } from "./completion-place.js";

const meanings: Readonly<Record<string, string>> = {
  "-": "the slot before goes on",
  "/": "one more beat of this chord",
  "=": "the slot before, struck again",
  "%": "the bar before once more",
  r: "rest",
  NC: "no chord",
};

const signOffers = (signs: readonly string[], span: Span): readonly Offer[] =>
  signs.map((text) => ({ label: text, kind: "value", detail: meanings[text] as string, span, text }));

/** Signs that may stand for a chord. `place` is what stands there with a chord in its place. */
export function chordSigns(place: LocatedAs<"chord">, span: Span): readonly Offer[] {
  const isFirst = place.event === undefined || place.event.index === 0;
  return signOffers([...(isFirst ? [] : ["/"]), ...sameBar(place), "r", "NC"], span);
}

/** Signs that may stand for a tone. `place` is what stands there with a tone in its place. */
export function noteSigns(place: LocatedAs<"tone" | "grace">, span: Span): readonly Offer[] {
  const slots = leaves(place.text?.slots ?? place.row.line.pickup);
  const own = slots.findIndex((it) => it.start === place.slot.span.start);
  const next = slots.slice(own + 1).find(({ content }) => content.kind !== "hold");
  // A `=` that comes next would have nothing to strike.
  const isStruckAgain = next?.content.kind === "again";
  const before = slots
    .slice(0, own)
    .findLast(({ content }) => content.kind !== "hold" && content.kind !== "again");
  const isFirst = own === 0 && !hasRowBefore(place);
  const signs = [
    ...(isFirst || isStruckAgain ? [] : ["-"]),
    ...(before?.content.kind === "stack" ? ["="] : []),
    ...sameBar(place),
    ...(isStruckAgain ? [] : ["r"]),
  ];
  return signOffers(signs, span);
}

const sameBar = (place: BarPlace): readonly string[] =>
  !place.pickup && place.text?.slots.length === 1 && hasRowBefore(place) ? ["%"] : [];

/** Whether the row has a bar before this one in its section. */
function hasRowBefore({ placed, system, bar, row }: BarPlace): boolean {
  if (bar !== undefined && bar.index > system.firstBar) return true;
  const { row: name } = row.line;
  return placed.section.systems.slice(0, system.index).some(({ rows }) => rows.some((it) => it.row === name));
}

interface LeafText {
  readonly start: number;
  readonly content: SlotContent;
}

const leaves = (slots: readonly Slot[]): readonly LeafText[] =>
  slots.flatMap((slot) =>
    slot.kind === "group" ? leaves(slot.slots) : [{ start: slot.span.start, content: slot.content }],
  );
