import type { PageView } from "../exports/page-data.js";
import type { Song, SongNote } from "./song.js";
import { type Timing, tiny } from "./timing.js";

/** What the rows of a system play before its first bar. */
export interface Pickup {
  /** Where its first note starts, in seconds of the song. */
  readonly at: number;
  readonly notes: ReadonlySet<SongNote>;
}

/** The pickups of a song, by the index of the performed bar that each leads into. What is comped has none. */
export function pickupsOf(
  view: PageView,
  timing: Timing,
  notes: readonly SongNote[],
): ReadonlyMap<number, Pickup> {
  const barOfSlot = new Map<number, number>();
  for (const { systems } of view.sections) {
    for (const { bar, pickup, cells } of systems.flatMap(({ bars }) => bars)) {
      if (!pickup) continue;
      for (const cell of cells.flat()) if ("slot" in cell) barOfSlot.set(cell.slot, bar);
    }
  }
  const found = new Map<number, { at: number; notes: Set<SongNote> }>();
  if (barOfSlot.size === 0) return found;
  const { bars } = view.sound;
  const slots = new Map(view.sound.parts.map(({ name, slot }) => [name, slot]));
  for (const note of notes) {
    const slot = slots.get(note.part)?.[note.index] ?? -1;
    const wanted = barOfSlot.get(slot);
    if (wanted === undefined) continue;
    const section = view.slots[slot]?.section;
    let into = timing.barAt(note.at);
    while (
      into < bars.bar.length &&
      !(
        (timing.starts[into] as number) > note.at + tiny &&
        bars.bar[into] === wanted &&
        bars.section[into] === section
      )
    )
      into++;
    if (into === bars.bar.length) continue;
    const there = found.get(into);
    if (there === undefined) found.set(into, { at: note.at, notes: new Set([note]) });
    else there.notes.add(note);
  }
  return found;
}

/** From where on something is played. */
export interface Entry {
  /** Seconds of the song. */
  readonly from: number;
  /** Up to this performed bar nothing sounds but the pickup into it; `undefined` where everything does. */
  readonly into: number | undefined;
}

/** How to begin at a place: who begins where a bar does plays the pickup into it first. */
export function entryAt({ timing, notes, pickups }: Song, place: number): Entry {
  const bar = timing.barAt(place + tiny);
  const start = timing.starts[bar];
  const whole: Entry = { from: place, into: undefined };
  if (start === undefined || Math.abs(start - place) > tiny) return whole;
  // Before the first bar line there is nothing but pickups.
  if (bar === 0) return { ...whole, from: Math.min(place, notes[0]?.at ?? place) };
  const pickup = pickups.get(bar);
  return pickup === undefined ? whole : { from: pickup.at, into: bar };
}
