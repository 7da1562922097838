import { describe, expect, test } from "vitest";
import type { Shape } from "../../server/src/exports/drawing.js";
import {
  groundOf,
  keyboardPicture,
  type PicturedKey,
  type PictureTheme,
} from "../../server/src/exports/keyboard-picture.js";
import { svg } from "../../server/src/exports/svg.js";
import type { Finger, Hand } from "../../server/src/keyboard/hand.js";
import { readPitch } from "../../server/src/theory/pitch.js";
import { readNumber } from "../../server/src/theory/tone-number.js";
import { contrast } from "../support/contrast.js";

/** `5 C2 1` is finger, pitch and number in the chord; `_` before the pitch is one held over. */
function keysOf(hand: Hand, text: string): readonly PicturedKey[] {
  return text.split(", ").map((it) => {
    const [finger, name = "", number = ""] = it.split(" ");
    const pitch = readPitch(name.replace("_", ""));
    if (pitch === undefined) throw new Error(`${name} is no pitch`);
    return {
      pitch,
      hand,
      number: readNumber(number),
      finger: Number(finger) as Finger,
      isHeldOver: name.startsWith("_"),
    };
  });
}

const themes: readonly PictureTheme[] = ["light", "dark", "high contrast", "print"];
const both = [...keysOf("left", "5 C2 1, 1 Bb2 b7"), ...keysOf("right", "1 Eb4 b3, 2 _G4 5, 5 D5 9")];

const textsOf = (shapes: readonly Shape[]): readonly string[] =>
  shapes.flatMap((shape) => (shape.kind === "text" ? [shape.text] : []));
const placeOfText = (shapes: readonly Shape[], text: string): readonly [number, number] => {
  const found = shapes.find((shape) => shape.kind === "text" && shape.text === text);
  if (found?.kind !== "text") throw new Error(`${text} is not there`);
  return found.at;
};

describe("the picture of a keyboard", () => {
  test("says in words what is to be seen", () => {
    expect(keyboardPicture(both, "Cm9", "light").words).toBe(
      "Cm9. Left hand: C2 (1, finger 5), B♭2 (♭7, finger 1). Right hand: E♭4 (♭3, finger 1), G4 (5, finger 2, held over), D5 (9, finger 5).",
    );
    expect(keyboardPicture([], undefined, "light").words).toBe("No key is down.");
    expect(keyboardPicture(keysOf("right", "1 C4 1"), undefined, "light").words).toBe(
      "Right hand: C4 (1, finger 1).",
    );
  });

  test("has a name and a number on every key, fingers above the right hand and below the left", () => {
    const { shapes, height } = keyboardPicture(both, "Cm9", "print");
    const texts = textsOf(shapes);
    for (const word of ["C", "B♭", "E♭", "G", "D", "1", "♭7", "♭3", "5", "9", "left hand", "right hand"])
      expect(texts).toContain(word);
    const nameHeight = placeOfText(shapes, "G")[1];
    expect(placeOfText(shapes, "2")[1]).toBeLessThan(nameHeight);
    expect(placeOfText(shapes, "left hand")[1]).toBeGreaterThan(nameHeight);
    expect(placeOfText(shapes, "left hand")[1]).toBeLessThan(height);
  });

  test("tells the hands apart by the note head's shape, and what is held over by an open one", () => {
    const headsOf = (keys: readonly PicturedKey[]) =>
      keyboardPicture(keys, undefined, "print").shapes.filter(({ kind }) => kind === "oval");
    expect(headsOf(both.filter(({ hand }) => hand === "left"))).toHaveLength(0);
    const heads = headsOf(both);
    expect(heads).toHaveLength(3);
    expect(heads.filter((it) => it.kind === "oval" && it.fill === "#ffffff")).toHaveLength(1);
  });

  test("shows both hands on a key that both hold", () => {
    const shared = [...keysOf("left", "1 C4 1"), ...keysOf("right", "1 C4 1")];
    const { shapes } = keyboardPicture(shared, undefined, "light");
    const drawn = svg(keyboardPicture(shared, undefined, "light"));
    expect(drawn.match(/<ellipse [^>]*fill="#111111"/g)).toHaveLength(1);
    expect(drawn.match(/<path [^>]*fill="#111111"/g)).toHaveLength(1);
    expect(textsOf(shapes).filter((it) => it === "C")).toHaveLength(1);
  });

  test("shows two octaves at least, and begins and ends so that groups of black keys stay whole", () => {
    const { width, shapes } = keyboardPicture(keysOf("right", "1 G4 1"), undefined, "light");
    expect(width).toBeGreaterThanOrEqual(15 * 20);
    expect(textsOf(shapes)).toContain("C4");
    const whole = keyboardPicture(
      [...keysOf("left", "5 A0 1"), ...keysOf("right", "5 C8 1")],
      undefined,
      "light",
    );
    expect(whole.width).toBe(52 * 20 + 2);
  });

  test("leaves out what no key of the piano sounds", () => {
    const all = keysOf("left", "5 C-1 1, 1 C2 1");
    expect(keyboardPicture(all, undefined, "light")).toEqual(
      keyboardPicture(all.slice(1), undefined, "light"),
    );
  });

  test.each(themes)("is small, in %s", (theme) => {
    const ten = [
      ...keysOf("left", "5 Db1 1, 4 Gb1 b5, 3 Ab1 6, 2 Bb1 6, 1 Db2 1"),
      ...keysOf("right", "1 Eb6 b9, 2 Gb6 b5, 3 Ab6 6, 4 Bb6 b7, 5 Db7 b9"),
    ];
    expect(svg(keyboardPicture(ten, "D♭13(♭9♯11)", theme)).length).toBeLessThan(6 * 1024);
    expect(svg(keyboardPicture(both, "Cm9", theme)).length).toBeLessThan(5 * 1024);
  });

  test.each(themes)("can be read in %s: 7 to 1 at least, as WCAG 2.2 asks in 1.4.6", (theme) => {
    const { shapes } = keyboardPicture(both, "Cm9", theme);
    // What a text stands on: what was painted there last, or the ground.
    shapes.forEach((shape, i) => {
      if (shape.kind !== "text") return;
      const [x, y] = shape.at;
      const ground = shapes
        .slice(0, i)
        .findLast((it) => it.kind === "path" && it.fill !== undefined && holds(it.lines, x, y - 3));
      const behind = ground?.kind === "path" && ground.fill !== undefined ? ground.fill : groundOf[theme];
      expect(contrast(shape.fill, behind), `${shape.text} on ${behind}`).toBeGreaterThanOrEqual(7);
    });
  });
});

test("words of a chart can't be more than words in a picture", () => {
  const text = svg({
    width: 10,
    height: 10,
    words: `</title><script>"&'\u0000\u0007\ud800`,
    shapes: [{ kind: "text", at: [0, 0], anchor: "end", text: "<b>", size: 8, bold: true, fill: "#000000" }],
  });
  expect(text).toContain(`<title>&lt;/title&gt;&lt;script&gt;&quot;&amp;'</title>`);
  expect(text).toContain("&lt;b&gt;");
});

const holds = (lines: readonly (readonly (readonly [number, number])[])[], x: number, y: number): boolean =>
  lines.some((points) => {
    const [xs, ys] = [points.map(([at]) => at), points.map(([, at]) => at)];
    return Math.min(...xs) <= x && x <= Math.max(...xs) && Math.min(...ys) <= y && y <= Math.max(...ys);
  });
