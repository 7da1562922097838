import { describe, expect, test } from "vitest";
import { fraction, printFraction, times } from "../../server/src/theory/fraction.js";
import { pitchName } from "../../server/src/theory/pitch.js";
import { heard, performed } from "./hear.js";

describe("what a key is held for", () => {
  test("a held tone is one note, over bar lines and systems too", () => {
    const chart = `
      key C
      right | E - G - | - _G+>C |

      right | - E |
    `;
    expect(heard(chart, "right")).toBe("E3 0-1/2, G3 1/2-5/2, C5 3/2-5/2, E3 5/2-3");
  });

  test("into two endings it lasts as long as each pass holds it", () => {
    const chart = `
      key C
      right |: C |1. - E :|2. - - - G |
    `;
    expect(heard(chart, "right")).toBe("C4 0-3/2, E3 3/2-2, C4 2-15/4, G3 15/4-4");
  });

  test("a section that comes between ends it, and what is held after it is struck again", () => {
    const chart = `
      key C
      section Tag
      left | G |
      section Verse
      right | E |
      play Tag
      right | - G |
      form Verse
    `;
    expect(heard(chart, "right")).toBe("E3 0-1, E3 2-5/2, G3 5/2-3");
    expect(heard(chart, "left")).toBe("G2 1-2");
  });

  test("where a repeat comes back with another tone, that one goes on", () => {
    expect(heard("key C\nright | C |: - D :|", "right")).toBe("C4 0-3/2, D4 3/2-5/2, D4 5/2-3");
  });

  test("a row that its system lacks rests, and nothing goes on after it", () => {
    const chart = `
      key C
      right | E |
      left  | C |

      left  | C |

      right | - G |
    `;
    expect(heard(chart, "right")).toBe("E3 0-1, G3 5/2-3");
  });

  test("each note keeps the text that it came from", () => {
    const text = "key C\nsection A\nright | E F~G |\n";
    const [part] = performed(text).parts;
    const words = part?.notes.map(({ source: { section, span } }) =>
      text.slice(section.offset + span.start, section.offset + span.end),
    );
    expect(words).toEqual(["E", "F", "F~G"]);
  });
});

describe("the form", () => {
  test("is written out: repeats, moved sections, and a section's own keys", () => {
    const chart = `
      key C
      section A
      right |: C :|
      section B
      key F
      right | C |
      form A "B" up half A in D
    `;
    expect(heard(chart, "right")).toBe("C4 0-1, C4 1-2, Db4 2-3, D4 3-4, D4 4-5");
    expect(performed(chart).bars.map(({ key }) => key.tonic)).toEqual([0, 0, -6, 2, 2]);
  });

  test("a vamp is played twice unless the form says how often", () => {
    const vamp = `
      key C
      section Groove
      vamp
      right | C |
    `;
    const starts = (chart: string, vampTimes?: number): number =>
      performed(chart, vampTimes === undefined ? {} : { vampTimes }).bars.length;
    expect(starts(vamp)).toBe(2);
    expect(starts(`${vamp}form Groove x3\n`)).toBe(3);
    expect(starts(vamp, 5)).toBe(5);
  });

  test("verses are sung in turn, the last one from then on", () => {
    const chart = `
      key C
      section A
      lead  | 1 2 |
      words | one two |
      words | three four |
      form A x3
    `;
    expect(performed(chart).words.map(({ text }) => text)).toEqual([
      "one",
      "two",
      "three",
      "four",
      "three",
      "four",
    ]);
  });

  test("words run to the next ones, and under a bar without a lead they stand at its start", () => {
    const chart = `
      key C
      lead  | 1 2 3 4 |
      words | Har-bour _ light |

      words | softly now |
      right | C |
    `;
    expect(
      performed(chart).words.map(({ text, at, length }) => [text, printFraction(at), printFraction(length)]),
    ).toEqual([
      ["Har-", "0", "1/4"],
      ["bour", "1/4", "1/2"],
      ["light", "3/4", "1/4"],
      ["softly now", "1", "1"],
    ]);
  });

  test("a form far too long stops, and says so", () => {
    const section = (name: string, plays: string): string => `section ${name}\nright | C | C |\n${plays}`;
    const nested = Array.from({ length: 6 }, (_, i) =>
      section(`S${i}`, i === 0 ? "" : `play S${i - 1} x99\n`),
    );
    const { bars, cut } = performed(`key C\n${nested.join("")}form S5\n`);
    expect(cut).toBe(true);
    expect(bars.length).toBeLessThanOrEqual(20_000);
  });

  test("it stops sooner where its bars are crowded", () => {
    const bar = Array.from({ length: 512 }, () => "C+E+G").join(" ");
    const { parts, cut } = performed(`key C\nsection A\nright | ${bar} |\nform A x99 A x99 A x99 A x99\n`);
    expect(cut).toBe(true);
    expect(parts[0]?.notes.length).toBeLessThan(250_000);
  });
});

describe("a pickup", () => {
  test("sounds over the end of the bar played before, in place of its row only", () => {
    const chart = `
      key C
      section A
      right | C - E F |
      left  | C |
      section B
      right (r G) | >C |
      left | G |
    `;
    expect(heard(chart, "right")).toBe("C4 0-1/2, E3 1/2-3/4, G3 7/8-1, C5 1-2");
    expect(heard(chart, "left")).toBe("C2 0-1, G2 1-2");
  });

  test("cuts off what is held under it", () => {
    expect(heard("key C\nsection A\nright | C |\nsection B\nright G | E |", "right")).toBe(
      "C4 0-3/4, G3 3/4-1, E3 1-2",
    );
  });

  test("that begins with a hold goes on with what the row really sounded just before", () => {
    const chart = `
      key C
      section A
      right | C D |
      section B
      right | E |
      section C
      right (- G) | - A |
      form A C B C
    `;
    expect(heard(chart, "right")).toBe(
      "C4 0-1/2, D4 1/2-7/8, G3 7/8-3/2, A3 3/2-2, E3 2-23/8, G3 23/8-7/2, A3 7/2-4",
    );
  });

  test("sounds when its system is entered from before, not when a repeat goes back", () => {
    expect(heard("key C\nright G |: C :|", "right")).toBe("G3 3/4-1, C4 1-2, C4 2-3");
  });

  test("at the start is led in to by whole bars, and a chart without one starts at once", () => {
    const leadIn = (text: string): string => printFraction(performed(text).leadIn);
    expect(leadIn("key C\nright G | C |")).toBe("1");
    expect(leadIn("key C\ntime 3/4\nright G A B C | C |")).toBe("3/2");
    expect(leadIn("key C\nright | C |")).toBe("0");
    expect(leadIn("key C\nright | C |\n\nright C D E F G A | C |")).toBe("1");
  });

  test("brings its words only when it sounds", () => {
    const chart = `
      key C
      lead  5    |: 1 :|
      words and  | go |
    `;
    expect(performed(chart).words.map(({ text, at }) => `${text} ${printFraction(at)}`)).toEqual([
      "and 3/4",
      "go 1",
      "go 2",
    ]);
  });
});

describe("the feel", () => {
  const eighths = (feel: string, options?: Parameters<typeof performed>[1]): string =>
    heard(`key C\n${feel}\nright | (C D) (C D E) (C D E F) - |`, "right", options);

  test("straight time is as written", () => {
    expect(eighths("feel straight")).toBe(
      "C4 0-1/8, D4 1/8-1/4, C4 1/4-1/3, D4 1/3-5/12, E3 5/12-1/2, C4 1/2-9/16, D4 9/16-5/8, E3 5/8-11/16, F3 11/16-1",
    );
  });

  test("a shuffle is exactly 2:1, and triplets stay as written", () => {
    expect(eighths("feel shuffle")).toBe(
      "C4 0-1/6, D4 1/6-1/4, C4 1/4-1/3, D4 1/3-5/12, E3 5/12-1/2, C4 1/2-7/12, D4 7/12-2/3, E3 2/3-17/24, F3 17/24-1",
    );
  });

  test("a swing is 3:2, or what is asked for", () => {
    expect(eighths("feel swing")).toMatch(/^C4 0-3\/20, D4 3\/20-1\/4, C4 1\/4-1\/3,/);
    expect(eighths("feel swing", { swing: fraction(1, 1) })).toBe(eighths("feel straight"));
    expect(eighths("feel swing", { swing: fraction(2, 1) })).toBe(eighths("feel shuffle"));
  });

  test("where the beat is parted in three, it stays", () => {
    const chart = (feel: string): string => `key C\ntime 6/8\nfeel ${feel}\nright | C D E F G A |`;
    expect(heard(chart("shuffle"), "right")).toBe(heard(chart("straight"), "right"));
  });

  test("it bends a pickup by its own beats, and the words with their notes", () => {
    const chart = `
      key C
      feel shuffle
      lead  (5 6) | (1 2) - - - |
      words a | b c |
    `;
    expect(heard(chart, "lead")).toBe("G4 3/4-11/12, A4 11/12-1, C4 1-7/6, D4 7/6-2");
    expect(performed(chart).words.map(({ at }) => printFraction(at))).toEqual(["3/4", "1", "7/6"]);
  });

  test("a push sounds where it is written, bent with its beat", () => {
    const chart = `
      key C
      feel shuffle
      chords | 1 4 |
      right  | 3 (- !3) - - |
    `;
    expect(heard(chart, "right")).toBe("E3 0-5/12, A3 5/12-1");
  });
});

describe("ornaments", () => {
  test("a roll climbs through both hands in the times that the hands need", () => {
    // At 60 beats a minute 40 ms are a hundredth of a whole note; each hand's own steps may take longer.
    const chart = (tempo: number): string => `key C\ntempo ${tempo}\nright | ~E+G |\nleft | ~C+G |`;
    const starts = (tempo: number): number[] =>
      performed(chart(tempo))
        .parts.flatMap(({ notes }) => notes)
        .sort((a, b) => a.pitch.midi - b.pitch.midi)
        .map(({ at }) => at.n / at.d);
    expect(starts(60)).toEqual([0, 0.01, 0.02, 0.03]);
    expect(starts(120)).toEqual([0, 0.02, 0.04, 0.06]);
  });

  test("a leap within a roll takes the time of the leap", () => {
    const chart = "key C\ntempo 60\nleft | ~C2+E3 |";
    const [, upper] = performed(chart).parts[0]?.notes ?? [];
    // C2 to E3 is 211.5 mm, 70.5 beyond a relaxed hand: 17 + 67 · log2(1 + 70.5 / 23.5) = 151 ms.
    expect(upper?.at).toEqual(fraction(151, 4000));
  });

  test("a roll that is too long is squeezed evenly into half its notes, and half a beat at most", () => {
    expect(heard("key C\ntempo 400\nright | ~C+D+E+F+G - - - |", "right")).toBe(
      "C4 0-1, D4 1/32-1, E4 1/16-1, F4 3/32-1, G4 1/8-1",
    );
    expect(heard("key C\ntempo 400\nright | (~C+D+E r) r r r |", "right")).toBe(
      "C4 0-1/8, D4 1/32-1/8, E4 1/16-1/8",
    );
  });

  test("only what is struck is rolled", () => {
    expect(heard("key C\ntempo 60\nright | E+G ~_E+G+C |", "right")).toBe(
      "E3 0-1, G3 0-1/2, G3 1/2-1, C4 51/100-1",
    );
  });

  test("a grace note is on the beat: an eighth of a beat, or half its note where that is shorter", () => {
    expect(heard("key C\nright | D~E - - - |", "right")).toBe("D3~ 0-1/32, E3 1/32-1");
    expect(heard("key C\nright | ((D~E r) r) r r r |", "right")).toBe("D3~ 0-1/32, E3 1/32-1/16");
    expect(heard("key C\nright | ((D~E (F G)) r) r r r |", "right")).toBe(
      "D3~ 0-1/32, E3 1/32-1/16, F3 1/16-3/32, G3 3/32-1/8",
    );
    expect(heard("key C\nright | (((D~E r) r) r) r r r |", "right")).toBe("D3~ 0-1/64, E3 1/64-1/32");
  });
});

describe("tempo, meter and key", () => {
  test("80 beats a minute where nobody says; else what holds in each bar", () => {
    const chart = `
      key C
      section A
      right | C |
      section B
      tempo 66
      time 6/8
      right | C |
      tempo 90
      key Eb
      right | C |
    `;
    expect(
      performed(chart).bars.map(({ tempo, meter, key, at }) => [
        printFraction(at),
        tempo,
        meter.beats,
        key.tonic,
      ]),
    ).toEqual([
      ["0", 80, 4, 0],
      ["1", 66, 6, 0],
      ["7/4", 90, 6, -3],
    ]);
  });

  test("the lead is the right hand's or somebody's, and each row is a part", () => {
    const { parts } = performed("key C\nlead | 1 |\nleft | C |\nbass | 1 |\n");
    expect(parts.map(({ name, notes }) => [name, notes[0]?.hand])).toEqual([
      ["lead", "right"],
      ["left", "left"],
      ["bass", undefined],
    ]);
  });
});

describe("in sound, if wanted", () => {
  const chart = "key C\nchords | 1 4 | r 5 |\nlead | >5 |\nright | 3+5 |\nleft | 1 |";

  test("the left hand is softer, lead and top voice louder", () => {
    const loudness = (balance: boolean): number[] =>
      performed(chart, { balance }).parts.flatMap(({ notes }) => notes.map((it) => it.loudness));
    expect(loudness(false)).toEqual([80, 80, 80, 80]);
    expect(loudness(true)).toEqual([90, 80, 90, 70]);
  });

  test("the pedal goes down with each chord and comes up with the next, or in silence", () => {
    const strokes = performed(chart, { pedal: true }).pedal.map(
      ({ at, length }) => `${printFraction(at)} ${printFraction(length)}`,
    );
    expect(strokes).toEqual(["0 1/2", "1/2 1/2", "3/2 1/2"]);
    expect(performed(chart).pedal).toEqual([]);
  });
});

describe("the chord row", () => {
  const chords = (text: string): string =>
    performed(text)
      .chords.map(
        ({ chord, at, length }) =>
          `${pitchName({ fifths: chord.root, midi: 0 }).replace(/-?\d+$/, "")} ${printFraction(at)} ${printFraction(length)}`,
      )
      .join(", ");

  test("a chord lasts to what really follows it", () => {
    expect(chords("key C\nchords |: 1 |1. / 5 :|2. | r 4 |")).toBe("C 0 3/2, G 3/2 1/2, C 2 2, F 9/2 1/2");
  });

  test("% strikes anew what sounded, and is silent where that was", () => {
    expect(chords("key C\nchords | 1 r 4 / | % | / NC / 5 | % |")).toBe(
      "C 0 1/4, F 1/2 1/2, C 1 1/4, F 3/2 3/4, G 11/4 1/4, F 3 1/4, G 15/4 1/4",
    );
  });

  test("its pickup covers the bar before, and a section's moves move it", () => {
    expect(chords("key C\nsection A\nchords | 1 |\nsection B\nchords 5 | 4 |\nform A B in D")).toBe(
      "C 0 3/4, A 3/4 1/4, G 1 1",
    );
  });

  test("it goes on after a section that is played within", () => {
    expect(
      chords("key C\nsection T\nchords | 5 |\nsection A\nchords | 1 |\nplay T\nchords | / 4 |\nform A"),
    ).toBe("C 0 1, G 1 1, C 2 1/2, F 5/2 1/2");
  });
});

test("nothing is lost in a chart of odd divisions: a bar of sevenths ends on its bar line", () => {
  const { parts, length } = performed("key C\nright | C D E F G A B | C D E F G A B |");
  const last = parts[0]?.notes.at(-1);
  expect(last && printFraction(times(last.at, 7))).toBe("13");
  expect(printFraction(length)).toBe("2");
});
