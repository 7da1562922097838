import { readFileSync } from "node:fs";
import fontkit from "@pdf-lib/fontkit";
import { PDFDocument } from "pdf-lib";
import type { Chart } from "../../server/src/chart/model.js";
import { openDocument } from "../../server/src/document/document.js";
import type { Drawing } from "../../server/src/exports/drawing.js";
import { keyboardPicture, type PicturedKey } from "../../server/src/exports/keyboard-picture.js";
import { pdf } from "../../server/src/exports/pdf.js";
import { sheets } from "../../server/src/exports/sheets.js";
import { smallKeyboard } from "../../server/src/exports/small-keyboard.js";
import { standPages } from "../../server/src/exports/stand-pages.js";
import { svg } from "../../server/src/exports/svg.js";
import { readPitch } from "../../server/src/theory/pitch.js";
import { chartOfBars, type ExportRow } from "./exports-bench.js";

const rounds = 9;

function timed(round: (i: number) => () => number): {
  readonly milliseconds: number[];
  readonly sum: number;
} {
  const milliseconds: number[] = [];
  let sum = 0;
  for (let i = 0; i < rounds; i++) {
    const act = round(i);
    const start = performance.now();
    sum += act();
    milliseconds.push(performance.now() - start);
  }
  return { milliseconds, sum };
}

/** The texts of the same pages by the library's own pages and fonts, which the engine for fonts cuts anew each time. */
async function peer(pages: readonly Drawing[], fonts: readonly Uint8Array[]): Promise<number> {
  const file = await PDFDocument.create();
  file.registerFontkit(fontkit);
  const [regular, bold] = await Promise.all(fonts.map((it) => file.embedFont(it, { subset: true })));
  for (const { width, height, shapes } of pages) {
    const page = file.addPage([width, height]);
    for (const shape of shapes) {
      if (shape.kind !== "text" || regular === undefined || bold === undefined) continue;
      const [x, y] = shape.at;
      page.drawText(shape.text, { x, y: height - y, size: shape.size, font: shape.bold ? bold : regular });
    }
  }
  return (await file.save()).length;
}

const chords: readonly string[] = [
  "C2 G2 Eb4 G4 Bb4 D5",
  "F1 C2 A3 Eb4 G4 D5",
  "Bb1 D3 Ab3 C4 F4",
  "Eb2 Bb2 G3 D4 F4 Bb4",
];
const handsOf = (text: string): readonly PicturedKey[] =>
  text.split(" ").map((name, i) => {
    const pitch = readPitch(name);
    if (pitch === undefined) throw new Error(name);
    const hand = i < 2 ? "left" : "right";
    return { pitch, hand, number: { number: 1 + i, alter: 0 }, finger: undefined, isHeldOver: false };
  });

/** Printing charts of 64 bars whose text has been read, and pictures of keyboards: a chart and chords anew each round. */
export async function measureSheets(): Promise<{
  readonly rows: readonly ExportRow[];
  readonly sum: number;
}> {
  const charts: readonly Chart[] = Array.from(
    { length: rounds },
    (_, i) => openDocument("bench.plagal", chartOfBars(900 + i, 64)).chart,
  );
  const print = timed((i) => () => sheets.pdf(charts[i] as Chart).length);
  const pages = charts.map((chart) => standPages(chart));
  const paint = timed((i) => () => pdf(pages[i] ?? [], "").length);
  const section = timed((i) => () => sheets.svg(charts[i] as Chart)?.length ?? 0);
  const pictures = timed((i) => {
    const keys = handsOf(chords[i % chords.length] as string);
    return () => svg(keyboardPicture(keys, "Cm9", "light")).length;
  });
  const small = timed((i) => {
    const keys = handsOf(chords[i % chords.length] as string);
    return () => svg(smallKeyboard(keys, "light")).length;
  });
  const folder = "node_modules/dejavu-fonts-ttf/ttf/DejaVuSansCondensed";
  const fonts = ["", "-Bold"].map((face) => new Uint8Array(readFileSync(`${folder}${face}.ttf`)));
  const theirs: number[] = [];
  let sum = print.sum + paint.sum + section.sum + pictures.sum + small.sum;
  for (const page of pages) {
    const start = performance.now();
    sum += await peer(page, fonts);
    theirs.push(performance.now() - start);
  }
  return {
    rows: [
      { name: "PDF of 64 bars", milliseconds: print.milliseconds, goal: 500 },
      { name: "  its painter alone", milliseconds: paint.milliseconds, goal: 500 },
      { name: "  its texts by pdf-lib and fontkit", milliseconds: theirs, goal: 500 },
      { name: "SVG of a section", milliseconds: section.milliseconds, goal: 500 },
      { name: "a keyboard picture", milliseconds: pictures.milliseconds, goal: 2 },
      { name: "a small keyboard", milliseconds: small.milliseconds, goal: 0.3 },
    ],
    sum,
  };
}
