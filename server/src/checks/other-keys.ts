import { type HandGrip, handGrips } from "../chart/hand-grips.js";
import type { Section, SlotEvent } from "../chart/model.js";
import { moveFurther } from "../chart/moves.js";
import { inOctave, widestShape } from "../keyboard/grip-shape.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import { everyKey, keysHolding, placesHolding } from "../keyboard/twelve-keys.js";
import type { Related } from "../problems/problem.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import type { Key } from "../theory/key.js";
import { nameOf } from "../theory/note-name.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";

/** Grips that a hand holds in the key of the chart and not in some other key. */
export const otherKeys: SectionCheck<"other-keys"> = {
  code: "other-keys",
  run(judged, report) {
    for (const hand of ["right", "left"] as const) {
      const reach = judged.reach[hand] ?? usualReach;
      if (!mayFail(judged.section, hand, reach)) continue;
      for (const run of runsOf(judged, hand, reach)) {
        const { first, span, related } = placeOf(judged.section, run);
        report(span, factsOf(run, judged, hand, reach), { row: first.row, related });
      }
    }
  },
};

/** Whether any grip fails in any key, by numbers alone: in most sections none does. */
function mayFail({ rows }: Section, hand: Hand, reach: number): boolean {
  for (const row of hand === "right" ? rightRows : leftRows) {
    for (const slot of rows[row].slots) {
      if (slot.struck.length + slot.held.length < 2 || slot.kind !== "stack" || slot.hand !== hand) continue;
      const shape = shapeOf(slot);
      if (shape === undefined || placesHolding(shape, hand, reach) !== everyKey) return true;
    }
  }
  return false;
}

const rightRows = ["right", "lead"] as const;
const leftRows = ["left", "bass"] as const;

/** The shape of all that sounds in a slot, as if none of it were rolled; `undefined` where it is wider than any hand. */
function shapeOf({ struck, held }: SlotEvent): number | undefined {
  let lowest = Number.POSITIVE_INFINITY;
  for (const { pitch, grace } of struck) if (!grace && pitch.midi < lowest) lowest = pitch.midi;
  for (const { pitch } of held) if (pitch.midi < lowest) lowest = pitch.midi;
  let shape = 0;
  for (const { pitch, grace } of struck) {
    if (grace || pitch.midi === lowest) continue;
    if (pitch.midi - lowest > widestShape) return undefined;
    shape |= 1 << (pitch.midi - lowest);
  }
  for (const { pitch } of held) {
    if (pitch.midi === lowest) continue;
    if (pitch.midi - lowest > widestShape) return undefined;
    shape |= 1 << (pitch.midi - lowest);
  }
  return shape;
}

/** Grips one after the other that fail in some key, each once, and where they come again. */
interface Run {
  readonly grips: HandGrip[];
  readonly again: HandGrip[];
  /** The keys in which one of them fails, by half steps up from the printed one, a bit each. */
  failing: number;
  /** The one that fails in the most keys, and how many. */
  hardest: HandGrip;
  most: number;
}

function runsOf({ section, played }: JudgedSection, hand: Hand, reach: number): readonly Run[] {
  const playedIn = played.reduce((keys, { halfSteps }) => keys | (1 << inOctave(halfSteps)), 0);
  const runs: Run[] = [];
  /** By its keys, and by its text: a `%` may repeat it under another chord. */
  const known = new Map<string | number, Run>();
  let run: Run | undefined;
  let bar = 0;
  for (const it of handGrips(section, hand)) {
    if (it.tied.length < 2) continue;
    const holding = keysHolding(it.tied, hand, reach);
    const failing = everyKey & ~holding;
    // What can't be held in a key that is played is an error, and told as one.
    if (failing === 0 || (holding & playedIn) !== playedIn) continue;
    const { slot } = it;
    const name = it.tied.join(" ");
    const before = known.get(name) ?? known.get(slot.span.start);
    if (before !== undefined) {
      before.failing |= failing;
      if (slot.repeatedBy === undefined) before.again.push(it);
      continue;
    }
    // A whole bar between two grips parts them.
    if (run === undefined || slot.bar > bar + 1) {
      run = { grips: [], again: [], failing: 0, hardest: it, most: 0 };
      runs.push(run);
    }
    bar = slot.bar;
    run.grips.push(it);
    run.failing |= failing;
    const count = bitsOf(failing);
    if (count > run.most) [run.hardest, run.most] = [it, count];
    known.set(name, run);
    known.set(slot.span.start, run);
  }
  return runs;
}

function bitsOf(keys: number): number {
  let count = 0;
  for (let left = keys; left > 0; left &= left - 1) count++;
  return count;
}

function factsOf(run: Run, { section, played }: JudgedSection, hand: Hand, reach: number) {
  const { key } = section.start;
  const moved = keysOf(key);
  const namesOf = (keys: number): readonly string[] =>
    moved.filter(({ by }) => (keys >> by) & 1).map(({ name }) => name);
  const isAsPrinted = played.length === 1 && played[0]?.halfSteps === 0;
  const playedIn = isAsPrinted
    ? 0
    : played.reduce((keys, { halfSteps }) => keys | (1 << inOctave(halfSteps)), 0);
  const printed = isAsPrinted ? 1 : 0;
  return {
    hand,
    reach,
    keys: namesOf(run.failing),
    held: namesOf(everyKey & ~run.failing & ~printed),
    played: namesOf(playedIn),
    grips: run.grips.length,
    tones: run.hardest.notes
      .filter(({ pitch }) => run.hardest.tied.includes(pitch.midi))
      .map(({ pitch }) => prettyPitch(pitch)),
  };
}

/** The twelve keys that a section may be moved to, by half steps up from its own, in order from C. */
function keysOf(key: Key): readonly { readonly by: number; readonly name: string }[] {
  const place = inOctave(7 * key.tonic);
  return Array.from({ length: 12 }, (_, above) => {
    const by = inOctave(above - place);
    return { by, name: nameOf(moveFurther({ key, halfSteps: 0 }, by).key.tonic) };
  });
}

/** The grips of the first line as one range, those of further lines beside it, a range for each line. */
function placeOf(
  { source }: Section,
  { grips, again }: Run,
): { readonly first: SlotEvent; readonly span: Span; readonly related: readonly Related[] } {
  const first = (grips[0] as HandGrip).slot;
  const [span, ...further] = byLine(grips, source.starts);
  const related = further.map((it) => ({ span: it, message: "And these." }));
  for (const it of byLine(again, source.starts)) related.push({ span: it, message: "Here again." });
  return { first, span: span as Span, related };
}

/** The ranges from the first of some grips to the last, line by line, in the order in which they are played. */
function byLine(grips: readonly HandGrip[], starts: readonly number[]): readonly Span[] {
  const spans = new Map<number, Span>();
  for (const { slot } of grips) {
    const { start, end } = slot.span;
    const line = indexAt(starts, start);
    const known = spans.get(line);
    spans.set(
      line,
      known === undefined
        ? slot.span
        : { start: Math.min(known.start, start), end: Math.max(known.end, end) },
    );
  }
  return [...spans.values()];
}
