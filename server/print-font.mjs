// Cuts the font that is printed with down to the signs that a chart may hold, and writes it as sources; with `check`
// it only says whether they are what they should be.
import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fontkit from "@pdf-lib/fontkit";

const root = fileURLToPath(new URL("..", import.meta.url));
const folder = `${root}/node_modules/dejavu-fonts-ttf/ttf`;
const faces = { regular: "DejaVuSansCondensed.ttf", bold: "DejaVuSansCondensed-Bold.ttf" };

/** Latin with all its accents, Greek, Cyrillic, punctuation and money; first and last sign of each run. */
const blocks = [
  [0x20, 0x7e],
  [0xa0, 0x24f],
  [0x300, 0x52f],
  [0x1e00, 0x1eff],
  [0x2010, 0x205f],
  [0x2070, 0x20cf],
];
/** ™ ← ↑ → ↓ − □ △ ♩ ♪ ♭ ♮ ♯ and the sign for what can't be shown. */
const singles = [
  0x2122, 0x2190, 0x2191, 0x2192, 0x2193, 0x2212, 0x25a1, 0x25b3, 0x2669, 0x266a, 0x266d, 0x266e, 0x266f,
  0xfffd,
];
/** Invisible ones that turn the direction of writing have no place in print. */
const unwanted = new Set([
  0xad, 0x61c, 0x200e, 0x200f, 0x2028, 0x2029, 0x202a, 0x202b, 0x202c, 0x202d, 0x202e,
]);

const wanted = (point) =>
  !unwanted.has(point) &&
  (singles.includes(point) || blocks.some(([first, last]) => point >= first && point <= last));

const fonts = Object.fromEntries(
  Object.entries(faces).map(([face, file]) => [face, fontkit.create(readFileSync(`${folder}/${file}`))]),
);
const points = fonts.regular.characterSet
  .filter((point) => wanted(point) && fonts.bold.hasGlyphForCodePoint(point))
  .sort((a, b) => a - b);

/** The font with these signs alone, in their order behind the glyph for what is missing. */
function cut(font) {
  const subset = font.createSubset();
  for (const point of points) {
    const glyph = font.glyphForCodePoint(point);
    // Two signs may share a glyph; each keeps a number of its own.
    subset.glyphs.push(glyph.id);
    subset.mapping[glyph.id] ??= subset.glyphs.length - 1;
  }
  const chunks = [];
  return new Promise((done, fail) => {
    const stream = subset.encodeStream();
    stream.on("data", (chunk) => chunks.push(chunk));
    stream.on("end", () => done(Buffer.concat(chunks)));
    stream.on("error", fail);
  });
}

const runs = [];
for (const point of points) {
  const last = runs.at(-1);
  if (last !== undefined && last[0] + last[1] === point) last[1]++;
  else runs.push([point, 1]);
}

const head = "// Made by server/print-font.mjs from the DejaVu fonts; never edited by hand.\n";
const thousandths = (font, units) => Math.round((units * 1000) / font.unitsPerEm);
const widths = (font) =>
  points.map((point) => thousandths(font, font.glyphForCodePoint(point).advanceWidth)).join(" ");

const files = {
  "server/src/exports/print-widths.ts": `${head}
/** The signs that can be printed, in the order of their glyphs from 1 on: first sign and length of each run. */
export const printedRuns =
  "${runs.map(([first, length]) => `${first} ${length}`).join(" ")}";

/** How wide each sign is, in thousandths of the size, in the order of the glyphs. */
export const printedWidths = {
  regular:
    "${widths(fonts.regular)}",
  bold: "${widths(fonts.bold)}",
};
`,
  "server/src/exports/print-font.ts": `${head}
/** A TrueType font as base64, with what a PDF says of it (thousandths of the size). */
export interface PrintFont {
  readonly name: string;
  readonly ascent: number;
  readonly descent: number;
  readonly capHeight: number;
  readonly box: readonly [number, number, number, number];
  readonly data: string;
}

export const printFonts: Readonly<Record<"regular" | "bold", PrintFont>> = {
${(
  await Promise.all(
    Object.entries(fonts).map(async ([face, font]) => {
      const { minX, minY, maxX, maxY } = font.bbox;
      const box = [minX, minY, maxX, maxY].map((it) => thousandths(font, it)).join(", ");
      const capHeight = font.glyphForCodePoint(0x48).bbox.maxY;
      return `  ${face}: {
    name: "${font.postscriptName}",
    ascent: ${thousandths(font, font.ascent)},
    descent: ${thousandths(font, font.descent)},
    capHeight: ${thousandths(font, capHeight)},
    box: [${box}],
    data: "${(await cut(font)).toString("base64")}",
  },
`;
    }),
  )
).join("")}};
`,
};

for (const [path, text] of Object.entries(files)) {
  if (process.argv[2] === "check") {
    if (readFileSync(`${root}/${path}`, "utf8") !== text) {
      console.error(`${path} is stale: npm run generate`);
      process.exitCode = 1;
    }
  } else {
    writeFileSync(`${root}/${path}`, text);
    console.log(path);
  }
}
