import { bytesBehind, midiOf, strokesOf } from "./exported.js";
import type { ExportJudge } from "./outside-value.js";

// The marks of Maelzel's metronome, as they are printed on its scale; those of the hand table of midi-file-format
// (references, 6.3) are judged there. Beside each what Standard MIDI File 1.0 says of it: 60,000,000 / tempo.
const marks: ReadonlyArray<readonly [tempo: number, microseconds: number]> = [
  [40, 1_500_000],
  [42, 1_428_571],
  [44, 1_363_636],
  [46, 1_304_348],
  [48, 1_250_000],
  [50, 1_200_000],
  [52, 1_153_846],
  [54, 1_111_111],
  [56, 1_071_429],
  [58, 1_034_483],
  [63, 952_381],
  [69, 869_565],
  [84, 714_286],
  [88, 681_818],
  [92, 652_174],
  [104, 576_923],
  [108, 555_556],
  [116, 517_241],
  [126, 476_190],
  [138, 434_783],
  [144, 416_667],
  [152, 394_737],
  [168, 357_143],
  [176, 340_909],
  [184, 326_087],
  [192, 312_500],
  [200, 300_000],
  [208, 288_462],
];

const microseconds = (chart: string): number =>
  bytesBehind(midiOf(chart), "FF5103", 3).reduce((sum, byte) => sum * 256 + byte, 0);

export const midiTempos: ExportJudge = {
  subject: "microseconds a quarter note of each mark of the metronome",
  source: "Maelzel's metronome scale; Standard MIDI File 1.0 (RP-001), FF 51 03, by its rule",
  values: marks.map(([tempo, published]) => ({
    what: `${tempo} a minute`,
    published,
    given: () => microseconds(`tempo ${tempo}\nlead | C4 |\n`),
  })),
};

/** Milliseconds of the first note of a row in 4/4, as a player of the file counts them, of 480 ticks to the quarter. */
function milliseconds(tempo: number, row: string): number {
  const chart = `tempo ${tempo}\nlead | ${row} |\n`;
  const [division = 0, low = 0] = bytesBehind(midiOf(chart), "4D546864 00000006 0001 0002", 2);
  const length = strokesOf(chart)[0]?.length ?? 0;
  return Math.round((length * microseconds(chart)) / (division * 256 + low) / 1000);
}

export const noteTimes: ExportJudge = {
  subject: "milliseconds of a note",
  source:
    "schwabmusic.com/tap-tempo, durations at 120; Yamaha, FAQ 2602, delay time of a note: an eighth at 100",
  values: (
    [
      ["whole note", 120, "C4", 2000],
      ["half note", 120, "C4 D4", 1000],
      ["quarter note", 120, "C4 D4 E4 F4", 500],
      ["eighth note", 120, "(C4 D4) r r r", 250],
      ["sixteenth note", 120, "(C4 D4 E4 F4) r r r", 125],
      ["triplet quarter note", 120, "(C4 D4 E4) r", 333],
      ["triplet eighth note", 120, "(C4 D4 E4) r r r", 167],
      ["triplet sixteenth note", 120, "((C4 D4 E4) r) r r r", 83],
      ["eighth note", 100, "(C4 D4) r r r", 300],
    ] as const
  ).map(([note, tempo, row, published]) => ({
    what: `${note} at ${tempo}`,
    published,
    given: () => milliseconds(tempo, row),
  })),
};
