import { beatsInBar } from "../chart/bar-time.js";
import { rowIn } from "../chart/layout.js";
import type { Bar, PlacedSection, System } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import type { Edit } from "../text/edits.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { minus } from "../theory/fraction.js";
import { barSlots, pickupSlots, type Stroke } from "./bar-slots.js";
import { type Choice, rowSlots, type Stretch } from "./hand-line.js";
import { type HandWriting, homeOf } from "./hand-writing.js";
import { type RowChange, rowEdits } from "./row-change.js";
import { stackText } from "./stack-text.js";
import type { StayingBar } from "./staying-bars.js";
import type { Found, Lines } from "./voiced-passage.js";
import type { Voiced } from "./voiced-rows.js";

/** What was found for the hands of a section. */
export interface FoundInSection {
  readonly placed: PlacedSection;
  readonly choices: Readonly<Record<Hand, Choice>>;
  readonly lines: Lines;
  readonly found: Found;
  readonly writing: HandWriting;
}

/** The edits of the chart that write what was found for these hands, and the bars whose rhythm no slots say. */
export function writeVoiced(
  section: FoundInSection,
  hands: readonly Hand[],
  voiced: Voiced,
): { readonly edits: readonly Edit[]; readonly tooFine: readonly StayingBar[] } {
  const { placed, choices, lines, writing } = section;
  const tooFine: StayingBar[] = [];
  const edits = placed.section.systems.flatMap((system) => {
    const changes: RowChange[] = [];
    for (const row of ["right", "left"] as const) {
      if (!hands.includes(row)) continue;
      const own = lines[row].filter((it) => it.system === system.index);
      const change = changeOf({ ...section, system, row, choice: choices[row], own, tooFine });
      if (change === undefined) continue;
      const isWhole =
        rowIn(system, row) === undefined || change.bars.size === system.endBar - system.firstBar;
      changes.push({ ...change, voiced: isWhole ? voiced : undefined });
    }
    return changes.length === 0 ? [] : rowEdits(placed, system, changes, writing.lineEnd);
  });
  return { edits, tooFine };
}

interface RowWriting extends Omit<FoundInSection, "choices" | "lines"> {
  readonly system: System;
  readonly row: Hand;
  readonly choice: Choice;
  readonly own: readonly Stretch[];
  readonly tooFine: StayingBar[];
}

/** What becomes of a hand's row in a system; `undefined` where nothing was found for it. */
function changeOf(it: RowWriting): Omit<RowChange, "voiced"> | undefined {
  const { placed, system, choice, own, found } = it;
  const { section } = placed;
  if (!own.some((stretch) => found.has(stretch))) return undefined;
  const bars = new Map<number, string>();
  for (let i = system.firstBar; i < system.endBar; i++) {
    if (!choice.whole(i, false)) continue;
    const text = barText(it, section.bars[i] as Bar, false);
    if (text !== undefined) bars.set(i, text);
  }
  const pickup = choice.whole(system.firstBar, true)
    ? barText(it, section.bars[system.firstBar] as Bar, true)
    : undefined;
  const slots = own.flatMap((stretch): readonly Edit[] => {
    const { slot, kind } = stretch;
    const voices = found.get(stretch);
    if (slot === undefined || kind !== "open" || voices === undefined) return [];
    const [before = ""] = /^[!~]*/.exec(sliceOf(section.source.text, slot.span)) ?? [];
    return [{ span: slot.written, text: before + textOf(it, stretch, slot.groupOctaves) }];
  });
  return { row: it.row, bars, pickup, slots };
}

/** The slots of a bar that is written whole; `undefined` where no plain slots say its rhythm. */
function barText(it: RowWriting, bar: Bar, pickup: boolean): string | undefined {
  const { placed, system, row, choice, own, tooFine } = it;
  const { section, offset } = placed;
  const sung = rowSlots(section.systems, "lead", system, bar, pickup);
  const chords = rowSlots(section.systems, "chords", system, bar, pickup);
  const isLonger = pickup && chords.slots.length > sung.slots.length;
  const source = choice.followsMelody && sung.slots.length > 0 && !isLonger ? sung : chords;
  const strokes = own
    .filter((stretch) => stretch.bar === bar.index && stretch.pickup === pickup)
    .map((stretch): Stroke => ({ at: minus(stretch.at, source.from), text: textOf(it, stretch, 0) }));
  const text = pickup
    ? pickupSlots(strokes, source.slots, source.length)
    : (barSlots(strokes, source.slots, source.length, beatsInBar(bar.meter)) ??
      barSlots(strokes, [], source.length, beatsInBar(bar.meter)));
  if (text === undefined) {
    const { start = 0, line } = rowIn(system, "chords") ?? {};
    const span: Span = line?.bars[bar.index - system.firstBar]?.span ?? { start: 0, end: 0 };
    const message = `The rhythm of this bar is too fine to follow, so the ${row} hand's bar stays as it was.`;
    const note = { message, span: shift(span, start + offset) };
    tooFine.push({ hand: row, bar: bar.index, pickup, note });
  }
  return text;
}

/** What a stretch is written as: its stack, or a rest where nothing was found for it. */
function textOf(
  { placed, system, row, found, writing }: RowWriting,
  stretch: Stretch,
  groupOctaves: number,
): string {
  const text = stackText(
    found.get(stretch)?.map(({ pitch }) => pitch) ?? (stretch.slot === undefined ? stretch.pitches : []),
    {
      row,
      key: system.home.key,
      chord: stretch.chord?.chord,
      home: homeOf(placed.section, system, row),
      groupOctaves,
      ...writing,
    },
  );
  return text ?? "r";
}
