import { handGrip } from "../chart/hand-grips.js";
import { rowIn } from "../chart/layout.js";
import type { Chart, PlacedSection, SlotEvent, System } from "../chart/model.js";
import { waysPlayed } from "../chart/played.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import type { Line } from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import { type Chord, chordNumber } from "../theory/chord.js";
import type { Asked } from "../voicing/asked.js";
import { candidatesFor } from "../voicing/candidates.js";
import { type StyleName, styleNamed, styles } from "../voicing/styles.js";
import type { Voice } from "../voicing/voicing.js";
import { asWritten, handLine, type Stretch } from "./hand-line.js";
import { isInRepeatedBar } from "./voiced-choice.js";
import { inOrder, isStaggered, type Lines, type PassageStep, passageSteps } from "./voiced-passage.js";
import { type Voiced, voicedRow } from "./voiced-rows.js";

/** How far each hand reaches, in white keys; the usual reach where nobody says. */
export type ReachAsked = Readonly<Record<Hand, number | undefined>>;

/** A slot of a hand in the passage that it stands in, ready for the search. */
export interface SlotPassage {
  readonly placed: PlacedSection;
  readonly slot: SlotEvent;
  readonly hand: Hand;
  /** How it was voiced; `undefined` where it is the player's own. */
  readonly voiced: Voiced | undefined;
  readonly passage: readonly PassageStep[];
  /** Its step. */
  readonly index: number;
  readonly asked: Asked;
}

const hands: readonly Hand[] = ["left", "right"];
const otherHand = (hand: Hand): Hand => (hand === "left" ? "right" : "left");

/**
 * The passage around the slot of a hand at a place of a chart; `undefined` where no stack of a hand stands there over
 * a chord. Where it was voiced it is open, with the other hand's slot that was found together with it; with `adapts`
 * so are all slots of the section that were voiced alike. A slot of the player's own is open alone.
 */
export function slotPassage(
  chart: Chart,
  offset: number,
  reach: ReachAsked,
  adapts: boolean,
): SlotPassage | undefined {
  const found = slotAt(chart, offset);
  if (found === undefined) return undefined;
  const { placed, slot, hand } = found;
  const mark = markOf(placed, slot.system, hand);
  const asked: Asked = {
    style: mark?.style ?? "close",
    everyKey: mark?.everyKey ?? false,
    moves: (waysPlayed(chart).get(placed) ?? []).map(({ halfSteps }) => halfSteps),
    reach: { left: reach.left ?? usualReach, right: reach.right ?? usualReach },
  };
  if (mark !== undefined) {
    const open = voicedSlots(placed, slot, hand, mark, asked, adapts);
    if (open.all.has(slot)) {
      const around = passageAround(placed, adapts ? open.all : open.together, slot);
      return around && { placed, slot, hand, voiced: mark, ...around, asked };
    }
  }
  const around = passageAround(placed, new Set([slot]), slot);
  if (around === undefined) return undefined;
  const own = around.passage[around.index] as PassageStep;
  const next = nextChord(placed, own);
  const style = styles.find(({ name }) => isAmong(own, [hand], next, [name], { ...asked, style: name }));
  return {
    placed,
    slot,
    hand,
    voiced: undefined,
    ...around,
    asked: { ...asked, style: style?.name ?? "close", everyKey: false },
  };
}

/** The stack of a hand that stands at a place of a chart's own text, over a chord. */
function slotAt(
  chart: Chart,
  offset: number,
): { readonly placed: PlacedSection; readonly slot: SlotEvent; readonly hand: Hand } | undefined {
  for (const placed of chart.sections) {
    const at = offset - placed.offset;
    if (placed.path !== undefined || at < 0 || at > placed.section.source.text.length) continue;
    for (const hand of hands) {
      const slot = placed.section.rows[hand].slots.find(
        (it) => isOwnStack(it) && it.written.start <= at && at <= it.written.end,
      );
      if (slot !== undefined) return { placed, slot, hand };
    }
  }
  return undefined;
}

const isOwnStack = (slot: SlotEvent): boolean =>
  slot.kind === "stack" && slot.chord !== undefined && slot.struck.length > 0 && !isInRepeatedBar(slot);

function markOf({ section }: PlacedSection, system: number, hand: Hand): Voiced | undefined {
  const row = rowIn(section.systems[system] as System, hand);
  if (row === undefined) return undefined;
  const { lines, starts } = section.source;
  return voicedRow(lines[indexAt(starts, row.start)] as Line);
}

interface Open {
  /** Every slot of the section that was voiced as the row says; where nothing adapts only those found together. */
  readonly all: ReadonlySet<SlotEvent>;
  /** The slot in question, and that of the other hand which was found with it. */
  readonly together: ReadonlySet<SlotEvent>;
}

/** Which slots a search in this style may have written: those that are among its voicings. The rest are the player's. */
function voicedSlots(
  placed: PlacedSection,
  slot: SlotEvent,
  hand: Hand,
  mark: Voiced,
  asked: Asked,
  adapts: boolean,
): Open {
  const isAlike = (it: Voiced | undefined): boolean =>
    it?.style === mark.style && it.everyKey === mark.everyKey;
  const marked = new Set(
    hands.flatMap((it) =>
      placed.section.rows[it].slots.filter(
        (slot) => isOwnStack(slot) && isAlike(markOf(placed, slot.system, it)),
      ),
    ),
  );
  const passage = passageOf(placed, marked);
  const styleNames = [mark.style, ...(styleNamed(mark.style)?.nearest ?? [])];
  const all = new Set<SlotEvent>();
  const together = new Set<SlotEvent>();
  for (const step of passage) {
    const open = hands.filter((it) => step.open[it] !== undefined);
    if (!adapts && !open.some((it) => step.open[it]?.slot === slot)) continue;
    const ways = open.length < 2 ? [open] : [open, [hand], [otherHand(hand)]];
    const next = nextChord(placed, step);
    const way = ways.find((way) => way.length > 0 && isAmong(step, way, next, styleNames, asked)) ?? [];
    const found = way.flatMap((it) => step.open[it]?.slot ?? []);
    for (const it of found) all.add(it);
    if (found.includes(slot)) for (const it of found) together.add(it);
  }
  // Where one hand moves while the other is held, no step could find both.
  const own = new Set([...all].filter((it) => it.row === hand));
  return isStaggered(linesOf(placed, adapts ? all : marked))
    ? { all: own, together: new Set([...together].filter((it) => own.has(it))) }
    : { all, together };
}

const linesOf = (placed: PlacedSection, open: ReadonlySet<SlotEvent>): Lines => {
  const choice = { ...asWritten, slot: (slot: SlotEvent) => open.has(slot) };
  return { left: handLine(placed, "left", choice), right: handLine(placed, "right", choice) };
};

function passageOf(placed: PlacedSection, open: ReadonlySet<SlotEvent>): readonly PassageStep[] {
  const lines = linesOf(placed, open);
  const searched = hands.filter((hand) => lines[hand].some(({ kind }) => kind === "open"));
  return passageSteps(placed, lines, searched, new Map());
}

function passageAround(
  placed: PlacedSection,
  open: ReadonlySet<SlotEvent>,
  slot: SlotEvent,
): Pick<SlotPassage, "passage" | "index"> | undefined {
  const passage = passageOf(placed, open);
  const index = passage.findIndex((step) => hands.some((hand) => step.open[hand]?.slot === slot));
  return index < 0 ? undefined : { passage, index };
}

/** What stands in an open stretch now. */
export const standing = ({ slot, chord }: Stretch): readonly Voice[] =>
  slot === undefined || chord === undefined
    ? []
    : handGrip(slot).notes.map(({ pitch }) => ({ pitch, number: chordNumber(chord.chord, pitch.fifths) }));

export const isSameKeys = (a: readonly Voice[], b: readonly Voice[]): boolean =>
  a.length === b.length && a.every(({ pitch }, i) => pitch.midi === b[i]?.pitch.midi);

/** Whether what stands at a step is a voicing of one of these styles, with these of its open hands free. */
function isAmong(
  { step, open }: PassageStep,
  free: readonly Hand[],
  next: Chord | undefined,
  names: readonly StyleName[],
  asked: Asked,
): boolean {
  const now = (hand: Hand): readonly Voice[] =>
    open[hand] === undefined ? (step[hand] ?? []) : standing(open[hand]);
  const [left, right] = [now("left"), now("right")];
  const asking = {
    ...step,
    left: free.includes("left") ? undefined : left,
    right: free.includes("right") ? undefined : right,
  };
  return names.some((name) => {
    const style = styleNamed(name);
    return (
      style !== undefined &&
      candidatesFor(asking, next, style, asked).candidates.some(
        (it) => isSameKeys(it.left, left) && isSameKeys(it.right, right),
      )
    );
  });
}

/** The next chord that is another, which says what this one does. */
function nextChord({ section: { chords } }: PlacedSection, { event }: PassageStep): Chord | undefined {
  const own = event.chord;
  return chords
    .filter((it) => inOrder(it, event) > 0)
    .sort(inOrder)
    .map(({ chord }) => chord)
    .find(
      ({ root, bass, quality }) =>
        root !== own.root || bass !== own.bass || quality.symbol !== own.quality.symbol,
    );
}
