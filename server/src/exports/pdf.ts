import { PDFContext, type PDFDict, PDFHexString, PDFName, PDFString } from "pdf-lib";
import { bytesOfBase64 } from "../text/base64.js";
import type { Drawing, OvalShape, PathShape, Shape, TextShape } from "./drawing.js";
import { fontSubset } from "./font-subset.js";
import { pdfFile } from "./pdf-file.js";
import { type PrintFont, printFonts } from "./print-font.js";
import { type Face, glyphsOf, glyphWidth, pointOf, printed, textWidth } from "./printed-text.js";

/** Drawings as the pages of a PDF: lines and real text, no picture. The same drawings give the same bytes. */
export function pdf(pages: readonly Drawing[], title: string): Uint8Array {
  const context = PDFContext.create();
  const used: Used = { regular: new Set(), bold: new Set() };
  const tree = context.nextRef();
  const fonts = { regular: context.nextRef(), bold: context.nextRef() };
  const resources = context.obj({ Font: { regular: fonts.regular, bold: fonts.bold } });
  const kids = pages.map((page) =>
    context.register(
      context.obj({
        Type: "Page",
        Parent: tree,
        MediaBox: [0, 0, page.width, page.height],
        Resources: resources,
        Contents: context.register(context.flateStream(contentOf(page, used))),
      }),
    ),
  );
  context.assign(tree, context.obj({ Type: "Pages", Kids: kids, Count: kids.length }));
  for (const face of ["regular", "bold"] as const) {
    context.assign(fonts[face], fontOf(context, printFonts[face], face, used[face]));
  }
  context.trailerInfo.Root = context.register(
    context.obj({ Type: "Catalog", Pages: tree, ViewerPreferences: { DisplayDocTitle: true } }),
  );
  context.trailerInfo.Info = context.register(
    context.obj({ Title: PDFHexString.fromText(printed(title)), Producer: PDFString.of("Plagal") }),
  );
  return pdfFile(context);
}

/** The glyphs that are shown in each face. */
type Used = Readonly<Record<Face, Set<number>>>;

/** What draws a page: operators of ISO 32000-1, 8 and 9. There y goes up, in a drawing down. */
function contentOf({ height, shapes }: Drawing, used: Used): string {
  const lines = [`1 0 0 -1 0 ${short(height)} cm`];
  for (const shape of shapes) lines.push(operatorsOf(shape, used));
  return lines.join("\n");
}

const operatorsOf = (shape: Shape, used: Used): string =>
  shape.kind === "text" ? textOperators(shape, used) : painted(shape);

/** A hundredth of a point at most. */
const short = (n: number): string => String(Math.round(n * 100) / 100);

const colour = (rgb: string): string =>
  [1, 3, 5].map((at) => short(Number.parseInt(rgb.slice(at, at + 2), 16) / 255)).join(" ");

function textOperators({ at: [x, y], anchor, text, size, bold, fill }: TextShape, used: Used): string {
  const face: Face = bold ? "bold" : "regular";
  const shown = printed(text);
  const width = anchor === "start" ? 0 : textWidth(shown, size, bold);
  const from = x - (anchor === "middle" ? width / 2 : width);
  // Turned over once more, so that letters stand upright.
  const parts = [`BT ${colour(fill)} rg /${face} ${short(size)} Tf 1 0 0 -1 ${short(from)} ${short(y)} Tm`];
  for (const part of shown.split(/([♭♮♯]+)/u)) {
    if (part === "") continue;
    let hex = "";
    for (const glyph of glyphsOf(part)) {
      used[face].add(glyph);
      hex += glyph.toString(16).padStart(4, "0");
    }
    // The font's accidentals are hairlines, which are lost from afar: they are drawn round as well.
    const round = `2 Tr ${colour(fill)} RG ${short(size * (bold ? 0.05 : 0.03))} w [] 0 d`;
    parts.push(/[♭♮♯]/u.test(part) ? `${round} <${hex}> Tj 0 Tr` : `<${hex}> Tj`);
  }
  return `${parts.join(" ")} ET`;
}

function painted(shape: PathShape | OvalShape): string {
  const { fill, stroke, strokeWidth = 1, dashes = [] } = shape;
  const isClosed = shape.kind === "oval" || shape.closed;
  const state = [
    fill === undefined ? "" : `${colour(fill)} rg`,
    stroke === undefined
      ? ""
      : `${colour(stroke)} RG ${short(strokeWidth)} w [${dashes.map(short).join(" ")}] 0 d`,
  ].filter((it) => it !== "");
  const act = fill !== undefined ? (stroke !== undefined ? "B" : "f") : stroke !== undefined ? "S" : "n";
  const outline = shape.kind === "oval" ? ovalPath(shape) : linesPath(shape, isClosed);
  return [...state, outline, act].join(" ");
}

const linesPath = ({ lines }: PathShape, isClosed: boolean): string =>
  lines
    .map(
      (line) =>
        line.map(([x, y], i) => `${short(x)} ${short(y)} ${i === 0 ? "m" : "l"}`).join(" ") +
        (isClosed ? " h" : ""),
    )
    .join(" ");

/** How far along its tangent a quarter of a circle is pulled, for the curve that comes nearest to it. */
const pull = 0.5523;

function ovalPath({ centre: [x, y], radii: [a, b], turned }: OvalShape): string {
  const angle = (turned * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const at = (u: number, v: number): string =>
    `${short(x + u * a * cos - v * b * sin)} ${short(y + u * a * sin + v * b * cos)}`;
  const quarter = (u: number, v: number): string => {
    // From (u, v) to the place a right angle further round.
    const [p, q] = [-v, u];
    return `${at(u + pull * p, v + pull * q)} ${at(p + pull * u, q + pull * v)} ${at(p, q)} c`;
  };
  return `${at(1, 0)} m ${quarter(1, 0)} ${quarter(0, 1)} ${quarter(-1, 0)} ${quarter(0, -1)} h`;
}

/** A font whose codes are its glyph numbers, with the signs that they stand for, so that text can be read back. */
function fontOf(context: PDFContext, font: PrintFont, face: Face, used: ReadonlySet<number>): PDFDict {
  const shown = [...used].sort((a, b) => a - b);
  const name = `PLAGAL+${font.name}`;
  const file = context.register(context.flateStream(fontSubset(bytesOfBase64(font.data), used)));
  const descriptor = context.register(
    context.obj({
      Type: "FontDescriptor",
      FontName: name,
      Flags: 4,
      FontBBox: [...font.box],
      ItalicAngle: 0,
      Ascent: font.ascent,
      Descent: font.descent,
      CapHeight: font.capHeight,
      StemV: face === "bold" ? 150 : 80,
      FontFile2: file,
    }),
  );
  const inside = context.register(
    context.obj({
      Type: "Font",
      Subtype: "CIDFontType2",
      BaseFont: name,
      CIDSystemInfo: { Registry: PDFString.of("Adobe"), Ordering: PDFString.of("Identity"), Supplement: 0 },
      FontDescriptor: descriptor,
      CIDToGIDMap: "Identity",
      DW: 600,
      W: shown.flatMap((glyph) => [glyph, [glyphWidth(glyph, face)]]),
    }),
  );
  return context.obj({
    Type: "Font",
    Subtype: "Type0",
    BaseFont: name,
    Encoding: PDFName.of("Identity-H"),
    DescendantFonts: [inside],
    ToUnicode: context.register(context.flateStream(signsOf(shown))),
  });
}

/** The signs that glyphs stand for (ISO 32000-1, 9.10.3), a hundred at a time as that asks for. */
function signsOf(glyphs: readonly number[]): string {
  const hex = (n: number): string => n.toString(16).padStart(4, "0");
  const parts: string[] = [];
  for (let i = 0; i < glyphs.length; i += 100) {
    const some = glyphs.slice(i, i + 100);
    parts.push(
      `${some.length} beginbfchar`,
      ...some.map((glyph) => `<${hex(glyph)}> <${hex(pointOf(glyph))}>`),
      "endbfchar",
    );
  }
  return [
    "/CIDInit /ProcSet findresource begin",
    "12 dict begin",
    "begincmap",
    "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def",
    "/CMapName /Adobe-Identity-UCS def",
    "/CMapType 2 def",
    "1 begincodespacerange",
    "<0000> <ffff>",
    "endcodespacerange",
    ...parts,
    "endcmap",
    "CMapName currentdict /CMap defineresource pop",
    "end",
    "end",
  ].join("\n");
}
