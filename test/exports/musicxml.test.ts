import { describe, expect, test } from "vitest";
import { openDocument } from "../../server/src/document/document.js";
import { exporters } from "../../server/src/exports/exporters.js";
import { musicXml } from "../../server/src/exports/musicxml.js";
import { hostileCharts } from "../support/hostile-charts.js";
import { readScore } from "../support/read-score.js";
import { barLines, scoreOf, voice } from "./print-score.js";

/** The elements of a name in a score, in order. */
const elements = (text: string, name: string): readonly string[] =>
  [...text.matchAll(new RegExp(`<${name}[ >].*?</${name}>|<${name}[^>]*/>`, "gs"))].map(([it]) => it);

const texts = (text: string, name: string): readonly string[] =>
  elements(text, name).map((it) => it.replace(/<[^>]*>/g, ""));

describe("printed values", () => {
  const inMeter = (meter: string, bar: string): string =>
    voice(`key C\ntime ${meter}\nright from C4 | ${bar} |\n`)[0] ?? "";

  test.each([
    ["4/4", "C", "whole C4"],
    ["4/4", "C D", "half C4 | half D4"],
    ["4/4", "C - - D", "half. C4 | quarter D4"],
    ["4/4", "C D - E", "quarter C4 | half D4 | quarter E4"],
    ["4/4", "(C D) (- E) F G", "eighth C4 | quarter D4 | eighth E4 | quarter F4 | quarter G4"],
    // The middle of a bar of four is seen.
    ["4/4", "C (- D) - E", "quarter. C4 | eighth D4~ | quarter D4 | quarter E4"],
    ["4/4", "C - - (- D)", "half C4~ | quarter. C4 | eighth D4"],
    ["4/4", "r C - -", "quarter r | half. C4"],
    ["4/4", "C r r D", "quarter C4 | quarter r | quarter r | quarter D4"],
    ["4/4", "r r r C", "half r | quarter r | quarter C4"],
    ["3/4", "C D", "quarter. C4 | quarter. D4"],
    ["3/4", "C - D", "half C4 | quarter D4"],
    ["6/8", "C D", "quarter. C4 | quarter. D4"],
    ["6/8", "C D E F G A", "eighth C4 | eighth D4 | eighth E4 | eighth F4 | eighth G4 | eighth A4"],
    ["6/8", "C - - - D E", "quarter. C4~ | eighth C4 | eighth D4 | eighth E4"],
    ["6/8", "C D E F", "eighth. C4 | eighth. D4 | eighth. E4 | eighth. F4"],
    ["12/8", "C - D E", "half. C4 | quarter. D4 | quarter. E4"],
    ["5/4", "C", "whole C4~ | quarter C4"],
    ["7/8", "C", "half. C4~ | eighth C4"],
    ["2/2", "C D", "half C4 | half D4"],
  ])("a bar of %s with %s", (meter, bar, printed) => {
    expect(inMeter(meter, bar)).toBe(printed);
  });

  test.each([
    // Three even slots in a bar of four beats are half-note triplets.
    ["C D E", "3:2 half C4 | 3:2 half D4 | 3:2 half E4"],
    ["(C D E) F G A", "3:2 eighth C4 | 3:2 eighth D4 | 3:2 eighth E4 | quarter F4 | quarter G4 | quarter A4"],
    ["(C - D) - r r", "3:2 quarter C4 | 3:2 eighth D4~ | quarter D4 | half r"],
    ["(r r D) C C C", "3:2 quarter r | 3:2 eighth D4 | quarter C4 | quarter C4 | quarter C4"],
    ["C D E F G", "5:4 quarter C4 | 5:4 quarter D4 | 5:4 quarter E4 | 5:4 quarter F4 | 5:4 quarter G4"],
    ["(C (D E) F) - - -", "3:2 eighth C4 | 3:2 16th D4 | 3:2 16th E4 | 3:2 eighth F4~ | half. F4"],
    // A triplet in a triplet: nine in the time of four.
    [
      "((C D E) F G) - - -",
      "9:4 16th C4 | 9:4 16th D4 | 9:4 16th E4 | 3:2 eighth F4 | 3:2 eighth G4~ | half. G4",
    ],
    [
      "C D E F G A",
      "3:2 quarter C4 | 3:2 quarter D4 | 3:2 quarter E4 | 3:2 quarter F4 | 3:2 quarter G4 | 3:2 quarter A4",
    ],
    // Five, of which one is in three: that thirds of the bar happen to start slots too means nothing.
    [
      "(C D) (E F G) A (r r B) r",
      "5:4 eighth C4 | 5:4 eighth D4 | 15:8 eighth E4 | 15:8 eighth F4 | 15:8 eighth G4 | 5:4 quarter A4 | " +
        "15:8 quarter r | 15:8 eighth B4 | 5:4 quarter r",
    ],
  ])("slots become tuplets: %s", (bar, printed) => {
    expect(inMeter("4/4", bar)).toBe(printed);
  });

  test("a bracket says how many stand in the time of how many, inner ones beside outer ones", () => {
    const brackets = elements(scoreOf("key C\nright | ((C D E) F G) - - - |"), "tuplet").map((it) =>
      it.replace(/<\/?tuplet-(?:number|type|actual|normal)>/g, " ").replace(/\s+/g, " "),
    );
    expect(brackets).toEqual([
      '<tuplet type="start" number="1" bracket="yes"> 3 eighth 2 eighth </tuplet>',
      '<tuplet type="start" number="2" bracket="yes"> 3 16th 2 16th </tuplet>',
      '<tuplet type="stop" number="2"/>',
      '<tuplet type="stop" number="1"/>',
    ]);
  });

  test("four in the time of a dotted beat are dotted notes", () => {
    expect(inMeter("6/8", "(C D E F) G")).toBe("16th. C4 | 16th. D4 | 16th. E4 | 16th. F4 | quarter. G4");
  });

  test("what is held goes on over the bar line, and a tone held under others is tied through them", () => {
    expect(voice("key C\nright from C4 | C E | - _E+G |")).toEqual([
      "half C4 | half E4~",
      "half E4~ | half E4+G4",
    ]);
    expect(voice("key C\nright from C4 | C+E _C+F | r |")).toEqual(["half C4~+E4 | half C4+F4", "bar"]);
  });

  test("a hand that rests through a bar has a bar's rest in any meter", () => {
    expect(voice("time 5/8\nright | C |\nleft | r |", "Piano", 2)).toEqual(["bar"]);
  });
});

describe("notes", () => {
  test("an accidental stands where the key or the bar so far says otherwise", () => {
    expect(voice("key D\nright | F#4 F4 F4 F#4 | F4 - C#4 C4 |")).toEqual([
      "quarter F#4 | quarter ♮F4 | quarter F4 | quarter ♯F#4",
      "half ♮F4 | quarter C#4 | quarter ♮C4",
    ]);
    expect(voice("key Ab\nright | Bb4 Bbb4 B4 - | - B4 Db5 F#4 |")).toEqual([
      "quarter Bb4 | quarter 𝄫Bbb4 | half ♮B4~",
      "quarter B4 | quarter ♮B4 | quarter Db5 | quarter ♯F#4",
    ]);
  });

  test("tones keep the names that their numbers give them", () => {
    expect(voice("key Ab\nchords | 5:7(#9,b13) | 4m |\nright | 3+b13+b7+#9 | b3+5 |")).toEqual([
      "whole G4+♭Cb5+Db5+♯F#5",
      "whole ♭Fb4+Ab4",
    ]);
  });

  test("a tone that slips into another is a grace note, and a roll goes through both hands", () => {
    expect(voice("key C\nchords | 1 |\nright from C4 | b3~3+5 |")).toEqual(["'♭Eb4 | whole ♮E4+G4"]);
    const rolled = "key C\nright | ~C4+E4 |\nleft | ~C3 |";
    expect(voice(rolled)).toEqual(["whole ~C4+E4"]);
    expect(voice(rolled, "Piano", 2)).toEqual(["whole ~C3"]);
    // One key alone is no roll.
    expect(voice("key C\nright | ~C4 |")).toEqual(["whole C4"]);
  });

  test("a pickup stands over the end of the bar before it, the first one in a bar of its own", () => {
    const chart = `
      key C
      section A
      right from C4 (r G) | C - - - |
      section B
      right from C4 (E F) | G |
    `;
    expect(voice(chart)).toEqual(["eighth r | eighth G4", "half. C4 | eighth E4 | eighth F4", "whole G4"]);
    expect(scoreOf(chart)).toContain('<measure number="0" implicit="yes">');
  });

  test("the lead has its words, parted and running on", () => {
    const score = scoreOf("key C\nlead | 1 2 3 4 | 5 6 |\nwords | Har-bour _ light | sea- side |");
    expect(elements(score, "lyric")).toEqual([
      '<lyric number="1"><syllabic>begin</syllabic><text>Har</text></lyric>',
      '<lyric number="1"><syllabic>end</syllabic><text>bour</text><extend/></lyric>',
      '<lyric number="1"><syllabic>single</syllabic><text>light</text></lyric>',
      '<lyric number="1"><syllabic>begin</syllabic><text>sea</text></lyric>',
      '<lyric number="1"><syllabic>end</syllabic><text>side</text></lyric>',
    ]);
  });

  test("where nobody has written the accompaniment, strokes say when there is something to play", () => {
    expect(
      voice("key C\nchords | 1 r 4 / | NC |\nlead | 1 | 2 |\n\nchords | 1 |\nright from C4 | 3 |"),
    ).toEqual(["quarter / | quarter r | quarter / | quarter /", "bar", "whole E4"]);
  });
});

describe("the form", () => {
  const bars = (form: string): string => barLines(`key C\n${form}`);

  test("a section's repeats and endings stay", () => {
    expect(bars("right | C |: D | 1. E :| 2. F | G || A |")).toBe("1 |: 2 [1] 3] :| [2] 4 5] || 6");
    expect(bars("right |: C | D :| x4 E |")).toBe("|: 1 2 :| x4 3");
    expect(bars("right |: C | 1. D :| x3 2. E |")).toBe("|: 1 [1, 2] 2] :| [3] 3]");
  });

  test("a section that is played twice the same has signs, and an ending where its end differs", () => {
    const chart = (words: string): string =>
      `section A\nlead | 1 | 2 |\n${words}section B\nlead (5) | 3 |\nform A x3 B`;
    expect(bars("section A\nright | C | D |\nform A x3")).toBe("|: 1 2 :| x3");
    expect(bars(chart(""))).toBe("|: 1 [1, 2] 2] :| [3] 3] || 4");
  });

  test("other words are written out", () => {
    expect(bars("section A\nlead | 1 |\nwords | oh |\nwords | ah |\nform A x2")).toBe("1 || 2");
    // The last verse stays.
    expect(bars("section A\nlead | 1 |\nwords | oh |\nwords | ah |\nform A x4")).toBe("1 || |: 2 :| x3");
  });

  test("a tone held over a sign, and a pickup over one pass alone, are written out", () => {
    expect(bars("right |: - | C :|\n")).toBe("1 2 3 4");
    expect(bars("right |: C | 1. - :| 2. - D |")).toBe("1 2 3 4");
    expect(bars("right |: C | D :|\n\nright E | F |")).toBe("1 2 3 4 5");
  });

  test("a vamp is repeated until cued unless the form says how often", () => {
    const chart = "key C\nsection A\nvamp\nright | C |\nsection B\nright | D |\n";
    expect(barLines(`${chart}form A B`)).toBe("|: 1 :| 2");
    expect(texts(scoreOf(`${chart}form A B`), "words")).toEqual(["repeat until cued"]);
    expect(barLines(`${chart}form A x4 B`)).toBe("|: 1 :| x4 2");
    expect(texts(scoreOf(`${chart}form A x4 B`), "words")).toEqual([]);
  });

  test("sections are named where they start, and a moved one has its key", () => {
    const score = scoreOf(
      "key F\nsection Verse\nchords | 1 |\nright | 1 |\nsection Tag\nchords | 4 |\nright | 1 |\nform Verse Tag up half Verse",
    );
    expect(texts(score, "rehearsal")).toEqual(["Verse", "Tag", "Verse"]);
    expect(texts(score, "fifths")).toEqual(["-1", "-6", "-1"]);
    expect(texts(score, "root-step")).toEqual(["F", "C", "F"]);
    expect(texts(score, "root-alter")).toEqual(["-1"]);
  });

  test("who comes back to a sign reads key and meter there anew", () => {
    const score = scoreOf("key C\nright |: C |\n\nkey D\ntime 3/4\nright | D :|\n");
    expect(texts(score, "fifths")).toEqual(["0", "2"]);
    expect(barLines("key C\nright |: C |\n\nkey D\ntime 3/4\nright | D :|\n\nright | E |")).toBe(
      "|: 1 2 :| 3",
    );
    const again = scoreOf("key C\nright | C |\n\nkey D\nright |: D |\n\nkey E\nright | E :|\n");
    expect(texts(again, "fifths")).toEqual(["0", "2", "4"]);
    expect(readScore(again).bars.map(({ fifths }) => fifths)).toEqual([0, 2, 4, 2, 4]);
  });
});

describe("chords", () => {
  test("in letters over the staff, with what the kind doesn't say as degrees that aren't printed twice", () => {
    const [harmony] = elements(scoreOf("key C\nchords | Bb7#9/D |"), "harmony");
    expect(harmony).toBe(
      '<harmony placement="above"><root><root-step>B</root-step><root-alter>-1</root-alter></root>' +
        '<kind text="7♯9">dominant</kind><bass><bass-step>D</bass-step></bass>' +
        '<degree print-object="no"><degree-value>9</degree-value><degree-alter>1</degree-alter>' +
        "<degree-type>add</degree-type></degree></harmony>",
    );
  });

  test("written in numbers they have their numerals too, counted in the key of the place", () => {
    const numerals = (key: string, chord: string): string | undefined =>
      elements(scoreOf(`key ${key}\nchords | ${chord} |`), "harmony")[1]?.replace(
        /^<harmony placement="below"><numeral>|<\/harmony>$/g,
        "",
      );
    expect(numerals("Eb", "5:7/3")).toBe(
      '<numeral-root text="5">5</numeral-root><numeral-key print-object="no"><numeral-fifths>-3</numeral-fifths>' +
        '<numeral-mode>major</numeral-mode></numeral-key></numeral><kind text=":7">dominant</kind>' +
        '<bass><bass-step text="3">G</bass-step></bass>',
    );
    expect(numerals("Eb", "b7maj7")).toContain(
      '<numeral-root text="7">7</numeral-root><numeral-alter>-1</numeral-alter>',
    );
    // C minor counts along its own scale: 7 is B flat, #7 the raised one.
    expect(numerals("C minor", "7")).toContain(
      '<numeral-root text="7">7</numeral-root><numeral-key print-object="no"><numeral-fifths>-3</numeral-fifths><numeral-mode>natural minor</numeral-mode>',
    );
    expect(numerals("C minor", "#7dim")).toContain("<numeral-alter>1</numeral-alter>");
    // Along D dorian 3 is F, which the standard can only call a lowered third of D major.
    expect(numerals("D dorian", "3")).toContain(
      '<numeral-root text="3">3</numeral-root><numeral-alter print-object="no">-1</numeral-alter><numeral-key print-object="no"><numeral-fifths>2</numeral-fifths>',
    );
    expect(elements(scoreOf("key C\nchords | C F7 |"), "numeral")).toEqual([]);
  });

  test("a bass alone is written as its chord is", () => {
    const kinds = elements(scoreOf("key C\nchords | 1 /7 | C /B |"), "harmony").map((it) =>
      it.includes("<numeral>") ? "number" : "letter",
    );
    expect(kinds).toEqual(["letter", "number", "letter", "number", "letter", "letter"]);
  });

  test("where none sounds it is said, and NC in words", () => {
    const score = scoreOf("key C\nchords | 1 r 4 NC | / | 5 |\nright | C | D | E |");
    expect(elements(score, "kind").map((it) => it.replace(/<[^>]*>/g, ""))).toEqual([
      "major",
      "major",
      "none",
      "major",
      "major",
      "none",
      "major",
      "major",
    ]);
    expect(texts(score, "words")).toEqual(["N.C."]);
  });

  test("a chord that comes while a note sounds has its place in the bar", () => {
    expect(texts(scoreOf("key C\nchords | C - F G |\nright | C |"), "offset")).toEqual(["2", "3"]);
  });
});

describe("tempo and feel", () => {
  test("the beat is a dotted quarter in 6/8, and sound counts quarters", () => {
    const score = scoreOf("time 6/8\ntempo 52\nright | C |");
    expect(elements(score, "metronome")).toEqual([
      "<metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>52</per-minute></metronome>",
    ]);
    expect(score).toContain('<sound tempo="78"/>');
  });

  test("a tempo that nobody says is for sound only", () => {
    const score = scoreOf("right | C |");
    expect(score).toContain('<sound tempo="80"/>');
    expect(score).not.toContain("<metronome>");
  });

  test("swing is a word and a ratio, a shuffle two to one, and straight again is said", () => {
    const score = scoreOf(
      "feel swing\nright | C |\n\nfeel shuffle\nright | C |\n\nfeel straight\nright | C |",
      {
        swing: { n: 7, d: 5 },
      },
    );
    expect(texts(score, "words")).toEqual(["Swing", "Shuffle", "Straight"]);
    expect(elements(score, "swing")).toEqual([
      "<swing><first>7</first><second>5</second><swing-type>eighth</swing-type></swing>",
      "<swing><first>2</first><second>1</second><swing-type>eighth</swing-type></swing>",
      "<swing><straight/></swing>",
    ]);
  });
});

test("title, writer and remarks stand at its head", () => {
  const score = scoreOf("title Low & Tide\nby the <Thursday> band\nnote softly\nright | C |");
  expect(texts(score, "work-title")).toEqual(["Low &amp; Tide"]);
  expect(texts(score, "creator")).toEqual(["the &lt;Thursday&gt; band"]);
  expect(texts(score, "miscellaneous-field")).toEqual(["softly"]);
});

describe("hostile charts", () => {
  test.each(hostileCharts)("%s: a score whose voices fill their bars, the same each time", (_name, text) => {
    const { chart } = openDocument("a.plagal", text);
    const { text: score } = musicXml(chart);
    expect(musicXml(chart).text === score).toBe(true);
    expect(/<script|<!--|]]>|<\?(?!xml version)/.test(score)).toBe(false);
    expect(() => readScore(score)).not.toThrow();
    expect(new TextDecoder().decode(exporters.musicxml(chart).bytes) === score).toBe(true);
  });
});
