import { type HarmonyEntry, type Measure, type NoteEntry, parse } from "musicxml-io";
import {
  compare,
  type Fraction,
  fraction,
  minus,
  plus,
  printFraction,
  zero,
} from "../../server/src/theory/fraction.js";
import { readName } from "../../server/src/theory/note-name.js";
import { pitchAt, pitchName } from "../../server/src/theory/pitch.js";

/** A note as a player of the score sounds it: ties joined, repeats and endings played. Times count from bar 1. */
export interface ReadNote {
  readonly at: Fraction;
  end: Fraction;
  readonly pitch: string;
  readonly midi: number;
  readonly rolled: boolean;
}

/** A tone that slips into another, which is struck at this time. */
export interface ReadGrace {
  readonly at: Fraction;
  readonly pitch: string;
}

export interface ReadChord {
  readonly at: Fraction;
  /** `undefined` from where on no chord sounds. */
  readonly chord: HarmonyEntry | undefined;
}

/** A bar as it is played. */
export interface ReadBar {
  readonly at: Fraction;
  readonly length: Fraction;
  readonly fifths: number;
  readonly mode: string;
  readonly time: string;
  /** Quarters a minute. */
  readonly tempo: number;
}

export interface ReadScore {
  /** The notes of each staff: `Lead`, `Piano 1` (the upper), `Piano 2`, `Bass`. */
  readonly staves: ReadonlyMap<string, readonly ReadNote[]>;
  readonly graces: ReadonlyMap<string, readonly ReadGrace[]>;
  /** In letters, and where they end. */
  readonly chords: readonly ReadChord[];
  /** `word time`, a `-` behind a syllable whose word goes on; also those that stand under no note. */
  readonly words: readonly string[];
  readonly bars: readonly ReadBar[];
  /** As printed. */
  readonly measures: number;
}

interface State {
  divisions: number;
  fifths: number;
  mode: string;
  time: string;
  staves: number;
  tempo: number;
}

/**
 * A score as npm musicxml-io reads it, played by the signs that stand in it. Throws where a voice doesn't fill its
 * bar, a bar differs in length between parts, or a tie starts or ends at nothing.
 */
export function readScore(text: string): ReadScore {
  const score = parse(text);
  const staves = new Map<string, ReadNote[]>();
  const graces = new Map<string, ReadGrace[]>();
  const chords: ReadChord[] = [];
  const words: string[] = [];
  const bars: ReadBar[] = [];
  const lengths: string[][] = [];
  score.parts.forEach((part, index) => {
    const entry = score.partList[index];
    const name = entry?.type === "score-part" ? (entry.name ?? "") : "";
    const divisions: number[] = [];
    let now = 1;
    for (const measure of part.measures) {
      now = measure.attributes?.divisions ?? now;
      divisions.push(now);
    }
    const state: State = { divisions: 1, fifths: 0, mode: "", time: "", staves: 1, tempo: 0 };
    const open = new Map<string, ReadNote>();
    let at = zero;
    const order = playingOrder(part.measures);
    const upbeats = order
      .filter((i) => part.measures[i]?.implicit)
      .map((i) => lengthOf(part.measures[i] as Measure, divisions[i] as number));
    for (const length of upbeats) at = minus(at, length);
    lengths.push([]);
    for (const i of order) {
      const measure = part.measures[i] as Measure;
      readAttributes(measure, state);
      state.divisions = divisions[i] as number;
      const length = lengthOf(measure, state.divisions);
      const [beats = 4, unit = 4] = state.time.split("/").map(Number);
      const whole = fraction(beats, unit);
      if (!measure.implicit && compare(length, whole) !== 0)
        throw new Error(`bar ${measure.number} of ${name} lasts ${printFraction(length)}, not ${state.time}`);
      lengths.at(-1)?.push(printFraction(length));
      readMeasure(measure, state, at, { name, staves, graces, chords, words, open });
      if (index === 0 && !measure.implicit)
        bars.push({
          at,
          length,
          fifths: state.fifths,
          mode: state.mode,
          time: state.time,
          tempo: state.tempo,
        });
      at = plus(at, length);
    }
    if (open.size > 0) throw new Error(`ties to nothing: ${[...open.keys()].join(", ")}`);
  });
  if (lengths.some((it) => it.join() !== lengths[0]?.join())) throw new Error("parts of different length");
  return { staves, graces, chords, words, bars, measures: score.parts[0]?.measures.length ?? 0 };
}

/** The measures as they are played: repeats as often as they say, and of the endings the one of each time. */
function playingOrder(measures: readonly Measure[]): readonly number[] {
  const order: number[] = [];
  let start = 0;
  let pass = 1;
  const barline = (i: number, location: "left" | "right") =>
    measures[i]?.barlines?.find((it) => it.location === location);
  for (let i = 0; i < measures.length; ) {
    const left = barline(i, "left");
    if (left?.repeat?.direction === "forward" && i !== start) {
      start = i;
      pass = 1;
    }
    if (left?.ending?.type === "start" && !numbersOf(left.ending.number).includes(pass)) {
      while (barline(i, "right")?.ending === undefined) i++;
      i++;
      continue;
    }
    order.push(i);
    const right = barline(i, "right");
    if (right?.repeat?.direction === "backward") {
      const times = right.ending === undefined ? (right.repeat.times ?? 2) : Number.POSITIVE_INFINITY;
      if (pass < times) {
        pass++;
        i = start;
        continue;
      }
      pass = 1;
      start = i + 1;
    }
    if (right?.ending?.type === "discontinue") pass = 1;
    i++;
  }
  return order;
}

const numbersOf = (text: string): readonly number[] => text.split(",").map(Number);

function readAttributes({ attributes }: Measure, state: State): void {
  if (attributes?.key !== undefined) {
    state.fifths = attributes.key.fifths;
    state.mode = attributes.key.mode ?? "";
  }
  if (attributes?.time !== undefined) state.time = `${attributes.time.beats}/${attributes.time.beatType}`;
  state.staves = attributes?.staves ?? state.staves;
}

/** The time that each voice fills; throws where one fills more or less than another. */
function lengthOf(measure: Measure, divisions: number): Fraction {
  const voices = new Map<string, number>();
  for (const entry of measure.entries) {
    if (entry.type !== "note" || entry.chord || entry.grace) continue;
    const voice = entry.voice ?? "";
    voices.set(voice, (voices.get(voice) ?? 0) + entry.duration);
  }
  const [first = 0, ...others] = voices.values();
  if (others.some((it) => it !== first)) throw new Error(`voices of bar ${measure.number} differ in length`);
  return fraction(first, 4 * divisions);
}

interface Reading {
  readonly name: string;
  readonly staves: Map<string, ReadNote[]>;
  readonly graces: Map<string, ReadGrace[]>;
  readonly chords: ReadChord[];
  readonly words: string[];
  readonly open: Map<string, ReadNote>;
}

function readMeasure(measure: Measure, state: State, start: Fraction, reading: Reading): void {
  const { name, chords, words } = reading;
  let position = 0;
  let last = 0;
  const timeOf = (ticks: number): Fraction => plus(start, fraction(ticks, 4 * state.divisions));
  for (const entry of measure.entries) {
    if (entry.type === "backup") position -= entry.duration;
    else if (entry.type === "forward") position += entry.duration;
    else if (entry.type === "harmony") {
      // Numerals stand below; this reader doesn't know them.
      if (entry.kind === "none")
        chords.push({ at: timeOf(position + (entry.offset ?? 0)), chord: undefined });
      else if (entry.placement === "above")
        chords.push({ at: timeOf(position + (entry.offset ?? 0)), chord: entry });
    } else if (entry.type === "sound") state.tempo = entry.tempo ?? state.tempo;
    else if (entry.type === "direction") {
      state.tempo = entry.sound?.tempo ?? state.tempo;
      for (const type of entry.directionTypes)
        if (type.kind === "words" && entry.placement === "below")
          words.push(`${type.text} ${printFraction(timeOf(position + (entry.offset ?? 0)))}`);
    } else if (entry.type === "note") {
      const staff = state.staves > 1 ? `${name} ${entry.staff}` : name;
      const notes = reading.staves.get(staff) ?? [];
      reading.staves.set(staff, notes);
      if (entry.grace) {
        const slipped = reading.graces.get(staff) ?? [];
        reading.graces.set(staff, slipped);
        slipped.push({ at: timeOf(position), pitch: nameOf(entry) });
        continue;
      }
      const at = entry.chord ? last : position;
      if (!entry.chord) {
        last = position;
        position += entry.duration;
      }
      if (entry.pitch !== undefined)
        soundNote(entry, timeOf(at), timeOf(at + entry.duration), notes, staff, reading.open);
      for (const lyric of entry.lyrics ?? []) {
        const parted = lyric.syllabic === "begin" || lyric.syllabic === "middle";
        words.push(`${lyric.text}${parted ? "-" : ""} ${printFraction(timeOf(at))}`);
      }
    }
  }
}

const nameOf = ({ pitch }: NoteEntry): string => (pitch === undefined ? "" : pitchName(pitchOf(pitch)));

const pitchOf = ({ step, alter = 0, octave }: NonNullable<NoteEntry["pitch"]>) =>
  pitchAt((readName(step) ?? 0) + 7 * alter, octave);

function soundNote(
  entry: NoteEntry,
  at: Fraction,
  end: Fraction,
  notes: ReadNote[],
  staff: string,
  open: Map<string, ReadNote>,
): void {
  const pitch = nameOf(entry);
  const ties = (entry.ties ?? (entry.tie === undefined ? [] : [entry.tie])).map(({ type }) => type);
  const place = `${staff} ${pitch} ${printFraction(at)}`;
  let note = open.get(place);
  if (ties.includes("stop")) {
    if (note === undefined) throw new Error(`a tie from nothing: ${place}`);
    open.delete(place);
    note.end = end;
  } else {
    if (note !== undefined) throw new Error(`a tie that nobody goes on with: ${place}`);
    const midi = entry.pitch === undefined ? 0 : pitchOf(entry.pitch).midi;
    const rolled = entry.notations?.some(({ type }) => type === "arpeggiate") ?? false;
    note = { at, end, pitch, midi, rolled };
    notes.push(note);
  }
  if (ties.includes("start")) open.set(`${staff} ${pitch} ${printFraction(end)}`, note);
}
