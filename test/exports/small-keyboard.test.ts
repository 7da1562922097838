import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Drawing, PathShape, Point, Shape } from "../../server/src/exports/drawing.js";
import { groundOf, type PicturedKey, type PictureTheme } from "../../server/src/exports/keyboard-picture.js";
import { pictureColours } from "../../server/src/exports/picture-colours.js";
import { smallKeyboard } from "../../server/src/exports/small-keyboard.js";
import { svg } from "../../server/src/exports/svg.js";
import type { Hand } from "../../server/src/keyboard/hand.js";
import { readPitch } from "../../server/src/theory/pitch.js";
import { contrast } from "../support/contrast.js";
import { property } from "../support/property.js";

const themes = Object.keys(groundOf) as PictureTheme[];
const margin = 1;

/** `C2 _G2`; `_` before one held over. */
const keysOf = (hand: Hand, text: string): readonly PicturedKey[] =>
  text.split(" ").map((name) => {
    const pitch = readPitch(name.replace("_", ""));
    if (pitch === undefined) throw new Error(`${name} is no pitch`);
    return { pitch, hand, number: undefined, finger: undefined, isHeldOver: name.startsWith("_") };
  });

const held = (hand: Hand, midi: number, isHeldOver: boolean): PicturedKey => ({
  pitch: { fifths: 0, midi },
  hand,
  number: undefined,
  finger: undefined,
  isHeldOver,
});
const anyHand = (hand: Hand, lowest: number) =>
  fc
    .uniqueArray(fc.tuple(fc.integer({ min: 0, max: 14 }), fc.boolean()), {
      maxLength: 5,
      selector: ([at]) => at,
    })
    .map((all) => all.map(([at, isHeldOver]) => held(hand, Math.min(108, lowest + at), isHeldOver)));
const anyHands = fc
  .tuple(fc.integer({ min: 21, max: 94 }), fc.integer({ min: 21, max: 94 }))
  .chain(([left, right]) => fc.tuple(anyHand("left", left), anyHand("right", right)))
  .map((hands) => hands.flat());

interface Head {
  readonly hand: Hand;
  readonly x: number;
  readonly y: number;
  readonly isOpen: boolean;
}

/** The note heads: ovals for the right hand, filled boxes with a stroke for the left. */
const headsIn = ({ shapes }: Drawing, theme: PictureTheme): readonly Head[] =>
  shapes.flatMap((shape): readonly Head[] => {
    if (shape.kind === "text" || shape.fill === undefined || shape.stroke !== pictureColours[theme].ink)
      return [];
    const isOpen = shape.fill !== shape.stroke;
    if (shape.kind === "oval") return [{ hand: "right", x: shape.centre[0], y: shape.centre[1], isOpen }];
    const [[[left = 0, top = 0] = [], , [right = 0, bottom = 0] = []] = []] = shape.lines;
    return [{ hand: "left", x: (left + right) / 2, y: (top + bottom) / 2, isOpen }];
  });

/** Every point of a shape with the stroke around it. */
const pointsOf = (shape: Shape): readonly Point[] => {
  if (shape.kind === "text") return [];
  const around = (shape.stroke === undefined ? 0 : (shape.strokeWidth ?? 1)) / 2;
  if (shape.kind === "oval") {
    const [[x, y], [across, down]] = [shape.centre, shape.radii];
    return [
      [x - across - around, y - down - around],
      [x + across + around, y + down + around],
    ];
  }
  // A straight line has butt ends.
  const isLine = shape.lines.every((line) => line.length === 2);
  return shape.lines.flatMap((line) =>
    line.flatMap(([x, y]): readonly Point[] => {
      const isUpright = isLine && line[0]?.[0] === line[1]?.[0];
      const [wide, high] = isLine ? (isUpright ? [around, 0] : [0, around]) : [around, around];
      return [
        [x - wide, y - high],
        [x + wide, y + high],
      ];
    }),
  );
};

/** Where the dashes of a broken line lie, from its left to its right end. */
function dashesOf({ lines, dashes = [] }: PathShape): readonly (readonly [number, number])[] {
  const [from, to] = lines[0] ?? [];
  const found: [number, number][] = [];
  let x = from?.[0] ?? 0;
  for (let i = 0; x < (to?.[0] ?? 0) - 0.001; i++) {
    const length = dashes[i % dashes.length] ?? 0;
    if (i % 2 === 0) found.push([x, Math.min(x + length, to?.[0] ?? 0)]);
    x += length;
  }
  return found;
}
const isBlack = (midi: number): boolean => [1, 3, 6, 8, 10].includes(midi % 12);

describe("a small keyboard", () => {
  const both = [...keysOf("left", "_C2 Bb2"), ...keysOf("right", "Eb4 _G4 D5")];

  test("says in words what it shows, and has none in it", () => {
    const { words, shapes } = smallKeyboard(both, "light");
    expect(words).toBe("Left hand: C2 (held), B♭2. Right hand: E♭4, G4 (held), D5.");
    expect(shapes.filter(({ kind }) => kind === "text")).toEqual([]);
    expect(smallKeyboard([], "dark").words).toBe("No key is down.");
  });

  test("has a note head on each key that is held: round for the right hand, square for the left, open if held over", () => {
    const keyboard = smallKeyboard([...keysOf("left", "C4 _D4 F#4"), ...keysOf("right", "A4 _B4")], "print");
    const heads = headsIn(keyboard, "print").toSorted((a, b) => a.x - b.x);
    // From C to B are seven white keys, 5 points each; F♯ lies left of the line between F and G.
    expect(
      heads.map(({ hand, isOpen, x }) => `${hand} ${isOpen ? "open" : "filled"} ${(x - margin).toFixed(0)}`),
    ).toEqual(["left filled 3", "left open 8", "left filled 19", "right filled 28", "right open 33"]);
    const [white, , black] = heads as [Head, Head, Head];
    expect(white.y).toBeGreaterThan(black.y + 3);
  });

  test("keeps the heads apart where both hands hold one key", () => {
    for (const name of ["E4", "Eb4"]) {
      const [right, left] = headsIn(
        smallKeyboard([...keysOf("left", name), ...keysOf("right", name)], "light"),
        "light",
      ) as [Head, Head];
      expect([right.hand, left.hand]).toEqual(["right", "left"]);
      expect(left.x).toBeCloseTo(right.x);
      expect(left.y - right.y).toBeGreaterThan(4);
    }
  });

  test("hatches what the left hand holds and shades what the right one holds", () => {
    const linesOf = (keys: readonly PicturedKey[], colour: string): number =>
      smallKeyboard(keys, "light").shapes.reduce(
        (sum, shape) => sum + (shape.kind === "path" && shape.stroke === colour ? shape.lines.length : 0),
        0,
      );
    const { leftShade, rightShade } = pictureColours.light;
    expect(linesOf(both, leftShade)).toBe(2);
    expect(linesOf(both, rightShade)).toBe(3);
    expect(linesOf(keysOf("right", "C4 Eb4"), leftShade)).toBe(0);
    expect(linesOf(keysOf("left", "C4 Eb4"), rightShade)).toBe(0);
  });

  test("has a bracket above the right hand and below the left", () => {
    const bracketsOf = (keys: readonly PicturedKey[]) => {
      const { shapes, height } = smallKeyboard(keys, "light");
      return shapes.flatMap((shape) =>
        shape.kind === "path" && shape.stroke === pictureColours.light.beside
          ? shape.lines.map((line) => (line[1]?.[1] ?? 0) < height / 2)
          : [],
      );
    };
    expect(bracketsOf(both)).toEqual([true, false]);
    expect(bracketsOf(keysOf("left", "C2"))).toEqual([false]);
    expect(bracketsOf(keysOf("right", "C4 E4"))).toEqual([true]);
    expect(bracketsOf([])).toEqual([]);
  });

  test("is as wide for the same stretch of keys, whoever holds what there, and as high for any", () => {
    const widthOf = (keys: readonly PicturedKey[]): number => smallKeyboard(keys, "light").width;
    expect(widthOf(keysOf("right", "C4"))).toBe(7 * 5 + 2);
    expect(widthOf([...keysOf("left", "D4"), ...keysOf("right", "F4 Bb4")])).toBe(7 * 5 + 2);
    expect(widthOf(keysOf("left", "F2 B4"))).toBe(
      widthOf([...keysOf("left", "G2"), ...keysOf("right", "A4")]),
    );
    expect(smallKeyboard(keysOf("left", "A0 C8"), "light").height).toBe(34);
    expect(smallKeyboard([], "light").height).toBe(34);
  });

  test("leaves out what no key of the piano sounds", () => {
    expect(smallKeyboard(keysOf("left", "C-1 C2"), "dark")).toEqual(
      smallKeyboard(keysOf("left", "C2"), "dark"),
    );
    expect(smallKeyboard(keysOf("left", "C-1"), "dark")).toEqual(smallKeyboard([], "dark"));
  });

  test.each(themes)(
    "can be told apart in %s: signs 4.5 to 1 at least against what they stand on",
    (theme) => {
      const { ink, white, black, rightShade, beside } = pictureColours[theme];
      for (const ground of [white, rightShade]) expect(contrast(ink, ground)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(beside, groundOf[theme])).toBeGreaterThanOrEqual(4.5);
      expect(contrast(black, white)).toBeGreaterThanOrEqual(4.5);
      // What both colours of a head are for.
      const used = new Set(headsIn(smallKeyboard(both, theme), theme).map(({ isOpen }) => isOpen));
      expect(used).toEqual(new Set([true, false]));
    },
  );
});

property("stays small and inside its own frame, whatever two hands hold", anyHands, 200, (keys) => {
  for (const theme of themes) {
    const drawing = smallKeyboard(keys, theme);
    expect(drawing.width).toBeLessThanOrEqual(110);
    expect(drawing.height).toBe(34);
    expect(headsIn(drawing, theme)).toHaveLength(keys.length);
    const points = drawing.shapes.flatMap(pointsOf);
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
    expect(Math.min(...xs, ...ys)).toBeGreaterThan(-0.001);
    expect(Math.max(...xs)).toBeLessThan(drawing.width + 0.001);
    expect(Math.max(...ys)).toBeLessThan(34.001);
    expect(Buffer.byteLength(svg(drawing))).toBeLessThan(1536);
  }
});

test("draws every black key of every stretch where a black key lies, and parts white keys where they meet", () => {
  for (let lowest = 21; lowest <= 108; lowest++) {
    for (let highest = lowest; highest <= 108; highest++) {
      const { shapes, width } = smallKeyboard(
        [held("left", lowest, false), held("right", highest, false)],
        "print",
      );
      const [, white, black] = shapes as readonly [PathShape, PathShape, PathShape];
      // The stretch, told from what is printed: it begins and ends at C, F, or the ends of the piano.
      let [first, last] = [lowest, highest];
      while (first > 21 && first % 12 !== 0 && first % 12 !== 5) first--;
      while (last < 108 && last % 12 !== 4 && last % 12 !== 11) last++;
      const inside = Array.from({ length: last - first + 1 }, (_, i) => first + i);
      const whites = inside.filter((midi) => !isBlack(midi));
      if (whites.length < 7) continue;
      const wide = (width - 2 * margin) / whites.length;
      const drawn = dashesOf(black);
      const blacks = inside.filter(isBlack);
      expect(drawn).toHaveLength(blacks.length);
      blacks.forEach((midi, i) => {
        // A black key lies over the line between its white neighbours, a quarter of a white key away at most.
        const line = margin + whites.filter((it) => it < midi).length * wide;
        const [from = 0, to = 0] = drawn[i] ?? [];
        expect(Math.abs((from + to) / 2 - line)).toBeLessThan(wide / 4);
      });
      const keys = dashesOf(white);
      const parted = keys.slice(1).flatMap(([from], i) => {
        const [, before] = keys[i] as readonly [number, number];
        return from > before + 0.001 ? [(from - margin) / wide] : [];
      });
      for (const at of parted) expect(Math.abs(at - Math.round(at))).toBeLessThan(0.2);
      const wanted = wide < 3.5 ? whites.slice(1).filter((midi) => !isBlack(midi - 1)) : whites.slice(1);
      expect(new Set(parted.map(Math.round))).toEqual(new Set(wanted.map((midi) => whites.indexOf(midi))));
    }
  }
});
