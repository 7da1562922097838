import { beatsInBar } from "../chart/bar-time.js";
import { rowIn } from "../chart/layout.js";
import type { Bar, PlacedSection, System } from "../chart/model.js";
import { waysPlayed } from "../chart/played.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import type { Edit } from "../text/edits.js";
import { type Span, shift, sliceOf } from "../text/span.js";
import { prettyChord } from "../theory/chord.js";
import { minus } from "../theory/fraction.js";
import { prettyPitch } from "../theory/pitch.js";
import type { Asked } from "../voicing/asked.js";
import { voicePassage } from "../voicing/search.js";
import { type StyleName, styleNamed } from "../voicing/styles.js";
import type { Voice } from "../voicing/voicing.js";
import { barSlots, pickupSlots, type Stroke } from "./bar-slots.js";
import type { ChartText } from "./chart-text.js";
import { asWritten, type Choice, handLine, rowSlots, type Stretch } from "./hand-line.js";
import { type HandWriting, handWriting, homeOf } from "./hand-writing.js";
import type { EditNote, EditResult } from "./result.js";
import { type RowChange, rowEdits } from "./row-change.js";
import { stackText } from "./stack-text.js";
import { unreadNotes } from "./unread-notes.js";
import { choiceFor, type Which } from "./voiced-choice.js";
import {
  type Found,
  isStaggered,
  type Lines,
  type PassageStep,
  passageSteps,
  struckTogether,
} from "./voiced-passage.js";

/** What is asked of the search. */
export interface VoicingAsked {
  readonly hands: readonly Hand[];
  readonly style: StyleName;
  /** Whether each voicing has to be playable in all twelve keys, not only in those that the form plays. */
  readonly everyKey: boolean;
  readonly which: Which;
  /** The one section that is voiced; all of the chart's own where left out. */
  readonly only?: PlacedSection | undefined;
  /** The widest white-key interval of each hand; the usual one where nobody says. */
  readonly reach: { readonly left: number | undefined; readonly right: number | undefined };
}

/**
 * Voices the chords of a chart for one hand or both: fills empty bars and rows that aren't there, or what is chosen,
 * with the best path through each section. The melody stays the right hand's top voice. No other slot is touched.
 */
export function voiceRows(text: ChartText, asked: VoicingAsked): EditResult {
  const { chart, tree } = text;
  const writing = handWriting(chart);
  const ways = waysPlayed(chart);
  const edits: Edit[] = [];
  const notes: EditNote[] = [];
  let found = 0;
  for (const placed of chart.sections) {
    if (placed.path !== undefined || (asked.only ?? placed) !== placed) continue;
    const moves = (ways.get(placed) ?? []).map(({ halfSteps }) => halfSteps);
    const voiced = voiceSection(placed, asked, moves, notes);
    found += voiced.found.size;
    edits.push(...voiced.write(writing));
  }
  if (found === 0) return { refused: notes[0]?.message ?? refusal(text, asked) };
  notes.push(...unreadNotes(tree, "voiced", (it) => it.kind === "row" && it.row === "chords"));
  return { edits, notes: oneOfEach(notes) };
}

interface VoicedSection {
  readonly found: Found;
  /** The edits that write what was found, counted from the chart's start. */
  readonly write: (writing: HandWriting) => readonly Edit[];
}

const bothHands: readonly Hand[] = ["left", "right"];

function voiceSection(
  placed: PlacedSection,
  asked: VoicingAsked,
  moves: readonly number[],
  notes: EditNote[],
): VoicedSection {
  const followsMelody = styleNamed(asked.style)?.leftDoubles ?? false;
  const choose = (hand: Hand): Choice =>
    asked.hands.includes(hand) ? choiceFor(placed, hand, asked.which, followsMelody) : asWritten;
  const [left, right] = [choose("left"), choose("right")];
  const isTogether = asked.hands.length === 2;
  const choices: Readonly<Record<Hand, Choice>> = {
    left: { ...left, strikesAnew: (bar) => isTogether && turns(right, bar) },
    right: { ...right, strikesAnew: (bar) => isTogether && turns(left, bar) },
  };
  const apart: Lines = {
    left: handLine(placed, "left", choices.left),
    right: handLine(placed, "right", choices.right),
  };
  const lines = struckTogether(placed, apart, (hand, bar, pickup) => choices[hand].whole(bar, pickup));
  const isFollowed = placed.section.rows.lead.notes.length > 0;
  const [first] = lines.right.filter(({ kind }) => kind === "open");
  if (followsMelody && !isFollowed && first?.chord !== undefined)
    notes.push({
      message: `There is no lead row for ${asked.style} to follow, so the top voice is free.`,
      span: shift(first.chord.span, placed.offset),
    });
  const found = new Map<Stretch, readonly Voice[]>();
  const hands = bothHands.filter((hand) => lines[hand].some(({ kind }) => kind === "open"));
  // Where one hand moves while the other is held, the right hand is found first, and the left hand to it.
  const ways: readonly (readonly Hand[])[] =
    hands.length === 2 && isStaggered(lines) ? [["right"], ["left"]] : [hands];
  for (const searched of ways) {
    if (searched.length === 0) continue;
    const passage = passageSteps(placed, lines, searched, found);
    const { style, everyKey } = asked;
    search(passage, { style, everyKey, moves, reach: reachOf(asked) }, placed, found, notes);
  }
  return { found, write: (writing) => writeSection(placed, asked, choices, lines, found, writing, notes) };
}

/** Whether a hand turns at a bar from what is found to what is written, or back. */
const turns = ({ whole }: Choice, bar: number): boolean => whole(bar - 1, false) !== whole(bar, false);

export const reachOf = ({ reach }: Pick<VoicingAsked, "reach">): Readonly<Record<Hand, number>> => ({
  left: reach.left ?? usualReach,
  right: reach.right ?? usualReach,
});

/** Adds to `found` what the search gives to what is open, and to `notes` where it couldn't do as asked. */
function search(
  passage: readonly PassageStep[],
  asked: Asked,
  { offset }: PlacedSection,
  found: Map<Stretch, readonly Voice[]>,
  notes: EditNote[],
): void {
  const { steps } = voicePassage(
    passage.map(({ step }) => step),
    asked,
  );
  passage.forEach(({ event, open, melodyLeft }, i) => {
    const it = steps[i];
    const span = shift(event.span, offset);
    const chord = prettyChord(event.chord);
    if (melodyLeft !== undefined)
      notes.push({
        message: `The melody's ${prettyPitch(melodyLeft)} stands against ${chord}, so it is not the top voice there.`,
        span,
      });
    if (Object.keys(open).length === 0) return;
    if (it?.voicing === undefined) {
      notes.push({
        message: `No voicing of ${chord} can be played here: it stays as it was. Voice it by hand, or in another style.`,
        span,
      });
      return;
    }
    if (it.served !== asked.style)
      notes.push({
        message: `${chord} can't be voiced as ${asked.style} here, so it is voiced as ${it.served}.`,
        span,
      });
    for (const hand of bothHands) {
      const stretch = open[hand];
      if (stretch !== undefined) found.set(stretch, it.voicing[hand]);
    }
  });
}

function writeSection(
  placed: PlacedSection,
  { style, everyKey, hands }: VoicingAsked,
  choices: Readonly<Record<Hand, Choice>>,
  lines: Lines,
  found: Found,
  writing: HandWriting,
  notes: EditNote[],
): readonly Edit[] {
  const { section } = placed;
  return section.systems.flatMap((system) => {
    const changes: RowChange[] = [];
    for (const row of ["right", "left"] as const) {
      if (!hands.includes(row)) continue;
      const own = lines[row].filter((it) => it.system === system.index);
      const change = changeOf({ placed, system, row, choice: choices[row], own, found, writing, notes });
      if (change === undefined) continue;
      const isWhole =
        rowIn(system, row) === undefined || change.bars.size === system.endBar - system.firstBar;
      changes.push({ ...change, voiced: isWhole ? { style, everyKey } : undefined });
    }
    return changes.length === 0 ? [] : rowEdits(placed, system, changes, writing.lineEnd);
  });
}

interface Writing {
  readonly placed: PlacedSection;
  readonly system: System;
  readonly row: Hand;
  readonly choice: Choice;
  readonly own: readonly Stretch[];
  readonly found: Found;
  readonly writing: HandWriting;
  readonly notes: EditNote[];
}

/** What becomes of a hand's row in a system; `undefined` where nothing was found for it. */
function changeOf(it: Writing): Omit<RowChange, "voiced"> | undefined {
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
function barText(it: Writing, bar: Bar, pickup: boolean): string | undefined {
  const { placed, system, row, choice, own, notes } = it;
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
    const span = rowIn(system, "chords")?.line.bars[bar.index - system.firstBar]?.span;
    const start = rowIn(system, "chords")?.start ?? 0;
    const where: Span = shift(span ?? { start: 0, end: 0 }, start + offset);
    notes.push({
      message: `The rhythm of this bar is too fine to follow, so the ${row} hand's bar stays empty.`,
      span: where,
    });
  }
  return text;
}

/** What a stretch is written as: its stack, or a rest where nothing was found for it. */
function textOf(
  { placed, system, row, found, writing }: Writing,
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

function refusal({ chart }: ChartText, { hands, which }: VoicingAsked): string {
  const own = chart.sections.filter(({ path }) => path === undefined);
  if (own.every(({ section }) => section.chords.length === 0))
    return "There are no chords to voice. Write a chords row first.";
  if (typeof which !== "string")
    return "Nothing there can be voiced. Select slots of a hand, or put the cursor where a bar or a row is empty.";
  const names = hands.length === 2 ? "Both hands have" : `The ${hands[0]} hand has`;
  return `${names} something written in every bar that has a chord.`;
}

/** The same thing said at several chords is said at the first. */
function oneOfEach(notes: readonly EditNote[]): readonly EditNote[] {
  const said = new Set<string>();
  return [...notes]
    .sort((a, b) => a.span.start - b.span.start)
    .filter(({ message }) => !said.has(message) && said.add(message));
}
