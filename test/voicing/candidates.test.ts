import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { grip } from "../../server/src/keyboard/grip.js";
import { readChord } from "../../server/src/theory/chord.js";
import { readKey } from "../../server/src/theory/key.js";
import { lowestClear } from "../../server/src/theory/low-intervals.js";
import { nameOf, pitchClass } from "../../server/src/theory/note-name.js";
import { pitchAt } from "../../server/src/theory/pitch.js";
import { contradicts, guideTones } from "../../server/src/theory/quality.js";
import { fifthsAbove, upper } from "../../server/src/theory/tone-number.js";
import { usualQualities } from "../../server/src/theory/usual-qualities.js";
import { candidatesFor } from "../../server/src/voicing/candidates.js";
import { type Style, styleNamed, styles } from "../../server/src/voicing/styles.js";
import type { Step } from "../../server/src/voicing/voicing.js";
import { property } from "../support/property.js";
import { asking, stepsOf } from "./passages.js";

const keys = ["C major", "Eb major", "A major", "D minor", "F# minor"].map((name) => readKey(name));
const drawn = fc.record({
  root: fc.integer({ min: -5, max: 6 }),
  quality: fc.constantFrom(...usualQualities),
  key: fc.constantFrom(...keys),
  style: fc.constantFrom(...styles),
  reach: fc.integer({ min: 7, max: 12 }),
  everyKey: fc.boolean(),
  moves: fc.array(fc.integer({ min: -6, max: 6 }), { maxLength: 2 }),
  melody: fc.option(
    fc.record({ fifths: fc.integer({ min: -3, max: 6 }), octave: fc.integer({ min: 3, max: 5 }) }),
  ),
  isAlone: fc.constantFrom(undefined, undefined, "left", "right"),
});

let proposed = 0;

property("what is proposed can be played, is clear, and says what the symbol says", drawn, 1500, (it) => {
  const symbol = nameOf(it.root) + (/^[b#]|^\d/.test(it.quality) ? `:${it.quality}` : it.quality);
  const chord = readChord(symbol);
  if (chord === undefined || it.key === undefined) throw new Error(`“${symbol}” can't be read`);
  const melody = it.melody === null ? undefined : pitchAt(it.melody.fifths, it.melody.octave);
  const step: Step = {
    chord,
    key: it.key,
    melody,
    left: it.isAlone === "right" ? [] : undefined,
    right: it.isAlone === "left" ? [] : undefined,
    time: undefined,
  };
  const reach = { left: it.reach, right: it.reach };
  const { candidates } = candidatesFor(step, undefined, it.style, {
    ...asking(it.style.name),
    ...it,
    reach,
    style: it.style.name,
  });
  const by = [0, ...it.moves, ...(it.everyKey ? [-6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5] : [])];
  for (const { left, right, leftKeys, rightKeys, keys: all } of candidates) {
    proposed++;
    const faults: string[] = [];
    const held = (is: boolean, fault: string): void => {
      if (!is) faults.push(fault);
    };
    for (const [hand, own] of [
      ["left", leftKeys],
      ["right", rightKeys],
    ] as const) {
      held(
        own.every((key, i) => key > (own[i - 1] ?? 0)),
        "out of order",
      );
      for (const move of by) {
        const moved = own.map((key) => key + move);
        held(moved.length === 0 || grip(moved, hand, it.reach).holds, `not held ${move} higher`);
        moved.forEach((key, i) => {
          held(key >= 21 && key <= 108, "off the keyboard");
          held(key >= (lowestClear((moved[i + 1] ?? key + 12) - key) ?? 0), `unclear ${move} higher`);
        });
      }
    }
    held(Math.max(0, ...leftKeys) < Math.min(200, ...rightKeys), "hands cross");
    held(
      melody === undefined || it.isAlone === "left" || rightKeys.at(-1) === melody.midi,
      "tune not on top",
    );
    const sounding = new Set(all.map((key) => key % 12));
    if (it.isAlone !== "left")
      for (const n of guideTones(chord.quality))
        held(sounding.has(pitchClass(chord.root + fifthsAbove(n))), `no ${n.number}`);
    for (const { pitch, number } of [...left, ...right]) {
      held(pitch.fifths === chord.root + fifthsAbove(number), "misspelled");
      if (pitch.midi === melody?.midi) continue;
      const isForeign =
        contradicts(chord.quality, number) ||
        (number.number <= 7 && number.number % 2 === 0 && contradicts(chord.quality, upper(number)));
      held(!isForeign, `${number.number} contradicts`);
    }
    if (faults.length > 0) expect(faults, `${symbol} ${it.style.name} ${all}`).toEqual([]);
  }
});

property("many were proposed", fc.constant(undefined), 1, () => {
  expect(proposed).toBeGreaterThan(5000);
});

describe("styles", () => {
  test("every one serves the usual chords of a key, with both hands and with either", () => {
    for (const style of styles) {
      for (const hands of [{}, { left: [] }, { right: [] }]) {
        for (const step of stepsOf("Cmaj7 Dm7 Em7 Fmaj7 G7 Am7 Bm7b5")) {
          const { candidates } = candidatesFor({ ...step, ...hands }, undefined, style, asking(style.name));
          const isServed =
            candidates.length > 0 ||
            style.nearest.some((name) => {
              const other = styleNamed(name) as Style;
              return (
                candidatesFor({ ...step, ...hands }, undefined, other, asking(name)).candidates.length > 0
              );
            });
          expect(isServed, `${style.name} ${step.chord.quality.symbol} ${JSON.stringify(hands)}`).toBe(true);
        }
      }
    }
  });

  test("have a name, a sentence, and others that stand in for them", () => {
    for (const { name, description, nearest } of styles) {
      expect(description).toMatch(/^[A-Z].*\.$/);
      expect(nearest.length).toBeGreaterThan(0);
      expect(nearest).not.toContain(name);
      for (const it of nearest) expect(styleNamed(it)?.name).toBe(it);
    }
    expect(styleNamed("fancy")).toBeUndefined();
  });

  test("have registers on the keyboard and numbers of voices that a hand has fingers for", () => {
    for (const style of styles) {
      const { name, home, full } = style;
      const laid = style.both.flatMap((it) =>
        it.kind === "apart" ? [it.left, it.right] : it.kind === "split" ? [it.part] : [it.right],
      );
      for (const { register, voices } of [...laid, ...style.left, ...style.right]) {
        expect(register[0], name).toBeGreaterThanOrEqual(21);
        expect(register[1], name).toBeLessThanOrEqual(108);
        expect(register[0], name).toBeLessThan(register[1]);
        expect(voices[0], name).toBeGreaterThan(0);
        expect(voices[0], name).toBeLessThanOrEqual(voices[1]);
        expect(voices[1], name).toBeLessThanOrEqual(5);
      }
      expect(home.left, name).toBeLessThan(home.right);
      expect(full, name).toBeGreaterThan(1);
    }
  });
});

describe("what was found for a chord", () => {
  const close = styleNamed("close") as Style;
  const found = (text: string, everyKey = false) => {
    const [step, next] = stepsOf(text) as [Step, Step | undefined];
    return candidatesFor(step, next?.chord, close, asking("close", { everyKey }));
  };

  test("is looked up when the chord comes again in the same place", () => {
    expect(found("Dm7 G7")).toBe(found("Dm7 G7"));
  });

  test("is found anew under another melody, for other keys, and where the chord leads elsewhere", () => {
    expect(found("Dm7 G7 | A4 B4")).not.toBe(found("Dm7 G7 | F4 B4"));
    expect(found("Dm7 G7", true)).not.toBe(found("Dm7 G7"));
    expect(found("Dm7 G7")).not.toBe(found("Dm7 Em7"));
  });

  test("is the same after much else was found, and was forgotten", () => {
    const before = found("Dm7 G7");
    for (const style of styles)
      for (const root of ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"])
        for (const quality of [
          "7",
          "m7",
          "maj7",
          "9",
          "m9",
          "13",
          "6/9",
          "7b9",
          "m7b5",
          "maj9",
          "7#9",
          "m11",
        ])
          for (const step of stepsOf(root + quality))
            candidatesFor(step, undefined, style, asking(style.name, { reach: { left: 10, right: 10 } }));
    const after = found("Dm7 G7");
    expect(after).not.toBe(before);
    expect(after).toEqual(before);
  });
});
