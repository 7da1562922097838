import { expect, test } from "vitest";
import { avoidNotes, scalesFor, tensionsOf } from "../../server/src/theory/chord-scales.js";
import { functionOf } from "../../server/src/theory/harmonic-function.js";
import { modeNames, readKey, scaleDegree, scaleOf, triadOn } from "../../server/src/theory/key.js";
import { nameOf, pitchClass } from "../../server/src/theory/note-name.js";
import { complete, plainQuality } from "../../server/src/theory/quality.js";
import { keyAbove, printNumber } from "../../server/src/theory/tone-number.js";
import { usualQualities } from "../../server/src/theory/usual-qualities.js";
import { chord, overLetter, reachable } from "../support/chord-text.js";

function scales(name: string, symbol: string, next?: string): ReturnType<typeof scalesFor> {
  const key = readKey(name);
  if (key === undefined) throw new Error(name);
  const it = chord(symbol);
  return scalesFor(it, key, functionOf(it, key, next === undefined ? undefined : chord(next)));
}

test.each([
  ["C major", "C", "F", "C major", "C D E F G A B"],
  ["C major", "Dm7", "G7", "D dorian", "D E F G A B C"],
  ["C major", "Em7", "Am", "E phrygian", "E F G A B C D"],
  ["C major", "Fmaj7", "C", "F lydian", "F G A B C D E"],
  ["C major", "G7", "C", "G mixolydian", "G A B C D E F"],
  ["C major", "Am", "F", "A minor", "A B C D E F G"],
  ["C major", "Bm7b5", "C", "B locrian", "B C D E F G A"],
  ["C major", "A7", "Dm7", "A mixolydian b6", "A B C# D E F G"],
  ["C major", "E7", "Am", "E phrygian dominant", "E F G# A B C D"],
  ["C major", "D7", "G", "D mixolydian", "D E F# G A B C"],
  ["C major", "Db7", "C", "Db lydian dominant", "Db Eb F G Ab Bb Cb"],
  ["C major", "Bb7", "C", "Bb lydian dominant", "Bb C D E F G Ab"],
  ["C major", "Fm6", "C", "F melodic minor", "F G Ab Bb C D E"],
  ["C major", "G7alt", "C", "G altered", "G Ab A# B Db Eb F"],
  ["C major", "C#dim7", "Dm", "C# whole-half diminished", "C# D# E F# G A Bb B#"],
  ["C major", "G7#9b13", "C", "G altered", "G Ab A# B Db Eb F"],
  ["C major", "Gmaj7b9", "C", "none", ""],
  ["C minor", "G7", "Cm", "G phrygian dominant", "G Ab B C D Eb F"],
  ["F# major", "G#m7", "C#7", "G# dorian", "G# A# B C# D# E# F#"],
])("in %s, %s before %s takes %s", (key, symbol, next, name, tones) => {
  const found = scales(key, symbol, next);
  expect(found[0]?.name ?? "none").toBe(name);
  expect((found[0]?.tones ?? []).map(nameOf).join(" ")).toBe(tones);
});

test.each([
  ["C major", "C", "F", "C major, C lydian"],
  ["C major", "Dm", "G", "D dorian"],
  ["C major", "Em", "Am", "E phrygian, E minor"],
  ["C major", "F", "C", "F lydian"],
  ["C major", "G", "C", "G mixolydian"],
  ["C major", "Am", "F", "A minor, A dorian"],
  ["C major", "Bdim", "C", "B locrian, B locrian #2"],
  ["C major", "Csus", "C", "C major"],
  ["C major", "Gsus", "G", "G mixolydian"],
  ["C major", "C5", "F", "C major, C lydian"],
  ["C major", "Dm7", "G7", "D dorian"],
  ["C major", "G7", "C", "G mixolydian, G lydian dominant, G mixolydian b6"],
  ["C major", "G7b9", "C", "G phrygian dominant, G half-whole diminished"],
  ["C major", "G7#5", "C", "G mixolydian b6, G whole tone"],
  ["C major", "A7", "Dm", "A mixolydian b6, A mixolydian, A phrygian dominant"],
  ["C major", "E7", "Am", "E phrygian dominant, E mixolydian b6"],
  ["C major", "Db7", "C", "Db lydian dominant"],
  ["C major", "Bb7", "C", "Bb lydian dominant"],
  ["C major", "F7", "C", "F lydian dominant"],
  ["C major", "Fm", "C", "F melodic minor, F dorian"],
  ["C major", "Ab", "Bb", "Ab lydian"],
  ["A minor", "Am", "Dm", "A minor, A dorian, A harmonic minor"],
  ["A minor", "Am6", "E7", "A dorian, A melodic minor"],
  ["A minor", "C", "F", "C major, C lydian"],
  ["A minor", "G", "C", "G mixolydian"],
  ["A minor", "E7", "Am", "E phrygian dominant, E mixolydian b6"],
  ["A minor", "G#dim", "Am", "G# whole-half diminished"],
  ["G mixolydian", "F", "G", "F lydian"],
])("in %s, over %s before %s a teacher names %s and no more", (key, symbol, next, names) => {
  expect(
    scales(key, symbol, next)
      .map(({ name }) => name)
      .join(", "),
  ).toBe(names);
});

test("no chord in common use is given more than four scales", () => {
  for (const mode of modeNames) {
    for (let degree = 1; degree <= 7; degree++) {
      const key = { tonic: -3, mode };
      for (const quality of usualQualities.map(overLetter)) {
        if (quality === undefined) continue;
        const it = { root: scaleDegree(key, degree, 0), quality, bass: undefined };
        const found = scalesFor(it, key, functionOf(it, key, undefined));
        expect([quality.symbol, mode, degree, found.length <= 4]).toEqual([
          quality.symbol,
          mode,
          degree,
          true,
        ]);
      }
    }
  }
});

test("every triad of every key has that key's own tones as its best scale", () => {
  for (const mode of modeNames) {
    for (let degree = 1; degree <= 7; degree++) {
      const key = { tonic: -3, mode };
      const { third, fifth } = triadOn(key, degree);
      const root = scaleDegree(key, degree, 0);
      const it = { root, quality: complete(plainQuality, third, fifth), bass: undefined };
      const best = scalesFor(it, key, functionOf(it, key, undefined))[0];
      expect([...(best?.tones ?? [])].sort()).toEqual([...scaleOf(key)].sort());
    }
  }
});

test("every scale holds its chord, or all but the natural fifth", () => {
  const key = { tonic: 0, mode: "major" as const };
  for (const quality of reachable()) {
    const it = { root: -2, quality, bass: undefined };
    for (const { tones } of scalesFor(it, key, functionOf(it, key, undefined))) {
      const keys = tones.map((fifths) => pitchClass(fifths - it.root));
      expect([
        quality.symbol,
        quality.tones.every((n) => keys.includes(keyAbove(n)) || keyAbove(n) === 7),
      ]).toEqual([quality.symbol, true]);
    }
  }
});

test.each([
  ["7b9", "#9 #11 b13 13"],
  ["7alt", ""],
  ["9", "b9 #9 #11 b13 13"],
  ["maj9#11", "13"],
])("over %s players add %s", (symbol, tensions) => {
  expect(
    tensionsOf(chord(`C${symbol}`).quality)
      .map(printNumber)
      .join(" "),
  ).toBe(tensions);
});

test("a tension is never a tone of its chord", () => {
  for (const quality of reachable()) {
    const keys = quality.tones.map(keyAbove);
    expect(tensionsOf(quality).filter((n) => keys.includes(keyAbove(n)))).toEqual([]);
  }
});

test.each([
  ["C major", "Cmaj7", "F"],
  ["C major", "Em7", "F C"],
  ["C major", "G7", "C"],
  ["C major", "Dm7", ""],
  ["C major", "Fmaj7", ""],
])("in %s the tones to avoid over %s are '%s'", (key, symbol, tones) => {
  const best = scales(key, symbol)[0];
  expect(best === undefined ? "none" : avoidNotes(chord(symbol), best).map(nameOf).join(" ")).toBe(tones);
});
