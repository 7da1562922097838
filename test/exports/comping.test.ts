import { describe, expect, test } from "vitest";
import { printFraction } from "../../server/src/theory/fraction.js";
import { guideTones } from "../../server/src/theory/quality.js";
import { keyAbove } from "../../server/src/theory/tone-number.js";
import { usualQualities } from "../../server/src/theory/usual-qualities.js";
import { chord } from "../support/chord-text.js";
import { heard, performed } from "./hear.js";

/** The comping of a chart as the keys of each touch. */
const voiced = (text: string): string =>
  heard(text, "comping")
    .split(", ")
    .map((touch) => touch.split(" ")[0])
    .join(" ");

/** The MIDI numbers of each touch. */
function touches(text: string): readonly (readonly number[])[] {
  const byTime = new Map<string, number[]>();
  for (const { at, pitch } of performed(text).parts.flatMap(({ notes }) => notes)) {
    const time = printFraction(at);
    byTime.set(time, [...(byTime.get(time) ?? []), pitch.midi]);
  }
  return [...byTime.values()];
}

describe("where no hand has a row, the chords are comped", () => {
  test("smoothly, in close position in the middle, the bass below: common practice", () => {
    expect(voiced("key C\nchords | 1 | 6m7 | 2m7 | 5:7 | 1 |")).toBe(
      "C3+C4+E4+G4 A2+C4+E4+G4 D2+C4+F4+A4 G2+B3+F4+G4 C3+C4+E4+G4",
    );
    expect(voiced("key C\nchords | 2:9 5:9sus | 5:7b9 1:6/9 |")).toBe(
      "D2+C4+E4+F#4+A4 G2+C4+F4+A4 G2+B3+F4+Ab4 C3+D4+E4+A4",
    );
  });

  test("with the bass that the symbol asks for, and the tones that it alters", () => {
    expect(voiced("key C\nchords | 1/3 | 5:7alt | 3:7#5 |")).toBe(
      "E2+C4+E4+G4 G2+B3+D#4+F4+Ab4 E2+B#3+D4+E4+G#4",
    );
  });

  test("no natural 11 against a major third", () => {
    expect(voiced("key C\nchords | C13 |")).not.toMatch(/F/);
    expect(voiced("key C\nchords | Cm11 |")).toMatch(/F/);
  });

  test("in another key it is the same one block higher or lower", () => {
    const keys = (key: string): number[] =>
      performed(`key ${key}\nchords | 1 | 4maj7 5:9sus | 6m7 | b7 |`).parts.flatMap(({ notes }) =>
        notes.map(({ pitch }) => pitch.midi),
      );
    const inC = keys("C");
    expect(keys("Eb")).toEqual(inC.map((midi) => midi + 3));
    expect(keys("Bb")).toEqual(inC.map((midi) => midi - 2));
  });

  test("whatever the spelling of the key", () => {
    const keys = (key: string): number[] =>
      performed(`key ${key}\nchords | 1 | 6:7b9 | 2m7b5 b2maj7 | 5:7alt | #4dim7 |`).parts.flatMap(
        ({ notes }) => notes.map(({ pitch }) => pitch.midi),
      );
    expect(keys("Gb")).toEqual(keys("F#"));
    expect(heard("key F#\nchords | 3:7 |", "comping")).toBe("A#2+G#4+A#4+Cx5 0-1");
  });

  test.each([...usualQualities])(
    "%s over any bass, with its third and seventh, below any next chord",
    (quality) => {
      for (const bass of ["", "/2", "/b3", "/3", "/#4", "/b6", "/b7", "/7"]) {
        const [touch = [], next = []] = touches(`key C\nchords | 1:${quality}${bass} | 4 |`);
        const classes = touch.map((midi) => midi % 12);
        expect(classes).toEqual(
          expect.arrayContaining(guideTones(chord(`C:${quality}`).quality).map(keyAbove)),
        );
        expect(touch.length).toBeGreaterThan(2);
        expect(next.length).toBeGreaterThan(2);
      }
    },
  );

  test("a chord is struck anew at a bar line, but not where it came early", () => {
    expect(heard("key C\nchords | 1 | |", "comping")).toBe("C3+C4+E4+G4 0-1, C3+C4+E4+G4 1-2");
    expect(heard("key C\nchords | 1 / / (/ 4) | |", "comping")).toBe("C3+C4+E4+G4 0-7/8, F2+C4+F4+A4 7/8-2");
  });

  test("r and NC silence it", () => {
    expect(heard("key C\nchords | 1 r | NC 1 |", "comping")).toBe("C3+C4+E4+G4 0-1/2, C3+C4+E4+G4 3/2-2");
  });

  test("a bass row plays the bass, and a hand's row ends the comping", () => {
    const chart = `
      key C
      chords | 1 |
      bass   | 1 |
      lead   | 1 |

      chords | 1 |
      left   | 1 |

      chords | 4 |
    `;
    expect(heard(chart, "comping")).toBe("C4+E4+G4 0-1, F2+C4+F4+A4 2-3");
  });

  test("it is nobody's hand, and softer where the hands are balanced", () => {
    const [even] = performed("key C\nchords | 1 |").parts;
    const [soft] = performed("key C\nchords | 1 |", { balance: true }).parts;
    expect(even?.notes[0]).toMatchObject({ hand: undefined, loudness: 80 });
    expect(soft?.notes[0]?.loudness).toBe(70);
  });
});
