import { bytesBehind, elementsOf, midiOf, scoreOf } from "./exported.js";
import { type ExportJudge, hex } from "./outside-value.js";

// The circle of fifths: tonics from seven flats to seven sharps.
const major = "Cb Gb Db Ab Eb Bb F C G D A E B F# C#".split(" ");
const minor = "Ab Eb Bb F C G D A E B F# C# G# D# A#".split(" ");
const keys = [
  ...major.map((tonic, i) => ({ key: `${tonic} major`, sharps: i - 7, mode: "major" })),
  ...minor.map((tonic, i) => ({ key: `${tonic} minor`, sharps: i - 7, mode: "minor" })),
];

// The modes on C, from bright to dark: lydian has a sharp more than ionian, each other one a flat more than the one
// before it.
const modesOnC = "lydian ionian mixolydian dorian aeolian phrygian locrian"
  .split(" ")
  .map((mode, i) => ({ key: `C ${mode}`, sharps: 1 - i, mode }));

const chartIn = (key: string): string => `key ${key}\nchords | 1 |\nlead | 1 |\n`;

/** Standard MIDI File 1.0: sf = -7 is 7 flats, 7 is 7 sharps, as a signed byte; mi = 0 is major, 1 minor. */
const sign = (sharps: number): number => (sharps < 0 ? 256 + sharps : sharps);

/** Those of the hand table in key-signatures and midi-file-format are judged there. */
const handTable = new Set([
  "C major",
  "Bb major",
  "Db major",
  "Gb major",
  "F# major",
  "Cb major",
  "C# minor",
]);

export const midiKeySignatures: ExportJudge = {
  subject: "the key signature event of each key",
  source: "Standard MIDI File 1.0 (RP-001), FF 59 02 sf mi, for the circle of fifths",
  values: keys
    .filter(({ key }) => !handTable.has(key))
    .map(({ key, sharps, mode }) => ({
      what: key,
      published: hex([sign(sharps), mode === "minor" ? 1 : 0]),
      given: () => hex(bytesBehind(midiOf(chartIn(key)), "FF5902", 2)),
    })),
};

export const midiModeSignatures: ExportJudge = {
  subject: "the number of sharps in the key signature event of each church mode on C",
  source: "Glarean's modes by their brightness, in the sf byte of Standard MIDI File 1.0 (RP-001)",
  values: modesOnC.map(({ key, sharps }) => ({
    what: key,
    published: hex([sign(sharps)]),
    given: () => hex(bytesBehind(midiOf(chartIn(key)), "FF5902", 1)),
  })),
};

export const scoreKeySignatures: ExportJudge = {
  subject: "the fifths of each key in a score",
  source: "W3C MusicXML 4.0, fifths: “negative numbers are used for flats and positive numbers for sharps”",
  values: [...keys, ...modesOnC].map(({ key, sharps }) => ({
    what: key,
    published: String(sharps),
    given: () => elementsOf(scoreOf(chartIn(key)), "fifths")[0],
  })),
};

export const scoreModes: ExportJudge = {
  subject: "the mode of a key in a score",
  source:
    "W3C MusicXML 4.0, mode: “major, minor, dorian, phrygian, lydian, mixolydian, aeolian, ionian, locrian”",
  values: ["C major", "C minor", ...modesOnC.map(({ key }) => key)].map((key) => ({
    what: key,
    published: key.split(" ")[1] as string,
    given: () => elementsOf(scoreOf(chartIn(key)), "mode")[0],
  })),
};
