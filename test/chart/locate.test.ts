import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { locate } from "../../server/src/chart/locate.js";
import type { Located } from "../../server/src/chart/located.js";
import { openDocument } from "../../server/src/document/document.js";
import { chordSymbol } from "../../server/src/theory/chord.js";
import { printFraction } from "../../server/src/theory/fraction.js";
import { keyName } from "../../server/src/theory/key.js";
import { pitchName } from "../../server/src/theory/pitch.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { atCursor } from "../support/marked.js";
import { property } from "../support/property.js";

/** What is found at the cursor, in one line: its kind, its text in quotes, and what it was resolved to. */
function found(chart: string): string {
  const { text, cursor } = atCursor(chart);
  const it = locate(openDocument("chart.plagal", text, usedFiles), cursor);
  return [it.kind, `“${text.slice(it.span.start, it.span.end)}”`, ...facts(it)].join(" ");
}

function facts(it: Located): string[] {
  switch (it.kind) {
    case "nothing":
    case "unread":
      return it.in === undefined
        ? []
        : [`in ${it.in.row.row}`, it.in.pickup ? "pickup" : `bar ${it.in.bar?.index}`];
    case "key":
    case "original":
      return [
        keyName(it.inForce.home.key),
        `${it.inForce.home.one}`,
        ...(it.counts ? [] : ["doesn't count"]),
      ];
    case "time":
      return [`${it.meter.beats} by ${it.meter.unit}`];
    case "tempo":
      return [`${it.tempo} in ${it.inForce.meter.beats}/${it.inForce.meter.unit}`];
    case "feel":
      return [it.feel];
    case "reach":
      return [`${it.left} ${it.right}`];
    case "lands":
      return [`${it.lands.alter} ${it.lands.degree}`];
    case "section":
      return [it.placed.section.name];
    case "section-use":
    case "move":
    case "times":
      return [
        `in ${it.in}:`,
        it.target?.section.name ?? "nobody",
        it.moved === undefined ? "" : `${keyName(it.moved.key)} ${it.moved.halfSteps}`,
        `x${it.item.times}`,
      ];
    case "use":
      return [it.used?.found ?? "nothing"];
    case "bar-line":
      return [`${it.before?.index ?? "-"} to ${it.after?.index ?? "-"}`];
    case "ending":
      return [`${it.ending.number} of bar ${it.bar?.index}`];
    case "group":
      return [`of ${it.group?.slots.length}`];
    case "chord":
      return [it.event === undefined ? "unresolved" : chordSymbol(it.event.chord), time(it)];
    case "chord-sign":
      return [it.sign, it.events.map(({ chord }) => chordSymbol(chord)).join(" "), time(it)];
    case "tone":
    case "grace":
      return [it.note === undefined ? "silent" : pitchName(it.note.pitch), time(it)];
    case "stack":
      return [it.event?.struck.map(({ pitch }) => pitchName(pitch)).join(" ") ?? "unresolved", time(it)];
    case "note-sign": {
      const notes = it.events.flatMap(({ struck, held }) => [...held, ...struck]);
      return [it.sign, notes.map(({ pitch }) => pitchName(pitch)).join(" "), time(it)];
    }
    case "syllable":
      return [it.word === undefined ? "unsung" : `${it.word.text} ${it.word.verse}`];
    case "cue":
      return [it.cue];
    default:
      return [];
  }
}

const time = ({ at }: { readonly at: Parameters<typeof printFraction>[0] | undefined }): string =>
  at === undefined ? "no time" : `at ${printFraction(at)}`;

/** The chart with the mark put in: a key, a section, and one system. */
const rows = (...lines: readonly string[]): string => `key C major\nsection Verse\n${lines.join("\n")}\n`;

describe("a place in the header is", () => {
  test.each([
    ["k‸ey C", "word “key”"],
    ["key E‸b major", "key “Eb major” Eb major 63"],
    ["key Eb maj‸or (original C)", "key “Eb major” Eb major 63"],
    ["key Eb major (orig‸inal C)", "original “(original C)” Eb major 63"],
    ["key C\nkey ‸F", "key “F” C major 60 doesn't count"],
    ["key ‸H", "unread “H”"],
    ["title A q‸uiet song", "text “A quiet song”"],
    ["time ‸6/8", "time “6/8” 6 by 8"],
    ["time 6/8\ntempo 72‸", "tempo “72” 72 in 6/8"],
    ["feel sw‸ing", "feel “swing” swing"],
    ["reach left 8 ‸right 9", "reach “left 8 right 9” 8 9"],
    ["key C ; wh‸y", "comment “; why”"],
    ["; wh‸y", "comment “; why”"],
    ["key C ‸ major", "nothing “”"],
    ["‸", "nothing “”"],
    ["wrong‸ word", "unread “wrong”"],
    ['use "tags‸.plagal"', 'use “"tags.plagal"” chart'],
    ['use ‸"lost.plagal"', 'use “"lost.plagal"” missing'],
  ])("%s", (chart, expected) => expect(found(chart)).toBe(expected));
});

describe("a place among sections is", () => {
  test.each([
    ["section V‸erse\nlead | 1 |", "section “Verse” Verse"],
    ['section ‸"Last Verse"\nlead | 1 |', 'section “"Last Verse"” Last Verse'],
    ["section A\nkey ‸F\nlead | 1 |", "key “F” F major 65"],
    ["section A\nkey F\nkey ‸Bb\nlead | 1 |", "key “Bb” Bb major 58"],
    ["section A\nlands b‸7\nlead | 1 |", "lands “b7” -1 7"],
    ["section A\nv‸amp\nlead | 1 |", "word “vamp”"],
    ["section A\nlead | 1 |\nform A‸", "section-use “A” in form: A C major 0 x1"],
    ['section "A B"\nlead | 1 |\nform "A‸ B" x3', 'section-use “"A B"” in form: A B C major 0 x3'],
    ["section A\nlead | 1 |\nform A i‸n Eb", "move “in Eb” in form: A Eb major 3 x1"],
    ["section A\nlead | 1 |\nform A up h‸alf", "move “up half” in form: A Db major 1 x1"],
    ["section A\nlead | 1 |\nform A up half x‸2", "times “x2” in form: A Db major 1 x2"],
    ["section A\nlead | 1 |\nsection B\nplay A‸ in F", "section-use “A” in play: A F major 5 x1"],
    ["section A\nlead | 1 |\nform B‸", "section-use “B” in form: nobody  x1"],
  ])("%s", (chart, expected) => expect(found(chart)).toBe(expected));
});

describe("a place in a row is", () => {
  test.each([
    [rows("rig‸ht | 1 |"), "word “right”"],
    [rows("lead fr‸om C3 | 1 |"), "from “from C3”"],
    [rows("lead from C‸3 | 1 |"), "from “from C3”"],
    [rows("chords | 1 | 4 ‸ |"), "nothing “” in chords bar 1"],
    [rows("chords | 1 ‸| 4 |"), "bar-line “|” 0 to 1"],
    [rows("chords |‸ 1 | 4 |"), "bar-line “|” - to 0"],
    [rows("chords | 1 | 4 :|‸ x3"), "bar-line “:| x3” 1 to -"],
    [rows("chords | 1 | 4 :| x‸3"), "bar-line “:| x3” 1 to -"],
    [rows("chords |: 1 |1‸. 4 :|2. 5 |"), "ending “1.” 1 of bar 1"],
    [rows("chords | 5:‸7/2 |"), "chord “5:7/2” G7/D at 0"],
    [rows("chords | 1 /‸3 |"), "chord “/3” C/E at 1/2"],
    [rows("chords | ‸/3 |"), "chord “/3” unresolved at 0"],
    [rows("chords | 1 ‸/ / 5 |"), "chord-sign “/” / C at 1/4"],
    [rows("chords | 1 ‸// 5 |"), "chord-sign “/” / C at 1/4"],
    [rows("chords | 1 | % |", "", "chords | ‸- 4 |"), "chord-sign “-” - C at 2"],
    [rows("chords | 1 4 | ‸% |"), "chord-sign “%” % C F at 1"],
    [rows("chords | 1 r‸ |"), "chord-sign “r” r C at 1/2"],
    [rows("chords | 1 N‸C |"), "chord-sign “NC” NC C at 1/2"],
    [rows("chords |: 1 |1. 4 :|2. ‸/ |"), "chord-sign “/” / C at 2"],
    [rows("chords 5:7‸ | 1 |"), "chord “5:7” G7 at -1/4"],
    [rows("chords | 5:7 |", "right  | 3+‸b7+9 |"), "tone “b7” F4 at 0"],
    [rows("chords | 5:7 |", "right  | 3‸+b7+9 |"), "stack “3+b7+9” B3 F4 A4 at 0"],
    [rows("chords | 5:7 |", "right  | ‸~3+b7 |"), "stack “~3+b7” B3 F4 at 0"],
    [rows("chords | 5:7 |", "right  | r ‸>3 |"), "tone “>3” B4 at 1/2"],
    [rows("chords | 5:7 |", "right  | b‸3~3 |"), "grace “b3” Bb3 at 0"],
    [rows("chords | 5:7 |", "right  | b3~‸3 |"), "tone “b3~3” B3 at 0"],
    [rows("chords | 5:7 1 |", "right  | 3+b7 _k‸4+5 |"), "tone “_k4” F3 at 1/2"],
    [rows("chords | 5:7 |", "right  | 3+b7 _‸3+5 |"), "tone “_3” B3 at 1/2"],
    [rows("right  | ‸3 |"), "tone “3” silent at 0"],
    [rows("chords | 5:7 |", "right  | 3+5 ‸- |"), "note-sign “-” - B3 D4 at 1/2"],
    [rows("chords | 1 4 |", "right  | 3+5 ‸= |"), "note-sign “=” = A3 C4 at 1/2"],
    [rows("chords | 1 | 4 |", "right  | 3 5 | %‸ |"), "note-sign “%” % A3 C4 at 1"],
    [rows("chords | 1 |", "right  | r‸ 3 |"), "note-sign “r” r  at 0"],
    [rows("lead | >‸(1 2) 3 |"), "group “(” of 2"],
    [rows("lead | >(1 2‸) 3 |"), "group “)” of 2"],
    [rows("lead | (1 (2 3‸)) 3 |"), "group “)” of 2"],
    [rows("lead | (1 (2 ‸3)) 3 |"), "tone “3” E4 at 3/8"],
    [rows("lead <5‸ | 1 |"), "tone “<5” G3 at -1/4"],
    [rows("lead | 1 2 |", "words | Har-b‸our |"), "syllable “bour” bour 1"],
    [rows("lead | 1 2 |", "words | Ha‸r-bour |"), "syllable “Har-” Har- 1"],
    [rows("lead | 1 2 3 |", "words | Light _ ‸_ |"), "syllable “_” Light 1"],
    [rows("lead | 1 2 |", "words | a b |", "words | c ‸d |"), "syllable “d” d 2"],
    [rows("lead | 1 |", "words | a b‸ |"), "syllable “b” unsung"],
    [rows("lead | 1 |", "cue | hold ‸ it |"), "nothing “” in cue bar 0"],
    [rows("lead | 1 |", "cue | hold i‸t |"), "cue “hold it” hold it"],
    [rows("chords | 1 wh‸at |"), "unread “what” in chords bar 0"],
  ])("%s", (chart, expected) => expect(found(chart)).toBe(expected));
});

test("A place outside the text is its nearest end", () => {
  const document = openDocument("chart.plagal", "key C");
  expect(locate(document, -5).kind).toBe("word");
  expect(locate(document, 500).kind).toBe("key");
  expect(locate(document, Number.NaN).kind).toBe("word");
});

property(
  "There is an answer for any text and any place, and it covers the place or touches it",
  fc.oneof(anyChart({ mixedSigns: true, furtherKeys: true, original: true, notation: "mixed" }), hostileText),
  60,
  (text) => {
    const document = openDocument("chart.plagal", text, usedFiles);
    for (let at = 0; at <= text.length; at++) {
      const { span } = locate(document, at);
      expect(span.start <= at && at <= span.end && span.end <= text.length).toBe(true);
    }
  },
);
