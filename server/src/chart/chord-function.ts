import type { Chord } from "../theory/chord.js";
import { functionOf, type HarmonicFunction } from "../theory/harmonic-function.js";
import type { Chart, ChordEvent, Moved, PlacedSection, Section } from "./model.js";
import { unfold } from "./unfold.js";

/** What follows the last chord of a section, as seen from the section as printed; `undefined` where nothing does. */
export type Following = ReadonlyMap<PlacedSection, Chord>;

/** For each section the first chord of what is played after it the first time. */
export function followingOf(chart: Chart): Following {
  const following = new Map<PlacedSection, Chord>();
  const waiting = new Map<PlacedSection, Moved>();
  let before: { readonly section: PlacedSection; readonly moved: Moved } | undefined;
  for (const { section, bar, moved } of unfold(chart).bars) {
    if (before !== undefined && (before.section !== section || bar.index === 0)) {
      if (!following.has(before.section)) waiting.set(before.section, before.moved);
    }
    const first = section.section.chords[0];
    if (first !== undefined && first.bar === bar.index) {
      for (const [earlier, then] of waiting) {
        if (!following.has(earlier))
          following.set(earlier, seenFrom(earlier, then, section, moved, first.chord));
      }
      waiting.clear();
    }
    before = { section, moved };
  }
  return following;
}

/** A chord of the later section, spelled as if the earlier one stood where it is printed. */
function seenFrom(
  earlier: PlacedSection,
  then: Moved,
  later: PlacedSection,
  now: Moved,
  chord: Chord,
): Chord {
  const gone = ({ section }: PlacedSection, { key }: Moved): number => key.tonic - section.start.key.tonic;
  const by = gone(later, now) - gone(earlier, then);
  if (by === 0) return chord;
  return { ...chord, root: chord.root + by, bass: chord.bass === undefined ? undefined : chord.bass + by };
}

/**
 * What a chord of a section does in its key, judged by the next chord on another root: an A7 that goes on as A7b9
 * still goes to its D.
 */
export function functionIn(section: Section, event: ChordEvent, after: Chord | undefined): HarmonicFunction {
  return functionOf(event.chord, event.key, nextChord(section, event) ?? after);
}

function nextChord({ chords }: Section, { index, chord }: ChordEvent): Chord | undefined {
  for (let i = index + 1; i < chords.length; i++) {
    const next = (chords[i] as ChordEvent).chord;
    if (next.root !== chord.root) return next;
  }
  return undefined;
}
