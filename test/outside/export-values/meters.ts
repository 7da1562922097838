import { bytesBehind, elementsOf, midiOf, scoreOf } from "./exported.js";
import { type ExportJudge, hex } from "./outside-value.js";

/**
 * Meters with the beat that primers count in them (the lower number; in 9/8 and its like a dotted quarter), the event
 * of Standard MIDI File 1.0 (beats, power of two of the lower number, clocks a beat of 24 to the quarter, eight 32nds
 * to the quarter), and how many quarters 60 beats are.
 */
const meters: ReadonlyArray<readonly [meter: string, event: string, beat: string, quarters: number]> = [
  ["2/4", "02 02 18 08", "quarter", 60],
  ["3/4", "03 02 18 08", "quarter", 60],
  ["4/4", "04 02 18 08", "quarter", 60],
  ["5/4", "05 02 18 08", "quarter", 60],
  ["6/4", "06 02 18 08", "quarter", 60],
  ["7/4", "07 02 18 08", "quarter", 60],
  ["2/2", "02 01 30 08", "half", 120],
  ["3/2", "03 01 30 08", "half", 120],
  ["4/2", "04 01 30 08", "half", 120],
  ["3/8", "03 03 0C 08", "eighth", 30],
  ["5/8", "05 03 0C 08", "eighth", 30],
  ["7/8", "07 03 0C 08", "eighth", 30],
  ["6/8", "06 03 24 08", "quarter.", 90],
  ["9/8", "09 03 24 08", "quarter.", 90],
  ["12/8", "0C 03 24 08", "quarter.", 90],
];

const chartIn = (meter: string): string => `time ${meter}\ntempo 60\nchords | 1 |\n`;

/** Those of the specification's own example and the hand table of midi-file-format are judged there. */
const handTable = new Set(["4/4", "6/8", "3/4", "12/8"]);

export const midiMeters: ExportJudge = {
  subject: "the time signature event of each meter",
  source: "Standard MIDI File 1.0 (RP-001), FF 58 04 nn dd cc bb, by its rule",
  values: meters
    .filter(([meter]) => !handTable.has(meter))
    .map(([meter, published]) => ({
      what: meter,
      published,
      given: () => hex(bytesBehind(midiOf(chartIn(meter)), "FF5804", 4)),
    })),
};

export const scoreBeats: ExportJudge = {
  subject: "the beat of each meter in a score's tempo",
  source: "W3C MusicXML 4.0, beat-unit and beat-unit-dot: note types; the beat as primers count it",
  values: meters.map(([meter, , published]) => ({
    what: meter,
    published,
    given: () => {
      const [metronome = ""] = elementsOf(scoreOf(chartIn(meter)), "metronome");
      return elementsOf(metronome, "beat-unit")[0] + (metronome.includes("<beat-unit-dot/>") ? "." : "");
    },
  })),
};

export const scoreTempos: ExportJudge = {
  subject: "sixty beats a minute of each meter, in a score",
  source: "W3C MusicXML 4.0, sound: “tempo is expressed in quarter notes per minute”",
  values: meters.map(([meter, , , quarters]) => ({
    what: meter,
    published: String(quarters),
    given: () => /<sound tempo="([^"]*)"/.exec(scoreOf(chartIn(meter)))?.[1],
  })),
};
