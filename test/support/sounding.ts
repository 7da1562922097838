import type { Chart, Section } from "../../server/src/chart/model.js";
import { unfold } from "../../server/src/chart/unfold.js";
import { chordSymbol } from "../../server/src/theory/chord.js";
import { printFraction } from "../../server/src/theory/fraction.js";
import { pitchClass } from "../../server/src/theory/note-name.js";

const rows = ["lead", "right", "left", "bass"] as const;

/** One sounding note or chord of a section: all that an ear could tell, and its key or root apart. */
export interface Heard {
  /** When, how long, in what row, how: all but the pitch. */
  readonly how: string;
  /** A MIDI number; of a chord its root as a key within the octave. */
  readonly pitch: number;
  /** The written name on the line of fifths. */
  readonly name: number;
  readonly bar: number;
}

/** Everything that sounds in a section as printed. */
export function heardIn(section: Section): readonly Heard[] {
  const heard: Heard[] = [];
  for (const row of rows) {
    for (const note of section.rows[row].notes) {
      const { at, length, hand, rolled, grace, pushed, pickup, bar, pitch } = note;
      const how = `${row} ${hand} ${printFraction(at)} ${printFraction(length)} ${rolled} ${grace} ${pushed} ${pickup}`;
      heard.push({ how, pitch: pitch.midi, name: pitch.fifths, bar });
    }
  }
  for (const { chord, at, length, bar, pickup } of section.chords) {
    const bass = chord.bass === undefined ? "root" : pitchClass(chord.bass - chord.root);
    const how = `chord ${chordSymbol({ ...chord, root: 0, bass: undefined })} ${bass} ${printFraction(at)} ${printFraction(length)} ${pickup}`;
    heard.push({ how, pitch: pitchClass(chord.root), name: chord.root, bar });
  }
  return heard;
}

/** The bars as they are played: which, and how far from where they are printed. */
export const playedBars = (chart: Chart): readonly string[] =>
  unfold(chart, 2000).bars.map(
    ({ section, bar, moved, verse, entered, vampEnds }) =>
      `${chart.sections.indexOf(section)} ${bar.index} ${moved.halfSteps} ${verse} ${entered} ${vampEnds}`,
  );

/** All that sounds, in one text: two charts that give the same are one to the ear. */
export function soundOf(chart: Chart): string {
  const sections = chart.sections.map(({ section }) => {
    const notes = heardIn(section).map(({ how, pitch }) => `${how} ${pitch}`);
    const bars = section.bars.map(
      ({ meter, cue, words }) =>
        `${meter.beats}/${meter.unit} ${cue} ${words.map(({ text, at, length, verse }) => `${verse} ${text} ${printFraction(at)} ${printFraction(length)}`)}`,
    );
    const tempi = section.systems.map(({ tempo, feel }) => `${tempo} ${feel}`);
    return [section.name, section.vamp, ...tempi, ...bars, ...notes].join("\n");
  });
  return [...sections, ...playedBars(chart)].join("\n\n");
}
