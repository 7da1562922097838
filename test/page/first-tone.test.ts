import { describe, expect, test } from "vitest";
import { firstTone, soundFirstTone } from "../../server/src/page/first-tone.js";
import { loopOf } from "../../server/src/page/loops.js";
import { readChord } from "../../server/src/theory/chord.js";
import { pitchName, readPitch } from "../../server/src/theory/pitch.js";
import { keyAbove } from "../../server/src/theory/tone-number.js";
import { usualQualities } from "../../server/src/theory/usual-qualities.js";
import { songIn } from "../support/song-in.js";

const whole = { from: 0, to: Number.POSITIVE_INFINITY };
const words = (text: string, range = whole): string | undefined => firstTone(songIn(text), range)?.words;
const midi = (name: string): number => readPitch(name)?.midi ?? 0;
/** The chord's keys, in C and its neighbours. */
const chord = (text: string): string =>
  (firstTone(songIn(text), whole)?.chord ?? [])
    .map((key) => pitchName({ fifths: (((key % 12) * 7 + 5) % 12) - 5, midi: key }))
    .join(" ");

describe("the first tone for a singer", () => {
  test("at the start of all stands over the home chord of the key", () => {
    expect(words("key C\nchords | C |\nlead | G4 |\n")).toBe("G4, over C");
    expect(words("key A minor\nchords | Dm |\nlead | F4 |\n")).toBe("F4, over Am");
    expect(words("key D dorian\nlead | A4 |\n")).toBe("A4, over Dm");
    expect(words("key Eb\nchords | 1 |\nlead | 3 |\n")).toBe("G4, over E♭");
  });

  test("within the music stands over the chord that sounds already", () => {
    expect(words("key C\nchords | F/A |\nlead | r A4 |\n")).toBe("A4, over F/A");
    expect(words("key C\nchords | C | G7 - |\nlead | r | r B4 |\n")).toBe("B4, over G7");
  });

  test("that comes in together with a chord stands after the one before", () => {
    expect(words("key C\nchords | G7 | C |\nlead | r | E4 |\n")).toBe("E4, after G7");
    expect(words("key C\nchords | Bb7 | NC |\nlead | r | E4 |\n")).toBe("E4, after B♭7");
  });

  const form =
    "key C\ntempo 60\nform Intro Verse Chorus Verse\nsection Intro\nchords | C | Dm7 |\n\nsection Verse\nchords | C | F |\nlead (r E4) | G4 | A4 |\n\nsection Chorus\nchords | G |\nlead | D5 |\n";
  const ofSection = (section: number, seconds = 0) =>
    words(form, loopOf(songIn(form), String(section), undefined, seconds) ?? whole);

  test("of a section is that of its pickup", () => {
    expect(ofSection(1)).toBe("E4, over Dm7");
    expect(ofSection(2)).toBe("D5, after F");
  });

  test("of a section is that of the turn which sounds", () => {
    expect(ofSection(1, 21)).toBe("E4, over G");
  });

  test("from a place is the next one that begins there or later", () => {
    expect(words(form, { from: 12, to: 100 })).toBe("A4, after C");
    expect(words(form, { from: 12.5, to: 100 })).toBe("D5, after F");
  });

  test("is in the key that is played", () => {
    expect(firstTone(songIn("key C\nchords | C |\nlead | G4 |\n", -1), whole)?.words).toBe("C5, over F");
  });

  test("without a melody is the top of what the right hand strikes first", () => {
    expect(words("key C\nchords | C |\nright | r C4+E4+G4 |\nleft | C2 - |\n")).toBe("G4, over C");
    expect(words("key C\nchords | C |\nright | r ~C4+E4+G4 C5 |\n")).toBe("G4, over C");
    expect(words("key C\nchords | C |\nright | r D#4~E4 |\n")).toBe("E4, over C");
  });

  test("is none where nobody has one", () => {
    expect(words("key C\nchords | C |\nleft | C2 |\n")).toBeUndefined();
    expect(words("key C\nchords | C |\n")).toBeUndefined();
    expect(words("")).toBeUndefined();
    expect(words("key C\ntempo 60\nlead | C4 |\n", { from: 1, to: 4 })).toBeUndefined();
  });
});

describe("the chord before it", () => {
  test("is a block in the middle register on its root or bass", () => {
    expect(chord("key C\nlead | G4 |\n")).toBe("C3 C4 E4 G4");
    expect(chord("key C\nchords | F/A |\nlead | r A4 |\n")).toBe("A2 A3 C4 F4");
    expect(chord("key C\nchords | G7 |\nlead | r B4 |\n")).toBe("G3 B3 D4 F4");
  });

  test.each([...usualQualities])("C%s has its own tones, without mud and within two octaves", (quality) => {
    const it = firstTone(songIn(`key C\nchords | C:${quality} |\nlead | r C5 |\n`), whole);
    const keys = it?.chord ?? [];
    const { tones } = readChord(`C:${quality}`)?.quality ?? { tones: [] };
    const own = new Set(tones.map(keyAbove));
    expect(keys.filter((key) => !own.has(key % 12))).toEqual([]);
    expect(keys.length).toBeGreaterThanOrEqual(Math.min(4, tones.length + 1));
    expect((keys[0] as number) % 12).toBe(0);
    expect(keys[0]).toBeGreaterThanOrEqual(midi("C2"));
    expect((keys[1] as number) - (keys[0] as number)).toBeGreaterThanOrEqual(3);
    expect((keys.at(-1) as number) - (keys[0] as number)).toBeLessThan(24);
    expect([...keys].sort((a, b) => a - b)).toEqual(keys);
  });

  test("sounds first, all at once, and the tone alone behind it", () => {
    const it = firstTone(songIn("key C\nlead | G4 |\n"), whole);
    const due = it === undefined ? [] : soundFirstTone(it, 10);
    const [first, last] = [due[0], due.at(-1)];
    expect(due.map(({ midi }) => midi)).toEqual([...(it?.chord ?? []), midi("G4")]);
    expect(new Set(due.slice(0, -1).map(({ start }) => start))).toEqual(new Set([10]));
    expect(last?.start).toBeGreaterThan(first?.end ?? 0);
    expect(last?.end).toBeGreaterThan((last?.start ?? 0) + 1);
  });
});
