import { parseMidi } from "midi-file";
import { bytesBehind, midiOf, pedalledMidiOf, printOf, scoreOf } from "./exported.js";
import { type ExportJudge, hex } from "./outside-value.js";

const chart =
  "title Kite\nsection Tide\nchords | 1 |\nlead | C4 |\nwords | lo |\n\nsection Reef\nchords | 4 |\n\nform Tide Reef\n";
const behind = (start: string, count: number): string => hex(bytesBehind(midiOf(chart), start, count));

export const midiBytes: ExportJudge = {
  subject: "bytes of a MIDI file",
  source:
    "Standard MIDI File 1.0 (RP-001), chunks and meta events; MIDI 1.0, messages and controllers; General MIDI 1",
  values: [
    { what: "it starts with MThd", published: "4D 54 68 64", given: () => hex(midiOf(chart).subarray(0, 4)) },
    { what: "the header is six bytes", published: "00 00 00 06", given: () => behind("4D546864", 4) },
    {
      what: "tracks that sound together are format 1",
      published: "00 01",
      given: () => behind("4D546864 00000006", 2),
    },
    {
      what: "the first track starts with MTrk",
      published: "4D 54 72 6B",
      given: () => hex(midiOf(chart).subarray(14, 18)),
    },
    { what: "end of track", published: "FF 2F 00", given: () => hex(midiOf(chart).subarray(-3)) },
    {
      what: "sequence name, at the first track's start",
      published: "00 FF 03 04",
      given: () => beforeText("Kite", 4),
    },
    { what: "marker, of a section's name", published: "FF 06 04", given: () => beforeText("Tide", 3) },
    { what: "lyric", published: "FF 05 02", given: () => beforeText("lo", 3) },
    { what: "damper pedal on: controller 64 at 64 to 127", published: "40 7F", given: () => pedalBytes(0) },
    { what: "damper pedal off: controller 64 at 0 to 63", published: "40 00", given: () => pedalBytes(1) },
    {
      what: "acoustic grand piano, program 1, on channel 1",
      published: "C0 00",
      given: () => hex(bytesFrom("C0", 2)),
    },
    { what: "note on, middle C, on channel 1", published: "90 3C", given: () => hex(bytesFrom("903C", 2)) },
  ],
};

/** The number and value of the controllers of a file, one after the other. */
function pedalBytes(i: number): string {
  const events = parseMidi(pedalledMidiOf(chart)).tracks.flat();
  const set = events.flatMap((it) => (it.type === "controller" ? [[it.controllerType, it.value]] : []));
  return hex(set[i] ?? []);
}

const midiText = (text: string): string => Buffer.from(midiOf(text)).toString("latin1");

function beforeText(word: string, count: number): string {
  const file = midiOf(chart);
  const at = midiText(chart).indexOf(word);
  return at < 0 ? "" : hex(file.subarray(at - count, at));
}

function bytesFrom(start: string, count: number): readonly number[] {
  const file = midiOf(chart);
  const at = Buffer.from(file).indexOf(Buffer.from(start, "hex"));
  return at < 0 ? [] : [...file.subarray(at, at + count)];
}

// RFC 3629, section 7, without the byte order mark of its last example.
const utf8: ReadonlyArray<readonly [text: string, bytes: string]> = [
  ["A\u2262\u0391.", "41 E2 89 A2 CE 91 2E"],
  ["\ud55c\uad6d\uc5b4", "ED 95 9C EA B5 AD EC 96 B4"],
  ["\u65e5\u672c\u8a9e", "E6 97 A5 E6 9C AC E8 AA 9E"],
  ["\u{233b4}", "F0 A3 8E B4"],
];

export const utf8Titles: ExportJudge = {
  subject: "a title's bytes in a MIDI file",
  source: "RFC 3629 (UTF-8), section 7, examples",
  values: utf8.map(([title, published]) => ({
    what: title,
    published,
    given: () => {
      const count = published.split(" ").length;
      return hex(
        bytesBehind(
          midiOf(`title ${title}\nlead | C4 |\n`),
          `FF03 ${hex([count])}`.replaceAll(" ", ""),
          count,
        ),
      );
    },
  })),
};

export const xmlEntities: ExportJudge = {
  subject: "signs of XML in a title",
  source: "W3C XML 1.0, section 4.6, predefined entities",
  values: (
    [
      ["&", "&amp;"],
      ["<", "&lt;"],
      [">", "&gt;"],
    ] as const
  ).map(([sign, published]) => ({
    what: sign,
    published,
    given: () => /<work-title>A (.*) B<\/work-title>/.exec(scoreOf(`title A ${sign} B\nlead | C4 |\n`))?.[1],
  })),
};

export const paperSizes: ExportJudge = {
  subject: "the size of a printed page in points",
  source:
    "ISO 216, A4: 595.28 x 841.89, to whole points as in PostScript printer descriptions; US Letter: 8.5 x 11 inches",
  values: (
    [
      ["a4", "595 842"],
      ["letter", "612 792"],
    ] as const
  ).map(([paper, published]) => ({
    what: paper,
    published,
    given: () => /\/MediaBox \[ 0 0 (\S+ \S+) \]/.exec(printOf(chart, { paper }))?.[1],
  })),
};
