import type { Note, PlacedSection } from "../chart/model.js";
import { numberInChord } from "../chart/number-in-chord.js";
import { visible } from "../text/visible.js";
import { chordNumber, prettyQuality } from "../theory/chord.js";
import { compare, type Fraction } from "../theory/fraction.js";
import type { ToneNumber } from "../theory/tone-number.js";
import type { PartView, SoundView } from "./page-data.js";
import type { Part, Performance, PlayedChord, PlayedNote } from "./performance.js";

/** A performance as lists. `slotOf` says in which slot of the page a printed note is struck. */
export function soundView(
  { bars, parts, chords, words, length }: Performance,
  places: ReadonlyMap<PlacedSection, number>,
  slotOf: ReadonlyMap<Note, number>,
): SoundView {
  return {
    bars: {
      ...times(bars),
      section: bars.map(({ section }) => places.get(section) ?? 0),
      bar: bars.map(({ bar }) => bar),
      verse: bars.map(({ verse }) => verse),
      enters: bars.map(({ enters }) => (enters ? 1 : 0)),
      beats: bars.map(({ meter }) => meter.beats),
      unit: bars.map(({ meter }) => meter.unit),
      tempo: bars.map(({ tempo }) => tempo),
      tonic: bars.map(({ key }) => key.tonic),
      mode: bars.map(({ key }) => key.mode),
    },
    parts: parts.map((part) => partView(part, slotOf, chords)),
    chords: {
      ...times(chords),
      root: chords.map(({ chord }) => chord.root),
      bass: chords.map(({ chord }) => chord.bass ?? null),
      quality: chords.map(({ chord }) => prettyQuality(chord.quality.symbol)),
    },
    words: {
      n: words.map(({ at }) => at.n),
      d: words.map(({ at }) => at.d),
      text: words.map(({ text }) => visible(text)),
    },
    n: length.n,
    d: length.d,
  };
}

interface Spell {
  readonly at: Fraction;
  readonly length: Fraction;
}

const times = (all: readonly Spell[]) => ({
  n: all.map(({ at }) => at.n),
  d: all.map(({ at }) => at.d),
  ln: all.map(({ length }) => length.n),
  ld: all.map(({ length }) => length.d),
});

function partView(
  { name, notes }: Part,
  slotOf: ReadonlyMap<Note, number>,
  chords: readonly PlayedChord[],
): PartView {
  let next = 0;
  /** The number in the chord that the note's row counts from; what is made up counts from the chord that sounds. */
  const numberOf = ({ at, pitch, source: { note } }: PlayedNote): ToneNumber | undefined => {
    if (note !== undefined) return note.chord && numberInChord(note.chord.chord, note);
    while (next < chords.length && compare((chords[next] as PlayedChord).at, at) <= 0) next++;
    const chord = chords[next - 1]?.chord;
    return chord && chordNumber(chord, pitch.fifths);
  };
  const numbers = notes.map(numberOf);
  return {
    name,
    ...times(notes),
    fifths: notes.map(({ pitch }) => pitch.fifths),
    midi: notes.map(({ pitch }) => pitch.midi),
    loudness: notes.map(({ loudness }) => loudness),
    grace: notes.map(({ grace }) => (grace ? 1 : 0)),
    slot: notes.map(({ source: { note } }) => (note === undefined ? -1 : (slotOf.get(note) ?? -1))),
    moved: notes.map(({ pitch, source: { note } }) =>
      note === undefined ? 0 : pitch.midi - note.pitch.midi,
    ),
    number: numbers.map((it) => it?.number ?? 0),
    alter: numbers.map((it) => it?.alter ?? 0),
  };
}
