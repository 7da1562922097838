// The DejaVu fonts 2.37 (npm dejavu-fonts-ttf; Bitstream Vera licence), read by fontkit (npm @pdf-lib/fontkit 1.1.1,
// MIT): our widths and our cut fonts against the fonts themselves.
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import fontkit from "@pdf-lib/fontkit";
import { describe, expect, test } from "vitest";
import { fontSubset } from "../../server/src/exports/font-subset.js";
import { printFonts } from "../../server/src/exports/print-font.js";
import {
  type Face,
  glyphsOf,
  glyphWidth,
  printed,
  textWidth,
} from "../../server/src/exports/printed-text.js";
import { bytesOfBase64 } from "../../server/src/text/base64.js";

const folder = "node_modules/dejavu-fonts-ttf/ttf";
const faces: readonly (readonly [Face, string])[] = [
  ["regular", "DejaVuSansCondensed.ttf"],
  ["bold", "DejaVuSansCondensed-Bold.ttf"],
];

/** What is used of fontkit, whose own types leave out the half of it. */
interface Font {
  readonly unitsPerEm: number;
  readonly numGlyphs: number;
  glyphForCodePoint(point: number): Glyph;
  getGlyph(glyph: number): Glyph;
}
interface Glyph {
  readonly advanceWidth: number;
  readonly path: { toSVG(): string };
}
const fontOf = (bytes: Uint8Array): Font => fontkit.create(bytes) as unknown as Font;

const signs = "ABCGabgjmMwx0123456789♭♯♮♩♪°øΔ△+-/()·×…éÅŁőșñçßÆẹọṣốЖЯψΩ€□→←";

describe.each(faces)("the %s font", (face, file) => {
  const whole = fontOf(readFileSync(`${folder}/${file}`));
  const cut = bytesOfBase64(printFonts[face].data);

  test.each([...signs])("has %s as wide and in the same shape as the whole font", (sign) => {
    const glyph = whole.glyphForCodePoint(sign.codePointAt(0) as number);
    const [number = 0] = glyphsOf(sign);
    expect(number).toBeGreaterThan(0);
    expect(glyphWidth(number, face)).toBe(Math.round((glyph.advanceWidth * 1000) / whole.unitsPerEm));
    expect(fontOf(cut).getGlyph(number).path.toSVG()).toBe(glyph.path.toSVG());
  });

  test("keeps the shapes that a page needs, compound ones whole, and no others", () => {
    const needed = [...new Set(glyphsOf("E♭maj7 ốÅ"))];
    const part = fontOf(fontSubset(cut, new Set(needed)));
    expect(part.numGlyphs).toBe(fontOf(cut).numGlyphs);
    for (const glyph of needed)
      expect(part.getGlyph(glyph).path.toSVG()).toBe(fontOf(cut).getGlyph(glyph).path.toSVG());
    for (const glyph of glyphsOf("Zq")) expect(part.getGlyph(glyph).path.toSVG()).toBe("");
    expect(fontSubset(cut, new Set(needed)).length).toBeLessThan(cut.length / 3);
  });
});

test("the committed fonts are what is made of the package", () => {
  execFileSync(process.execPath, ["server/print-font.mjs", "check"], { stdio: "pipe" });
});

describe("a printed text", () => {
  test.each([
    ["plain", "plain"],
    ["e\u0301", "é"],
    ["a\tb\u0007", "a b□"],
    ["日本 😀", "□□ □"],
    ["👨‍👩‍👧", "□□□"],
    ["\u202eevil", "\ufffdevil"],
    ["half \ud83d", "half □"],
  ])("%j is %j", (text, shown) => {
    expect(printed(text)).toBe(shown);
  });

  test("is as wide as its signs together", () => {
    expect(textWidth("AB", 10, false)).toBeCloseTo(textWidth("A", 10, false) + textWidth("B", 10, false), 9);
    expect(textWidth("♭", 1000, true)).toBe(glyphWidth(glyphsOf("♭")[0] ?? 0, "bold"));
  });
});

test("base64 is read as Node reads it", () => {
  for (const text of ["", "a", "ab", "abc", "♭♯"])
    expect([...bytesOfBase64(Buffer.from(text).toString("base64"))]).toEqual([...Buffer.from(text)]);
});
