import { homeOne, shorterWay } from "../chart/home-octave.js";
import type { Chart, Moved, PlacedSection } from "../chart/model.js";
import { waysPlayed } from "../chart/played.js";
import { type Key, practicalKeys, scaleOf, signature } from "../theory/key.js";
import { pitchClass, plainFifths } from "../theory/note-name.js";
import { movePitch, type Pitch } from "../theory/pitch.js";

/** The lowest and the highest note of a melody. */
export interface Range {
  readonly lowest: Pitch;
  readonly highest: Pitch;
}

/** A key to sing in. */
export interface SingersKey {
  readonly key: Key;
  /** Sharps of its signature, flats negative. */
  readonly signature: number;
  /** How far the whole chart moves from where it is, in half steps: at most a tritone, unless it has been moved before. */
  readonly halfSteps: number;
  /** `undefined` where the chart has no melody. */
  readonly melody: Range | undefined;
}

/** The melody's lowest and highest note in all that the form plays, in the keys in which it plays it. */
export function melodyRange(chart: Chart): Range | undefined {
  let found: Range | undefined;
  for (const [placed, ways] of waysPlayed(chart)) {
    for (const moved of ways) found = wider(found, sectionRange(placed, moved));
  }
  return found && namedIn(chart.header.home.key, found);
}

/** The melody's range in one section, as printed or as it is played. */
export function sectionRange({ section }: PlacedSection, moved?: Moved): Range | undefined {
  const { lowest, highest, notes } = section.rows.lead;
  const low = notes.find(({ pitch }) => pitch.midi === lowest)?.pitch;
  const high = notes.find(({ pitch }) => pitch.midi === highest)?.pitch;
  if (low === undefined || high === undefined) return undefined;
  if (moved === undefined) return { lowest: low, highest: high };
  const fifths = moved.key.tonic - section.start.key.tonic;
  return moveRange({ lowest: low, highest: high }, fifths, moved.halfSteps);
}

const moveRange = ({ lowest, highest }: Range, fifths: number, halfSteps: number): Range => ({
  lowest: movePitch(lowest, fifths, halfSteps),
  highest: movePitch(highest, fifths, halfSteps),
});

/** The names that the notes have in a key: a section that is played elsewhere may have named them by another. */
const namedIn = (key: Key, { lowest, highest }: Range): Range => ({
  lowest: nameIn(key, lowest),
  highest: nameIn(key, highest),
});

function nameIn(key: Key, { fifths, midi }: Pitch): Pitch {
  const own = scaleOf(key).find((it) => pitchClass(it) === pitchClass(fifths));
  return { fifths: own ?? plainFifths(fifths), midi };
}

function wider(a: Range | undefined, b: Range | undefined): Range | undefined {
  if (a === undefined || b === undefined) return a ?? b;
  return {
    lowest: b.lowest.midi < a.lowest.midi ? b.lowest : a.lowest,
    highest: b.highest.midi > a.highest.midi ? b.highest : a.highest,
  };
}

/** The twelve practical keys that a chart can be moved to, from its present one up by half steps. */
export function singersKeys(chart: Chart): readonly SingersKey[] {
  const { home, original } = chart.header;
  const melody = melodyRange(chart);
  const { tonic, mode } = home.key;
  const written = original ?? tonic;
  const keys = practicalKeys(mode);
  const first = keys.findIndex((key) => pitchClass(key.tonic) === pitchClass(tonic));
  return keys.map((_, i) => {
    const target = keys[(first + i) % keys.length] as Key;
    // The present key keeps its own name, also where another is more usual.
    const key = i === 0 ? home.key : target;
    const halfSteps = homeOne(written) + shorterWay(written, key.tonic) - home.one;
    return {
      key,
      signature: signature(key),
      halfSteps,
      melody: melody && namedIn(key, moveRange(melody, key.tonic - tonic, halfSteps)),
    };
  });
}
