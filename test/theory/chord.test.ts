import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type Chord,
  chordNumber,
  chordSymbol,
  completeOnDegree,
  degreeText,
  letterText,
  prettyChord,
  readChord,
  splitSlash,
  toneInChord,
} from "../../server/src/theory/chord.js";
import { type Key, modeNames, readKey, scaleDegree } from "../../server/src/theory/key.js";
import { nameOf, readName } from "../../server/src/theory/note-name.js";
import { qualityOf, readQuality } from "../../server/src/theory/quality.js";
import { printNumber, readNumber } from "../../server/src/theory/tone-number.js";
import { chord, reachable, tonesOf } from "../support/chord-text.js";
import { assertProperty } from "../support/property.js";

const qualities = reachable();

/** A chord in numbers, read as a chart reads it: root, colon, quality, bass. */
function readDegrees(text: string, key: Key): Chord | undefined {
  const [over, bass] = splitSlash(text, (after) => /^[b#]*[1-7]$/.test(after));
  const found = /^([b#]*[1-7])(:?)(.*)$/.exec(over);
  const root = readNumber(found?.[1] ?? "");
  const quality = found?.[3] ?? "";
  const reading = readQuality(quality);
  if (root === undefined || reading === undefined || (found?.[2] === "") === /^[0-9b#]/.test(quality))
    return undefined;
  const low = bass === undefined ? undefined : readNumber(bass);
  return {
    root: scaleDegree(key, root.number, root.alter),
    quality: completeOnDegree(reading, key, root.number, root.alter),
    bass: low === undefined ? undefined : scaleDegree(key, low.number, low.alter),
  };
}

function key(text: string): Key {
  const read = readKey(text);
  if (read === undefined) throw new Error(text);
  return read;
}

describe("letters", () => {
  test.each([
    ["Bb7#9/D", "Bb", "1 3 5 b7 #9", "D"],
    ["C6/9", "C", "1 3 5 6 9", undefined],
    ["C6/9/E", "C", "1 3 5 6 9", "E"],
    ["F:7", "F", "1 3 5 b7", undefined],
    ["C:b9", "C", "1 3 5 b7 b9", undefined],
    ["Cb9", "Cb", "1 3 5 b7 9", undefined],
    ["E♭m7♭5", "Eb", "1 b3 b5 b7", undefined],
    ["C", "C", "1 3 5", undefined],
    ["Cadd2/G", "C", "1 2 3 5", "G"],
    ["Am/M7", "A", "1 b3 5 7", undefined],
    ["Fx7", "Fx", "1 3 5 b7", undefined],
    ["F##7/A##", "Fx", "1 3 5 b7", "Ax"],
    ["G/B", "G", "1 3 5", "B"],
    ["Dsus", "D", "1 4 5", undefined],
  ])("%s is on %s: %s, over %s", (text, root, tones, bass) => {
    const read = chord(text);
    expect(nameOf(read.root)).toBe(root);
    expect(tonesOf(read.quality)).toBe(tones);
    expect(read.bass === undefined ? undefined : nameOf(read.bass)).toBe(bass);
  });

  test.each(["", "H7", "c", "C:", "C/", "C/H", "Cfoo", "7", "C#b", "C/E/G"])("'%s' is no chord", (text) => {
    expect(readChord(text)).toBeUndefined();
  });

  test.each([
    ["Bbm7/Db", "B♭m7/D♭"],
    ["F#m7b5", "F♯m7♭5"],
    ["C7#9b13", "C7♯9♭13"],
    ["Cdim7", "Cdim7"],
    ["Fxm", "Gm"],
    ["Caddb9", "Caddb9"],
    ["Bbb/Db", "A/D♭"],
  ])("%s is shown as %s", (text, shown) => {
    expect(prettyChord(chord(text))).toBe(shown.replace("addb", "add♭"));
  });

  test("what is printed reads back, on any root and over any bass", () => {
    const name = fc.integer({ min: -22, max: 26 });
    assertProperty(
      fc.property(
        name,
        fc.constantFrom(...qualities),
        fc.option(name, { nil: undefined }),
        (root, quality, bass) => {
          const printed: Chord = { root, quality, bass };
          expect(readChord(chordSymbol(printed))).toEqual(printed);
          expect(readChord(letterText(printed))).toEqual(printed);
        },
      ),
      1000,
    );
  });
});

describe("numbers", () => {
  test.each([
    ["Eb major", "Fm", "2"],
    ["Eb major", "F", "2maj"],
    ["Eb major", "Fm6", "2m6"],
    ["Eb major", "C7", "6:7"],
    ["Eb major", "F9#11", "2:9#11"],
    ["Eb major", "Eb7/G", "1:7/3"],
    ["Eb major", "Abmaj7", "4maj7"],
    ["Eb major", "Db", "b7"],
    ["Eb major", "Dbm", "b7m"],
    ["Eb major", "Ddim", "7"],
    ["Eb major", "Edim", "#1dim"],
    ["Eb major", "Eb6", "1:6"],
    ["Eb major", "F6", "2maj6"],
    ["Eb major", "Ebadd2/G", "1add2/3"],
    ["Eb major", "Bb7sus", "5:7sus"],
    ["Eb major", "Eb5", "1:5"],
    ["Eb major", "Absus/Bb", "4sus/5"],
    ["C minor", "Eb", "3"],
    ["C minor", "Gm", "5"],
    ["C minor", "G7", "5:7"],
    ["C minor", "Bdim7", "#7dim7"],
    ["C minor", "Ebb", "bb3"],
    ["D dorian", "F", "3"],
    ["D dorian", "Bdim", "6"],
  ])("in %s, %s is written %s and reads back", (name, text, wanted) => {
    const inKey = key(name);
    expect(degreeText(chord(text), inKey)).toBe(wanted);
    expect(readDegrees(wanted, inKey)).toEqual(chord(text));
  });

  test.each([
    ["Eb major", "3", "Gm"],
    ["Eb major", "3m7b5", "Gm7b5"],
    ["Eb major", "4", "Ab"],
    ["Eb major", "1add2/3", "Ebadd2/G"],
    ["Eb major", "2:6", "Fm6"],
    ["Eb major", "2:7", "F7"],
    ["Eb major", "7:add9", "Dmadd9"],
    ["Eb major", "b7", "Db"],
    ["Eb major", "b7:6", "Db6"],
    ["Eb major", "#1", "Edim"],
    ["Eb major", "#1add9", "Emadd9"],
    ["Eb major", "1:6/9", "Eb69"],
    ["C minor", "b3", "Eb"],
    ["C minor", "b6:6", "Ab6"],
    ["C minor", "#7", "Bdim"],
    ["C minor", "b2", "Db"],
    ["F lydian", "#4", "Bdim"],
  ])("in %s, %s is %s", (name, text, wanted) => {
    const colon = text.replace(/^([b#]*[1-7]):(?=[a-z])/, "$1");
    const read = readDegrees(colon, key(name));
    expect(read === undefined ? undefined : chordSymbol(read)).toBe(wanted);
  });

  test("what is written reads back, in any key and mode", () => {
    const inKey = fc.record({ tonic: fc.integer({ min: -8, max: 8 }), mode: fc.constantFrom(...modeNames) });
    const distance = fc.integer({ min: -12, max: 12 });
    assertProperty(
      fc.property(
        inKey,
        distance,
        fc.constantFrom(...qualities),
        fc.option(distance, { nil: undefined }),
        (it, root, quality, bass) => {
          const written: Chord = {
            root: it.tonic + root,
            quality,
            bass: bass === undefined ? undefined : it.tonic + bass,
          };
          expect(readDegrees(degreeText(written, it), it)).toEqual(written);
        },
      ),
      1000,
    );
  });
});

describe("tones in a chord", () => {
  test.each([
    ["F7#9", "#9", "G#"],
    ["F7", "b5", "Cb"],
    ["C/E", "0", "E"],
    ["C", "0", "C"],
    ["Bb", "b3", "Db"],
  ])("in %s the %s is %s", (symbol, number, tone) => {
    expect(nameOf(toneInChord(chord(symbol), readNumber(number) ?? { number: 1, alter: 0 }))).toBe(tone);
  });

  test.each([
    ["C9", "D", "9"],
    ["C", "D", "2"],
    ["Cadd2", "D", "2"],
    ["C69", "A", "6"],
    ["C13", "A", "13"],
    ["F7#9", "G#", "#9"],
    ["F7#9", "Ab", "b3"],
    ["Csus", "F", "4"],
    ["Cm11", "F", "11"],
    ["C7", "Bb", "b7"],
  ])("over %s a %s is %s", (symbol, tone, number) => {
    expect(printNumber(chordNumber(chord(symbol), readName(tone) ?? 0))).toBe(number);
  });
});

test("a quality made of tones equals the one that is read", () => {
  expect(chord("C7").quality).toEqual(qualityOf(chord("C7").quality.tones));
});
