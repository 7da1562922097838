import { type HandGrip, handGrips } from "../chart/hand-grips.js";
import { heldAtOnce } from "../chart/held-keys.js";
import type { Section, SlotEvent } from "../chart/model.js";
import { twelveTonics } from "../chart/twelve-tonics.js";
import { inOctave } from "../keyboard/grip-shape.js";
import type { Hand } from "../keyboard/hand.js";
import { everyKey, keysHolding, placesHolding } from "../keyboard/twelve-keys.js";
import type { Related } from "../problems/problem.js";
import { indexAt } from "../text/lines.js";
import type { Span } from "../text/span.js";
import { intervalOfWhiteKeys } from "../theory/interval-name.js";
import { nameOf } from "../theory/note-name.js";
import { prettyPitch } from "../theory/pitch.js";
import type { JudgedSection, SectionCheck } from "./check.js";
import { reachOf } from "./unheld-grips.js";

/** Grips that a hand holds in the key of the chart and not in some other key. */
export const otherKeys: SectionCheck<"other-keys"> = {
  code: "other-keys",
  run(judged, report) {
    for (const hand of ["right", "left"] as const) {
      const reach = reachOf(judged, hand);
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
    const { slots, mostTones } = rows[row];
    if (mostTones < 2) continue;
    for (const slot of slots) {
      const { placed } = slot;
      if (placed === undefined || placed.tones.length < 2 || slot.hand !== hand) continue;
      const { shape } = placed;
      if (shape === undefined || placesHolding(shape, hand, reach) !== everyKey) return true;
    }
  }
  return false;
}

const rightRows = ["right", "lead"] as const;
const leftRows = ["left", "bass"] as const;

/** Grips one after the other that fail in some key, each once, and where they come again. */
interface Run {
  readonly slots: SlotEvent[];
  readonly again: SlotEvent[];
  /** The keys in which one of them fails, by half steps up from the printed one, a bit each. */
  failing: number;
  /** What fails in the most keys. */
  hardest: Failing;
}

/** What a hand holds at once, and the keys in which it can't. */
interface Failing {
  readonly grip: HandGrip;
  readonly keys: readonly number[];
  readonly failing: number;
}

function runsOf({ section, played }: JudgedSection, hand: Hand, reach: number): readonly Run[] {
  const playedIn = placesOf(played);
  const runs: Run[] = [];
  /** By its keys, and by its text: a `%` may repeat it under another chord. */
  const known = new Map<string | number, Run>();
  let run: Run | undefined;
  let bar = 0;
  for (const grip of handGrips(section, hand)) {
    const it = failingOf(grip, hand, reach);
    // What can't be held in a key that is played is an error, and told as one.
    if (it === undefined || (it.failing & playedIn) !== 0) continue;
    const { slot } = grip;
    const name = `${slot.rolled ? "~" : ""}${grip.keys.join(" ")}`;
    const before = known.get(name) ?? known.get(slot.span.start);
    if (before !== undefined) {
      before.failing |= it.failing;
      if (slot.repeatedBy === undefined) before.again.push(slot);
      continue;
    }
    // A whole bar between two grips parts them.
    if (run === undefined || slot.bar > bar + 1) {
      run = { slots: [], again: [], failing: 0, hardest: it };
      runs.push(run);
    }
    bar = slot.bar;
    run.slots.push(slot);
    run.failing |= it.failing;
    if (bitsOf(it.failing) > bitsOf(run.hardest.failing)) run.hardest = it;
    known.set(name, run);
    known.set(slot.span.start, run);
  }
  return runs;
}

/** Of a roll the keys are what it has the hand hold down. */
function failingOf(grip: HandGrip, hand: Hand, reach: number): Failing | undefined {
  let hardest: Failing | undefined;
  let all = 0;
  for (const keys of heldAtOnce(grip)) {
    const failing = keys.length < 2 ? 0 : everyKey & ~keysHolding(keys, hand, reach);
    if (failing === 0) continue;
    all |= failing;
    if (hardest === undefined || bitsOf(failing) > bitsOf(hardest.failing)) hardest = { grip, keys, failing };
  }
  return hardest && { ...hardest, failing: all };
}

/** The keys in which the form plays a section, a bit each. */
const placesOf = (played: JudgedSection["played"]): number =>
  played.reduce((keys, { halfSteps }) => keys | (1 << inOctave(halfSteps)), 0);

function bitsOf(keys: number): number {
  let count = 0;
  for (let left = keys; left > 0; left &= left - 1) count++;
  return count;
}

function factsOf({ failing, slots, hardest }: Run, judged: JudgedSection, hand: Hand, reach: number) {
  const { section, played, reachBy } = judged;
  const twelve = twelveTonics(section.start.key);
  const namesOf = (keys: number): readonly string[] =>
    twelve.filter(({ by }) => (keys >> by) & 1).map(({ tonic }) => nameOf(tonic));
  const isAsPrinted = played.length === 1 && played[0]?.halfSteps === 0;
  const playedIn = placesOf(played);
  return {
    hand,
    reach,
    reachName: intervalOfWhiteKeys(reach),
    reachBy: reachBy[hand],
    keys: namesOf(failing),
    held: namesOf(everyKey & ~failing & ~playedIn),
    played: namesOf(isAsPrinted ? 0 : playedIn),
    grips: slots.length,
    tones: hardest.grip.notes
      .filter(({ pitch }) => hardest.keys.includes(pitch.midi))
      .map(({ pitch }) => prettyPitch(pitch)),
  };
}

/** The grips of the first line as one range, those of further lines beside it, a range for each line. */
function placeOf(
  { source }: Section,
  { slots, again }: Run,
): { readonly first: SlotEvent; readonly span: Span; readonly related: readonly Related[] } {
  const first = slots[0] as SlotEvent;
  const [span = first.span, ...further] = byLine(slots, source.starts);
  const related = further.map((it) => ({ span: it, message: "And these." }));
  for (const it of byLine(again, source.starts)) related.push({ span: it, message: "Here again." });
  return { first, span, related };
}

/** The ranges from the first of some slots to the last, line by line, in the order in which they are played. */
function byLine(slots: readonly SlotEvent[], starts: readonly number[]): readonly Span[] {
  const spans = new Map<number, Span>();
  for (const { span } of slots) {
    const line = indexAt(starts, span.start);
    const known = spans.get(line);
    spans.set(
      line,
      known === undefined
        ? span
        : { start: Math.min(known.start, span.start), end: Math.max(known.end, span.end) },
    );
  }
  return [...spans.values()];
}
