import { type MidiEvent, parseMidi } from "midi-file";
import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { keysOf, midiFile } from "../../server/src/exports/midi.js";
import { type PerformanceOptions, type PlayedNote, perform } from "../../server/src/exports/performance.js";
import { strokesOf } from "../support/played-keys.js";
import { performed } from "./hear.js";

/** Each track's events with their ticks, as npm midi-file reads them. */
function tracksOf(text: string, options?: PerformanceOptions, program?: number) {
  const file = midiFile(performed(text, options), program === undefined ? {} : { program });
  return parseMidi(file).tracks.map((events) => {
    let tick = 0;
    return events.map((event) => {
      tick += event.deltaTime;
      return { tick, event };
    });
  });
}

const named = (type: MidiEvent["type"]) => (it: { readonly event: MidiEvent }) => it.event.type === type;

describe("a MIDI file", () => {
  test("has a track for name, tempo, meter, key, sections and words, then one for each part", () => {
    const tracks = tracksOf(`
      title Low Tide
      key Bb
      tempo 72
      section Verse
      lead  | 1 2 |
      words | slow wa- |
      left  | C |
      section Tag
      time 3/4
      tempo 60
      left  | C |
      form Verse Tag up half
    `);
    const said = (tracks[0] ?? []).map(({ tick, event }) => `${tick} ${event.type}`);
    expect(said).toEqual([
      "0 trackName",
      "0 timeSignature",
      "0 keySignature",
      "0 setTempo",
      "0 marker",
      "0 lyrics",
      "960 lyrics",
      "1920 timeSignature",
      "1920 keySignature",
      "1920 setTempo",
      "1920 marker",
      "3360 endOfTrack",
    ]);
    const names = tracks.map((track) =>
      track.map(({ event }) => event).find(({ type }) => type === "trackName"),
    );
    expect(names.map((it) => (it?.type === "trackName" ? it.text : ""))).toEqual([
      "Low Tide",
      "Lead",
      "Left hand",
    ]);
  });

  test("lets a key up before it is struck again, at the same tick", () => {
    const [, right] = tracksOf("key C\nright | C = |\n");
    const notes = (right ?? []).filter(({ event }) => event.type === "noteOn" || event.type === "noteOff");
    expect(notes.map(({ tick, event }) => `${tick} ${event.type}`)).toEqual([
      "0 noteOn",
      "960 noteOff",
      "960 noteOn",
      "1920 noteOff",
    ]);
  });

  test("never adds a rounding to another: sevenths of a beat end on their bar line, whatever came before", () => {
    const bar = "C D E F G A B";
    const [, right] = tracksOf(
      `key C\nright | ${Array.from({ length: 50 }, () => `(${bar}) (${bar})`).join(" | ")} |`,
    );
    const starts = (right ?? []).filter(named("noteOn")).map(({ tick }) => tick);
    starts.forEach((tick, i) => {
      expect(Math.abs(tick - (i * 1920) / 14)).toBeLessThanOrEqual(0.5);
    });
    expect(starts.length).toBe(700);
  });

  test("has the sound that is asked for, and no pedal for an organ", () => {
    const chart = "key C\nchords | 1 4 |\nright | 3+5 |\nlead | 1 |\n";
    const programs = (program?: number): number[] =>
      tracksOf(chart, { pedal: true }, program)
        .flat()
        .flatMap(({ event }) => (event.type === "programChange" ? [event.programNumber] : []));
    const pedals = (program?: number): string[] =>
      tracksOf(chart, { pedal: true }, program)
        .flat()
        .flatMap(({ tick, event }) =>
          event.type === "controller"
            ? [`${tick} ${event.channel} ${event.controllerType} ${event.value}`]
            : [],
        );
    expect(programs()).toEqual([0, 0]);
    expect(programs(19)).toEqual([19, 19]);
    expect(pedals()).toEqual(["0 1 64 127", "960 1 64 0", "960 1 64 127", "1920 1 64 0"]);
    expect(pedals(19)).toEqual([]);
  });
});

describe("strokes of keys", () => {
  const source = performed("key C\nright | C |").parts[0]?.notes[0]?.source as PlayedNote["source"];
  const note = (midi: number, n: number, length: number, loudness = 80): PlayedNote => ({
    at: { n, d: 16 },
    length: { n: length, d: 16 },
    pitch: { fifths: 0, midi },
    hand: "right",
    grace: false,
    loudness,
    source,
  });
  const strokes = (...notes: readonly PlayedNote[]): string[] =>
    keysOf(notes).map(({ key, tick, until, loudness }) => `${key} ${tick} ${until} ${loudness}`);

  test("a key struck again while it is down comes up first", () => {
    expect(strokes(note(60, 0, 8), note(60, 4, 8))).toEqual(["60 0 480 80", "60 480 1440 80"]);
  });

  test("two notes that strike one key at once are one: the longer, and the louder", () => {
    expect(strokes(note(60, 0, 2, 90), note(60, 0, 8))).toEqual(["60 0 960 90"]);
  });

  test("what is shorter than a tick is one tick, and what lies beyond 128 keys is left out", () => {
    const short = { ...note(60, 0, 1), length: { n: 1, d: 9000 } };
    expect(strokes(short, note(128, 0, 1), note(-1, 0, 1))).toEqual(["60 0 1 80"]);
  });
});

describe("hostile charts", () => {
  const bar = (count: number): string => Array.from({ length: count }, (_, i) => "CDEFG"[i % 5]).join(" ");
  const charts: ReadonlyArray<readonly [name: string, text: string]> = [
    ["nothing", ""],
    ["a title alone", "title Alone\n"],
    ["only words", "words | on- ly words | and more |\nwords | a second | verse |\n"],
    ["chords that can't be read", "chords | zz yy | 1 |\nright | qq | 3 |\n"],
    ["5,000 bars", `key C\nright | ${Array.from({ length: 5000 }, () => "C E G B").join(" | ")} |\n`],
    ["bars of 64 slots", `key C\nright | ${bar(64)} | ${bar(64)} |\nleft | ${bar(64)} |\n`],
    ["a bar of 65,537 slots", `key C\nright | ${bar(65_537)} |\n`],
    ["40 verses", `key C\nsection A\nlead | 1 2 |\n${"words | la lo |\n".repeat(40)}form A x50\n`],
    [
      "control signs and emoji in names",
      "title a\u0000b\u001b[31m😀\u202e\nsection \u0007😀\nlead | 1 |\nwords | \u0008é |\n",
    ],
    ["half a sign", "title \ud83d broken\nsection \udc00\nlead | 1 |\nwords | \ud83d |\n"],
    ["a very long title", `title ${"long ".repeat(20_000)}\nright | C |\n`],
    [
      "the slowest meters",
      "time 99/1\ntempo 1\nright | C |\nsection B\ntime 1/64\ntempo 999\nright | C C C |\n",
    ],
    ["keys far out", "key B#\nright | Cbb0 Bx9 |\nsection B\nkey Fbb\nright | C |\nform B up half B in Fx\n"],
    ["sections in a circle", "section A\nplay B\nright | C |\nsection B\nplay A\nright | D |\n"],
    ["a pickup longer than the song", "right C D E F G A B C D E F G | C |\n"],
  ];

  test.each(charts)(
    "%s: the file is whole, every key comes up, and it is the same each time",
    (_name, text) => {
      const made = (): Uint8Array => midiFile(perform(openDocument("a.plagal", text).chart, { pedal: true }));
      const file = made();
      expect(made()).toEqual(file);
      const { tracks } = parseMidi(file);
      for (const events of tracks) {
        let tick = 0;
        const messages: { tick: number; key: number; on: boolean }[] = [];
        for (const event of events) {
          tick += event.deltaTime;
          if (event.type === "noteOn" || event.type === "noteOff")
            messages.push({ tick, key: event.noteNumber, on: event.type === "noteOn" });
        }
        expect(() => strokesOf(messages)).not.toThrow();
        expect(events.at(-1)?.type).toBe("endOfTrack");
      }
    },
  );

  test("no control sign gets into a file's names", () => {
    const [conductor] = tracksOf("title a\u0000b\u001b[31m\nright | C |");
    const name = (conductor ?? []).find(named("trackName"))?.event;
    const text = name?.type === "trackName" ? Buffer.from(name.text, "latin1").toString("utf8") : "";
    expect(text).toBe("a␀b␛[31m");
  });
});
