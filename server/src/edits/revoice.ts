import { editedSection } from "../chart/edited-section.js";
import { type HandGrip, handGrips } from "../chart/hand-grips.js";
import { heldAtOnce } from "../chart/held-keys.js";
import type { PlacedSection, Reach, Section, SlotEvent } from "../chart/model.js";
import { waysPlayed } from "../chart/played.js";
import { meetings } from "../chart/two-hands.js";
import { movedGrip } from "../keyboard/grip.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import type { Edit } from "../text/edits.js";
import { shift, sliceOf } from "../text/span.js";
import { lowestClear } from "../theory/low-intervals.js";
import { prettyPitch } from "../theory/pitch.js";
import type { ChartText } from "./chart-text.js";
import { guidesAmong, keysBeside, type LighterStack, lighterStacks } from "./lighter-stacks.js";
import { reachLineEdit } from "./reach-line.js";
import type { EditNote, EditResult } from "./result.js";
import { type RowChange, rowEdits } from "./row-change.js";

const hands: readonly Hand[] = ["left", "right"];

/**
 * Makes a chart playable for hands of another reach (white-key intervals, 8 is an octave; a hand that isn't named keeps
 * its own), in each key that the form plays: every stack that can't be held gets the fewest changed tones that help, of
 * those the cheapest. Rolls what nothing else helps. The chart's head then says the reach.
 */
export function revoice({ chart, tree }: ChartText, asked: Reach): EditResult {
  const own = chart.header.reach;
  const said: Reach = { left: asked.left ?? own.left, right: asked.right ?? own.right };
  const reach = { left: said.left ?? usualReach, right: said.right ?? usualReach };
  const ways = waysPlayed(chart);
  const notes: EditNote[] = [];
  const edits: Edit[] = [];
  for (const placed of chart.sections) {
    if (placed.path !== undefined) continue;
    const moves = [...new Set([0, ...(ways.get(placed) ?? []).map(({ halfSteps }) => halfSteps)])];
    edits.push(...lighten(placed, reach, moves, notes));
  }
  const line = reachLineEdit(chart.outline, said);
  if (sliceOf(tree.text, line.span) !== line.text) edits.unshift(line);
  if (edits.length === 0 && notes.length === 0)
    return { refused: "Every stack of the chart lies under hands of that reach already." };
  return { edits, notes: notes.sort((a, b) => a.span.start - b.span.start) };
}

type HandReach = Readonly<Record<Hand, number>>;

/** The edits that lighten what can't be held in a section. */
function lighten(
  placed: PlacedSection,
  reach: HandReach,
  moves: readonly number[],
  notes: EditNote[],
): readonly Edit[] {
  let now = placed.section;
  for (const hand of hands) {
    const given = new Set<number>();
    for (;;) {
      const grip = unheld(now, hand, reach, moves).find(({ slot }) => !given.has(ordinal(now, slot)));
      if (grip === undefined) break;
      const { slot, notes: sounding } = grip;
      given.add(ordinal(now, slot));
      const span = shift(
        placed.section.rows[slot.row].slots[ordinal(now, slot)]?.span ?? slot.span,
        placed.offset,
      );
      const names = sounding.map(({ pitch }) => prettyPitch(pitch)).join(" ");
      const found = slot.row === hand ? lighter(now, grip, hand, reach, moves) : undefined;
      if (found === undefined) {
        const message = `The ${hand} hand can't hold ${names} at this reach, and no tone can go: voice it by hand.`;
        notes.push({ message, span });
        continue;
      }
      notes.push({ message: `${names} in the ${hand} hand: ${wordsOf(found, hand)}.`, span });
      now = found.section;
    }
  }
  return now === placed.section ? [] : rowsChanged(placed, now);
}

/** Its place among the slots of its row, which no change of a stack moves. */
const ordinal = ({ rows }: Section, slot: SlotEvent): number => rows[slot.row].slots.indexOf(slot);

const isHeldBy =
  (reach: HandReach, moves: readonly number[]) =>
  (keys: readonly number[], hand: Hand): boolean =>
    moves.every(
      (by) => movedGrip(keys, by, hand, reach[hand]).holds && keys.every((key) => isOnKeyboard(key + by)),
    );

const isHeldGrip = (grip: HandGrip, hand: Hand, reach: HandReach, moves: readonly number[]): boolean =>
  heldAtOnce(grip).every((keys) => moves.every((by) => movedGrip(keys, by, hand, reach[hand]).holds));

/** The grips of a hand that it can't hold, those that `=` and `%` repeat charged to what they repeat. */
const unheld = (
  section: Section,
  hand: Hand,
  reach: HandReach,
  moves: readonly number[],
): readonly HandGrip[] => handGrips(section, hand).filter((it) => !isHeldGrip(it, hand, reach, moves));

/** A section with one stack made lighter. */
interface Lightened {
  readonly section: Section;
  /** `undefined` where it is only rolled. */
  readonly stack: LighterStack | undefined;
}

function lighter(
  section: Section,
  { slot, keys }: HandGrip,
  hand: Hand,
  reach: HandReach,
  moves: readonly number[],
): Lightened | undefined {
  const isBetter = betterThan(section, slot, hand, reach, moves);
  for (let count = 1; count < keys.length; count++) {
    for (const stack of lighterStacks(section, slot, hand, count, isHeldBy(reach, moves))) {
      const edits = [...stack.texts].map(([it, text]): Edit => ({ span: it.span, text }));
      const tried = editedSection(section, edits);
      if (tried !== undefined && isBetter(tried)) return { section: tried, stack };
    }
  }
  if (slot.rolled) return undefined;
  const text = sliceOf(section.source.text, slot.span);
  const rolled = editedSection(section, [
    { span: slot.span, text: text.replace(/^!?/, (push) => `${push}~`) },
  ]);
  return rolled !== undefined && isBetter(rolled) ? { section: rolled, stack: undefined } : undefined;
}

/** Whether a section in which a slot is written anew is held there, and nowhere worse. */
function betterThan(
  before: Section,
  slot: SlotEvent,
  hand: Hand,
  reach: HandReach,
  moves: readonly number[],
): (after: Section) => boolean {
  const times = before.rows[hand].slots.flatMap((it, i) => (it.span.start === slot.span.start ? [i] : []));
  const count = (it: Section): readonly number[] => [
    ...hands.map((hand) => unheld(it, hand, reach, moves).length),
    meetings(it).length,
    it.marks.filter(({ kind }) => kind === "nothing-to-hold").length,
    unclear(it, moves),
  ];
  const was = count(before);
  return (after) => {
    const grips = handGrips(after, hand);
    const isHeldEachTime = times.every((i) => {
      const [old, now] = [before.rows[hand].slots[i], after.rows[hand].slots[i]];
      if (old === undefined || now === undefined) return false;
      const grip = grips.find((it) => it.slot === now);
      if (grip !== undefined && !isHeldGrip(grip, hand, reach, moves)) return false;
      const [had, has] = [keysAt(before, old), keysAt(after, now)];
      const kept = new Set(guidesAmong(has, now.chord?.chord));
      return (
        guidesAmong(had, old.chord?.chord).every((tone) => kept.has(tone)) &&
        Math.min(...had) % 12 === Math.min(...has) % 12
      );
    });
    return isHeldEachTime && count(after).every((it, i) => it <= (was[i] as number));
  };
}

function keysAt(section: Section, slot: SlotEvent): readonly number[] {
  const own = [...slot.held, ...slot.struck].filter(({ grace }) => !grace).map(({ pitch }) => pitch.midi);
  return [...own, ...keysBeside(section, slot)];
}

/** How many neighbours of a hand lie too low to be heard apart, in any key that the form plays. */
function unclear(section: Section, moves: readonly number[]): number {
  const lowest = Math.min(...moves);
  let found = 0;
  for (const hand of hands) {
    for (const { keys } of handGrips(section, hand)) {
      for (let i = 1; i < keys.length; i++) {
        const lower = keys[i - 1] as number;
        const limit = lowestClear((keys[i] as number) - lower);
        if (limit !== undefined && lower + lowest < limit) found++;
      }
    }
  }
  return found;
}

function wordsOf({ stack }: Lightened, hand: Hand): string {
  if (stack === undefined) return "it is rolled now";
  return stack.changes
    .map(({ tone, change }) => {
      const name = prettyPitch(tone.note.pitch);
      if (change === "left out") return `${name} is left out`;
      if (change === "given") return `${name} goes to the ${hand === "left" ? "right" : "left"} hand`;
      return `${name} goes ${change} an octave`;
    })
    .join(", ");
}

/** The edits that write the slots of a section as they stand in another version of it. */
function rowsChanged(placed: PlacedSection, after: Section): readonly Edit[] {
  const { section } = placed;
  return section.systems.flatMap((system) => {
    const changes = hands.flatMap((row): readonly RowChange[] => {
      const slots = section.rows[row].slots.flatMap((slot, i): readonly Edit[] => {
        const isOwn = slot.repeatedBy === undefined && slot.system === system.index && slot.kind === "stack";
        const now = after.rows[row].slots[i];
        if (!isOwn || now === undefined) return [];
        const text = sliceOf(after.source.text, now.span);
        return text === sliceOf(section.source.text, slot.span) ? [] : [{ span: slot.span, text }];
      });
      if (slots.length === 0) return [];
      return [{ row, bars: new Map(), pickup: undefined, slots, voiced: undefined }];
    });
    return changes.length === 0 ? [] : rowEdits(placed, system, changes, "\n");
  });
}
