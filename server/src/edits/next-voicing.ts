import { rowIn } from "../chart/layout.js";
import type { Hand } from "../keyboard/hand.js";
import type { Edit } from "../text/edits.js";
import { sliceOf } from "../text/span.js";
import { prettyChord } from "../theory/chord.js";
import { alternativesAt, type Passage } from "../voicing/search.js";
import type { ChartText } from "./chart-text.js";
import { handWriting, homeOf } from "./hand-writing.js";
import type { EditResult } from "./result.js";
import { rowEdits } from "./row-change.js";
import { isSameKeys, type ReachAsked, type SlotPassage, slotPassage, standing } from "./slot-passage.js";
import { stackText } from "./stack-text.js";

/** So many voicings of a slot are stepped through: beyond them they only get worse. */
const mostAlternatives = 8;
/** So many are looked at for them: many differ in the other hand alone. */
const mostRanked = 64;

const hands: readonly Hand[] = ["right", "left"];

/**
 * Puts the next best voicing into the slot of a hand at a place of a chart, after the last again the best; what was
 * voiced with it adapts to it, the other hand too. A slot of the player's own changes alone.
 */
export function nextVoicing({ chart }: ChartText, offset: number, reach: ReachAsked): EditResult {
  const found = slotPassage(chart, offset, reach, true);
  if (found === undefined)
    return { refused: "No voicing of a hand stands here. Put the cursor on a stack over a chord." };
  const { passage, index } = found;
  const alternatives = alternativesOf(found);
  const now = alternatives.findIndex((it) => isStanding(found, it));
  const next = alternatives[(now + 1) % Math.max(1, alternatives.length)];
  if (next === undefined || (now >= 0 && alternatives.length === 1)) {
    const event = passage[index]?.event;
    const chord = event === undefined ? "This chord" : prettyChord(event.chord);
    return { refused: `${chord} has no other voicing of this style that can be played here.` };
  }
  const writing = handWriting(chart);
  const { placed } = found;
  const { section } = placed;
  const edits = section.systems.flatMap((system) => {
    const changes = hands.flatMap((row) => {
      if (rowIn(system, row) === undefined) return [];
      const slots = passage.flatMap(({ open }, i): readonly Edit[] => {
        const stretch = open[row];
        const voices = next.steps[i]?.voicing?.[row];
        const slot = stretch?.slot;
        if (stretch?.system !== system.index || slot === undefined || voices === undefined) return [];
        if (isSameKeys(voices, standing(stretch))) return [];
        const [before = ""] = /^[!~]*/.exec(sliceOf(section.source.text, slot.span)) ?? [];
        const text = stackText(
          voices.map(({ pitch }) => pitch),
          {
            row,
            key: system.home.key,
            chord: stretch.chord?.chord,
            home: homeOf(section, system, row),
            groupOctaves: slot.groupOctaves,
            ...writing,
          },
        );
        return [{ span: slot.written, text: before + (text ?? "r") }];
      });
      return slots.length === 0
        ? []
        : [{ row, bars: new Map<number, string>(), pickup: undefined, slots, voiced: undefined }];
    });
    return changes.length === 0 ? [] : rowEdits(placed, system, changes, writing.lineEnd);
  });
  return { edits, notes: [] };
}

/** The best few: first one for each thing that the slot's own hand may play, then those that differ in the other. */
function alternativesOf({ passage, index, asked, hand }: SlotPassage): readonly Passage[] {
  const steps = passage.map(({ step }) => step);
  const seen = new Set<string>();
  const [firsts, others]: [Passage[], Passage[]] = [[], []];
  for (const { passage: it } of alternativesAt(steps, asked, index, mostRanked)) {
    const keys = (it.steps[index]?.voicing?.[hand] ?? []).map(({ pitch }) => pitch.midi).join(" ");
    (seen.has(keys) ? others : firsts).push(it);
    seen.add(keys);
  }
  return [...firsts, ...others].slice(0, mostAlternatives);
}

/** Whether a passage has at the slot what stands there now. */
function isStanding({ passage, index }: SlotPassage, { steps }: Passage): boolean {
  const voicing = steps[index]?.voicing;
  const open = passage[index]?.open ?? {};
  return (
    voicing !== undefined &&
    hands.every((hand) => {
      const stretch = open[hand];
      return stretch === undefined || isSameKeys(voicing[hand], standing(stretch));
    })
  );
}
