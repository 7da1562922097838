import type { PlacedSection } from "../chart/model.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import type { Edit } from "../text/edits.js";
import { shift } from "../text/span.js";
import { prettyChord } from "../theory/chord.js";
import { prettyPitch } from "../theory/pitch.js";
import type { Asked } from "../voicing/asked.js";
import { voicePassage } from "../voicing/search.js";
import { styleNamed } from "../voicing/styles.js";
import type { Voice } from "../voicing/voicing.js";
import { asWritten, type Choice, handLine, type Stretch } from "./hand-line.js";
import type { HandWriting } from "./hand-writing.js";
import type { EditNote } from "./result.js";
import { type BarOfHand, isSameBar, type StayingBar, stayingFor } from "./staying-bars.js";
import { choiceFor } from "./voiced-choice.js";
import {
  isStaggered,
  type Lines,
  type PassageStep,
  passageSteps,
  struckTogether,
  withoutCrossing,
} from "./voiced-passage.js";
import { writeVoiced } from "./voiced-writing.js";
import type { VoicingAsked } from "./voicing-asked.js";

/** A section as it is voiced: the edits of the chart, none where nothing was found, and what is to be said of them. */
export interface VoicedSection {
  readonly edits: readonly Edit[];
  readonly notes: readonly EditNote[];
}

const bothHands: readonly Hand[] = ["left", "right"];

/**
 * Voices the chords of a section; `moves` are the half steps to the other keys in which the form plays it. A bar that
 * can't be written, or that has something for a chord that can't be voiced, stays as it is, and the others fit it.
 */
export function voiceSection(
  placed: PlacedSection,
  asked: VoicingAsked,
  moves: readonly number[],
  writing: HandWriting,
): VoicedSection {
  const staying: StayingBar[] = [];
  for (;;) {
    const tried = tryVoicing(placed, asked, moves, writing, staying);
    const unserved = asked.which === "all" ? tried.unserved.flatMap((it) => stayingFor(it, placed)) : [];
    const more = [...tried.tooFine, ...unserved].filter(
      (it) => !staying.some((other) => isSameBar(it, other)),
    );
    if (more.length === 0) {
      return { edits: tried.edits, notes: [...tried.notes, ...staying.flatMap(({ note }) => note ?? [])] };
    }
    staying.push(...more);
  }
}

interface Tried extends VoicedSection {
  /** What nothing was found for. */
  readonly unserved: readonly Stretch[];
  /** Bars whose rhythm no slots say. */
  readonly tooFine: readonly StayingBar[];
}

function tryVoicing(
  placed: PlacedSection,
  asked: VoicingAsked,
  moves: readonly number[],
  writing: HandWriting,
  staying: readonly BarOfHand[],
): Tried {
  const { hands, style, everyKey } = asked;
  const followsMelody = styleNamed(style)?.leftDoubles ?? false;
  const choices = choicesFor(placed, asked, followsMelody, staying);
  const lines = linesFor(placed, choices);
  const notes: EditNote[] = [];
  const isFollowed = placed.section.rows.lead.notes.length > 0;
  const [first] = lines.right.filter(({ kind }) => kind === "open");
  if (followsMelody && !isFollowed && first?.chord !== undefined)
    notes.push({
      message: `There is no lead row for ${style} to follow, so the top voice is free.`,
      span: shift(first.chord.span, placed.offset),
    });
  const found = new Map<Stretch, readonly Voice[]>();
  const unserved: Stretch[] = [];
  const searching = bothHands.filter((hand) => lines[hand].some(({ kind }) => kind === "open"));
  // Where one hand moves while the other is held, the right hand is found first, and the left hand to it.
  const ways: readonly (readonly Hand[])[] =
    searching.length === 2 && isStaggered(lines) ? [["right"], ["left"]] : [searching];
  for (const searched of ways) {
    if (searched.length === 0) continue;
    const passage = passageSteps(placed, lines, searched, found);
    const asking = { style, everyKey, moves, reach: reachOf(asked) };
    unserved.push(...search(passage, asking, placed, found, notes));
  }
  for (const { chord } of unserved)
    if (chord !== undefined)
      notes.push({
        message: `No voicing of ${prettyChord(chord.chord)} can be played here: it stays as it was. Voice it by hand, or in another style.`,
        span: shift(chord.span, placed.offset),
      });
  const written = writeVoiced({ placed, choices, lines, found, writing }, hands, { style, everyKey });
  return { ...written, notes, unserved };
}

function choicesFor(
  placed: PlacedSection,
  { hands, which }: VoicingAsked,
  followsMelody: boolean,
  staying: readonly BarOfHand[],
): Readonly<Record<Hand, Choice>> {
  const choose = (hand: Hand): Choice =>
    hands.includes(hand)
      ? choiceFor(placed, hand, which, followsMelody, (bar, pickup) =>
          staying.some((it) => isSameBar(it, { hand, bar, pickup })),
        )
      : asWritten;
  const [left, right] = [choose("left"), choose("right")];
  const isTogether = hands.length === 2;
  return {
    left: { ...left, strikesAnew: (bar) => isTogether && turns(right, bar) },
    right: { ...right, strikesAnew: (bar) => isTogether && turns(left, bar) },
  };
}

/** Whether a hand turns at a bar from what is found to what is written, or back. */
const turns = ({ whole }: Choice, bar: number): boolean => whole(bar - 1, false) !== whole(bar, false);

function linesFor(placed: PlacedSection, choices: Readonly<Record<Hand, Choice>>): Lines {
  const lines: Lines = {
    left: handLine(placed, "left", choices.left),
    right: handLine(placed, "right", choices.right),
  };
  const isWhole = (hand: Hand, bar: number, pickup: boolean): boolean => choices[hand].whole(bar, pickup);
  return struckTogether(placed, withoutCrossing(placed, lines), isWhole);
}

const reachOf = ({ reach }: Pick<VoicingAsked, "reach">): Readonly<Record<Hand, number>> => ({
  left: reach.left ?? usualReach,
  right: reach.right ?? usualReach,
});

/**
 * Adds to `found` what the search gives to what is open, and to `notes` where it couldn't do as asked. Returns what
 * it gives nothing to.
 */
function search(
  passage: readonly PassageStep[],
  asked: Asked,
  { offset }: PlacedSection,
  found: Map<Stretch, readonly Voice[]>,
  notes: EditNote[],
): readonly Stretch[] {
  const unserved: Stretch[] = [];
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
      unserved.push(...Object.values(open));
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
  return unserved;
}
