import type { Chord } from "../theory/chord.js";
import { pitchClass } from "../theory/note-name.js";
import type { Bar, ChordEvent, Section } from "./model.js";
import { writtenOut } from "./unfold.js";

/** Where in the repeats of its section a chord is met; `undefined` where the next bar just follows. */
export type Where = "start of the repeat" | "after the repeat" | "first ending" | "second ending";

/** What a chord moves to in one of the passes: the next chord on another root. */
export interface Ahead {
  /** `undefined` where nobody knows. */
  readonly chord: Chord | undefined;
  readonly where: Where | undefined;
}

/**
 * What follows each chord of a section, in the order of `section.chords`: once for each way that its repeats and
 * endings go on from there, in the order in which they are played. `after` is what follows the section.
 */
export function chordsAhead(section: Section, after: Chord | undefined): readonly (readonly Ahead[])[] {
  const ahead = section.chords.map((): Ahead[] => []);
  const played = inOrder(section);
  /** The next chord on another root than the one before it, and where that is. */
  let other: Ahead = { chord: after, where: undefined };
  for (let p = played.length - 1; p >= 0; p--) {
    const it = played[p] as Played;
    const next = played[p + 1];
    const following = next === undefined ? after : next.event.chord;
    if (following !== undefined && !sharesRoot(following, it.event.chord)) {
      other = { chord: following, where: whereIs(it, next, section.bars) };
    }
    const isOnward = other.chord !== undefined && !sharesRoot(other.chord, it.event.chord);
    const found = isOnward ? other : { chord: undefined, where: undefined };
    const ways = ahead[it.event.index] as Ahead[];
    if (!ways.some((way) => way.chord === found.chord && way.where === found.where)) ways.unshift(found);
  }
  return ahead;
}

/** A chord as it is struck in one of the passes. */
interface Played {
  readonly event: ChordEvent;
  /** How often a repeat has gone back before it. */
  readonly backs: number;
}

/** The chords as they are played. Going back once shows all the ways there are, so no repeat is played more than twice. */
function inOrder({ bars, chords }: Section): readonly Played[] {
  if (!bars.some(({ repeat }) => repeat.end)) return chords.map((event) => ({ event, backs: 0 }));
  const byBar = new Map<number, ChordEvent[]>();
  for (const event of chords) byBar.set(event.bar, [...(byBar.get(event.bar) ?? []), event]);
  const played: Played[] = [];
  let backs = 0;
  for (const { bar, entered } of writtenOut(bars, 2)) {
    if (!entered) backs++;
    // A pickup doesn't sound where a repeat goes back.
    for (const event of byBar.get(bar.index) ?? [])
      if (entered || !event.pickup) played.push({ event, backs });
  }
  return played;
}

/** Where the next chord stands, seen from the one before it; `next` is `undefined` behind the section's end. */
function whereIs(from: Played, next: Played | undefined, bars: readonly Bar[]): Where | undefined {
  if (next !== undefined && next.backs > from.backs) return "start of the repeat";
  const start = from.event.bar;
  const end = next?.event.bar ?? bars.length;
  const entered = bars.slice(start + 1, end + 1);
  if (entered.some(({ repeat }) => repeat.ending === 2)) return "second ending";
  if (bars.slice(start, end).some(({ repeat }) => repeat.end)) return "after the repeat";
  return entered.some(({ repeat }) => repeat.ending === 1) ? "first ending" : undefined;
}

/** Whether two chords stand on one root, under whatever name. */
export const sharesRoot = (a: Chord, b: Chord): boolean => pitchClass(a.root) === pitchClass(b.root);
