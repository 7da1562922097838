import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { catalogue } from "../../server/src/problems/catalogue.js";
import { faultsBy } from "../support/json-schema.js";
import { dedent, plagal } from "../support/memory-io.js";
import { sampleCharts } from "../support/sample-charts.js";

const lamp = dedent(`
  title   Lamp and Oar
  by      Somebody
  note    Practise hands apart first.
  key     Ab major (original G)
  time    6/8
  tempo   56
  feel    swing
  use     "tags.plagal"

  section Verse
  chords            |: 1 4/1   | 5:7sus 5:7  |1. 1 1:7 :|2. 4m | NC  ||
  lead  (r r 5)     | 1 2 3 4 5 6 | 5 - | r | 1 | r |
  right             | !3+5 ~3+5+1 | b7+4+>1 _b7+3 | b3~3+5 - | 1+b3 | r |
  left              | 1+5         | 1 0    | (1 5 8) r | Ab2 | r |
  words so          | la-dy of the low land | sea _ | | ah | |
  words so          | ti-dy of the low land | sea _ | | ah | |
  cue               | | | soft | slower, then hold | |
  key F minor
  time 4/4
  play Tag x2
  chords | 1m | 5:7b9 |
  left   | 1+5 | 1    |

  section Tag
  lands 1
  vamp
  chords | b6dim7 | % |
  right  | 3+5 | % |

  form Verse Tag x2 Walk up half Verse in C
`);
const tags = dedent(`
  key C
  section Walk
  chords | 4 4/5 |
  right  | 1 |
`);
const files = { "lamp.plagal": lamp, "tags.plagal": tags };

test("the page names every chord with what it does, and every note, bar by bar", () => {
  const { code, out, err } = plagal(["show", "lamp.plagal"], { files });
  expect([code, err]).toEqual([0, ""]);
  expect(out).toBe(
    dedent(`
      Lamp and Oar
      ════════════
      by Somebody
      A♭ major, written in G, 6/8, 56 beats a minute, swing feel.
      Played: Verse, Tag twice, Walk in A major, Verse in C major.
      Practise hands apart first.

      Verse
      ─────

      Into bar 1
        lead    beat 2 rest, beat 2 and two thirds E♭5 (5)
        verse 1 so
        verse 2 so

      Bar 1, a repeat starts
        chord   A♭, the 1
                beat 2: D♭/A♭ (4/1), the 4
        lead    beat 1 A♭4 (1), beat 1 and a third B♭4 (2), beat 1 and two thirds C5 (3), beat 2 D♭5 (4), beat 2 and a third E♭5 (5), beat 2 and two thirds F5 (6)
        right   beat 1 pushed F4 A♭4 (3 5), beat 2 rolled F4 A♭4 D♭5 (3 5 1)
        left    A♭2 E♭3 (1 5)
        verse 1 la-dy of the low land
        verse 2 ti-dy of the low land

      Bar 2
        chord   E♭7sus (5:7sus), the 5, and goes to the 1 in the first ending
                beat 2: E♭7 (5:7), the 5, and goes to the 1 in the first ending
        lead    E♭5 (5)
        right   beat 1 D♭4 A♭4 E♭6 (♭7 4 1), beat 2 G4 (3), holding D♭4
        left    beat 1 E♭3 (1), beat 2 E♭3 (1)
        verse 1 sea
        verse 2 sea

      Bar 3, first ending, then back, 2 times in all
        chord   A♭, the 1
                beat 2: A♭7 (1:7), dominant of the 4, and goes there
        right   C♭4 into C4 E♭4 (3 5)
        left    beat 1 A♭2 (1), beat 1 and a third E♭3 (5), beat 1 and two thirds A♭2 (1), beat 2 rest
        cue     soft

      Bar 4, second ending
        chord   D♭m (4m), the 4, borrowed from the parallel minor
        lead    A♭4 (1)
        right   D♭4 F♭4 (1 ♭3)
        left    A♭2 (5)
        verse 1 ah
        verse 2 ah
        cue     slower, then hold

      Bar 5
        nothing sounds

      Here Tag is played twice.
      From here in F minor.
      From here in 4/4.
      Bar 6
        chord   Fm (1m), the 1
        left    F2 C3 (1 5)

      Bar 7
        chord   C7♭9 (5:7♭9), the 5
        left    C3 (1)

      Tag
      ───
      leads to the 1, repeated until cued.

      Bar 1
        chord   F♭dim7 (♭6dim7), the ♭6, from outside the key
        right   A♭4 C♭5 (3 5)

      Bar 2
        chord   F♭dim7 (♭6dim7), the ♭6, from outside the key
        right   A♭4 C♭5 (3 5)

      Walk
      ────
      straight feel, from tags.plagal.

      From here in 4/4.
      Bar 1
        chord   D♭, the 4
                beat 3: D♭/E♭ (4/5), the 4
        right   D♭4 (1)
    `),
  );
});

test("--key shows it as if it were moved there", () => {
  const { code, out } = plagal(["show", "lamp.plagal", "--key", "g"], { files });
  expect(code).toBe(0);
  expect(out).toContain("\nG major, 6/8, 56 beats a minute, swing feel.\n");
  expect(out).toContain("\n  left    G2 D3 (1 5)\n");
  expect(plagal(["show", "lamp.plagal", "--key", "H"], { files })).toMatchObject({
    code: 2,
    out: "",
    err: expect.stringContaining("“H” is no key"),
  });
});

test("what can't be read is left out, named on standard error, and fails", () => {
  const { code, out, err } = plagal(["show", "-"], { input: "chords | 1 | 4x |\nright | 1 | 3 |\n" });
  expect(code).toBe(1);
  expect(out).toContain("  chord   C, the 1\n");
  expect(err).toContain("standard input:1:14: error unknown-chord");
  expect(err).toMatch(/\n1 error in standard input\. What they touch may be missing above\.\n$/);
});

test("what a hand can't hold is shown whole, and is no reason to complain", () => {
  const chart = "section A\nchords | 1 |\nleft | 1+5+>3 |\n";
  const { code, out, err } = plagal(["show", "-"], { input: chart });
  expect([code, err]).toEqual([0, ""]);
  expect(out).toContain("C2 G2 E4");
});

test("titles and words can't upset a terminal", () => {
  const { out } = plagal(["show", "-"], {
    input: "title a\u001b[2Jb\nchords | 1 |\nwords | \u001bx |\n",
    terminal: true,
  });
  expect(out).toContain("a␛[2Jb");
  expect(out).toContain("␛x");
});

describe("--json", () => {
  const faults = faultsBy("show");

  test.each(sampleCharts)("of %s fits its schema", (name) => {
    const files = { [name]: readFileSync(`test/charts/${name}`, "utf8") };
    expect(faults(JSON.parse(plagal(["show", name, "--json"], { files }).out))).toEqual([]);
  });

  test.each(Object.entries(catalogue))("of the example of %s fits its schema", (_, { example }) => {
    expect(faults(JSON.parse(plagal(["show", "-", "--json"], { input: example }).out))).toEqual([]);
  });

  test("of a chart with everything fits its schema", () => {
    expect(faults(JSON.parse(plagal(["show", "lamp.plagal", "--json"], { files }).out))).toEqual([]);
  });

  test("the schema refuses a float for a time", () => {
    const output = JSON.parse(plagal(["show", "lamp.plagal", "--json"], { files }).out);
    output.sections[0].bars[0].at = "0.5";
    expect(faults(output)).not.toEqual([]);
  });

  const shown = (input: string) => JSON.parse(plagal(["show", "-", "--json"], { input }).out);
  // biome-ignore lint/suspicious/noExplicitAny: the output is judged by its schema above
  const notesOf = (input: string): any[] =>
    shown(input).sections[0].bars.flatMap((bar: { notes: unknown[] }) => bar.notes);

  test("gives head and form", () => {
    const output = JSON.parse(plagal(["show", "lamp.plagal", "--json"], { files }).out);
    expect(output).toMatchObject({
      schema: 1,
      path: "lamp.plagal",
      title: "Lamp and Oar",
      by: "Somebody",
      key: { tonic: "Ab", mode: "major", original: "G" },
      time: "6/8",
      tempo: 56,
      feel: "swing",
      form: [
        { section: "Verse", key: { tonic: "Ab", mode: "major" }, times: 1, move: 0 },
        { section: "Tag", times: 2, move: 0 },
        { section: "Walk", key: { tonic: "A", mode: "major" }, times: 1, move: 1 },
        { section: "Verse", key: { tonic: "C", mode: "major" }, times: 1, move: 4 },
      ],
    });
    const [verse, tag, walk] = output.sections;
    expect(verse).toMatchObject({ name: "Verse", lands: null, vamp: false, path: null });
    expect(verse.plays).toEqual([{ section: "Tag", times: 2, beforeBar: 6 }]);
    expect(tag).toMatchObject({ name: "Tag", lands: "1", vamp: true });
    expect(walk).toMatchObject({ name: "Walk", path: "tags.plagal", feel: "straight", tempo: 56 });
    expect(walk.bars[0].chords[0].range.start).toEqual({ line: 3, column: 10 });
  });

  test("gives repeats, words and cues of a bar", () => {
    const { bars } = JSON.parse(plagal(["show", "lamp.plagal", "--json"], { files }).out).sections[0];
    expect(bars.map((bar: { repeat: unknown }) => bar.repeat)).toEqual([
      { start: true, end: false, times: 1, ending: null },
      null,
      { start: false, end: true, times: 2, ending: 1 },
      { start: false, end: false, times: 1, ending: 2 },
      null,
      null,
      null,
    ]);
    expect(bars[3].cue).toBe("slower, then hold");
    expect(bars[0].words[0]).toMatchObject({ verse: 1, text: "so", at: "-1/8", length: "1/8" });
  });

  test("a chord held over is one item whose length runs across bar lines", () => {
    const [first, second] = shown("chords | 1 / / 4 | | 5 |\n").sections[0].bars;
    expect(first.chords).toMatchObject([
      { symbol: "C", at: "0", length: "3/4" },
      { symbol: "F", at: "3/4", length: "5/4" },
    ]);
    expect(second.chords).toEqual([]);
  });

  test("a chord says its tones, what it does and the scales that fit", () => {
    const [bar] = shown("key Eb\nchords | 1:7/3 4 |\n").sections[0].bars;
    expect(bar.chords[0]).toMatchObject({
      text: "1:7/3",
      symbol: "Eb7/G",
      root: "Eb",
      bass: "G",
      quality: "7",
      tones: [
        { number: "1", note: "Eb" },
        { number: "3", note: "G" },
        { number: "5", note: "Bb" },
        { number: "b7", note: "Db" },
      ],
      degree: "1",
      function: { kind: "dominant", of: "4", resolves: true },
    });
    expect(bar.chords[0].scales[0]).toBe("Eb mixolydian");
  });

  test("a dominant that goes on with another colour still goes to its target", () => {
    const [bar] = shown("chords | 2:9 2:7b9 5 / |\n").sections[0].bars;
    expect(bar.chords[0].function).toMatchObject({ kind: "dominant", of: "5", resolves: true });
  });

  test("the last chord of a section is judged by what is played next", () => {
    const { sections } = shown("section A\nchords | 1 | 1:7 |\nsection B\nchords | 4 |\nform A B\n");
    expect(sections[0].bars[1].chords[0].function).toMatchObject({
      kind: "dominant",
      of: "4",
      resolves: true,
    });
  });

  test("a tone held over is one note, its holds by slot and chord", () => {
    const [note, ...more] = notesOf("chords | 1 6 | 4 |\nright | 5 | - |\n");
    expect(more).toEqual([]);
    expect(note).toMatchObject({ pitch: "G3", at: "0", length: "2", chordNumber: "5", keyNumber: "5" });
    expect(note.holds).toMatchObject([
      { at: "1/2", length: "1/2", text: "5", chord: "Am", chordNumber: "b7", keyNumber: "5" },
      { at: "1", length: "1", text: "-", chord: "F", chordNumber: "2" },
    ]);
    expect(note.holds[1].range).toEqual({ start: { line: 2, column: 13 }, end: { line: 2, column: 14 } });
  });

  test("notes stand in order of time, row and pitch, a grace note before its tone", () => {
    const notes = notesOf("chords | 1 |\nleft | 1+5 |\nright | b3~3+5 |\nlead | 3 |\nbass | 1 |\n");
    expect(notes.map(({ row, pitch, grace, length }) => [row, pitch, grace, length])).toEqual([
      ["lead", "E4", false, "1"],
      ["right", "Eb3", true, "0"],
      ["right", "E3", false, "1"],
      ["right", "G3", false, "1"],
      ["left", "C2", false, "1"],
      ["left", "G2", false, "1"],
      ["bass", "C2", false, "1"],
    ]);
  });

  test("lead and bass have a hand where no row of that hand stands", () => {
    expect(notesOf("lead | 1 |\nbass | 1 |\n").map(({ hand }) => hand)).toEqual(["right", "left"]);
    expect(notesOf("lead | 1 |\nright | r |\n").map(({ hand }) => hand)).toEqual([null]);
  });

  test("an upper tone keeps its number where the text or the symbol says so", () => {
    expect(
      notesOf("chords | 1:9 1 1 1 |\nright | 2 9 2 11 |\n").map(({ chordNumber }) => chordNumber),
    ).toEqual(["9", "9", "2", "11"]);
  });

  test("a pickup belongs to its system's first bar, with a time before it", () => {
    const [first] = notesOf("chords 5:7 | 1 |\nlead 5 | 1 |\n");
    expect(first).toMatchObject({ pitch: "G4", at: "-1/4", length: "1/4", pickup: true, chordNumber: "1" });
  });

  test("a pushed stack counts from the next chord", () => {
    const [note] = notesOf("chords | 1 4 |\nright | !3 r |\n");
    expect(note).toMatchObject({ pitch: "A3", pushed: true, chordNumber: "3", at: "0" });
  });

  test("what % and = repeat says where the sign stands", () => {
    const notes = notesOf("chords | 1 | 4 |\nright | 1 = | % |\n");
    expect(notes.map(({ pitch, repeatedBy }) => [pitch, repeatedBy?.start.column ?? null])).toEqual([
      ["C4", null],
      ["C4", 11],
      ["F3", 15],
      ["F3", 15],
    ]);
  });
});
