import { type Document, openDocument } from "../../server/src/document/document.js";
import { pictures } from "../../server/src/exports/pictures.js";
import { hover } from "../../server/src/features/hover.js";
import { markdown, markdownPicture, markdownWithPicture } from "../../server/src/features/markup.js";
import { momentWords, picturedMoment } from "../../server/src/features/pictured-moment.js";
import { base64 } from "../../server/src/text/base64.js";
import { encodeUtf8 } from "../../server/src/text/utf8.js";
import { chartOfBars, type ExportRow } from "./exports-bench.js";
import { realisticChart } from "./realistic-chart.js";

const rounds = 60;
/** The first find a cold engine. */
const cold = 10;

/** The words of a hover and, where it is wanted, the picture, as an answer has them. */
function answer(document: Document, at: number, isPictured: boolean): string {
  const found = hover(document, at);
  if (found === undefined) return "";
  const words = markdown(found.text);
  const moment = isPictured ? picturedMoment(document, at) : undefined;
  if (moment === undefined) return words;
  const drawn = pictures.keyboard(moment.keys, moment.chord, moment.hands, "dark");
  const address = `data:image/svg+xml;base64,${base64(encodeUtf8(drawn.svg))}`;
  return markdownWithPicture(found.text, momentWords(moment), markdownPicture(drawn.words, address));
}

/** A hover on a chord or a grip of a section in which a tone has just been changed, so that nothing is known of it. */
function afterEdits(
  text: string,
  isPictured: boolean,
): { readonly milliseconds: number[]; readonly sum: number } {
  let document = openDocument("bench.plagal", text);
  let sum = document.problems.length;
  const milliseconds: number[] = [];
  for (let k = 0; k < rounds; k++) {
    const rows = [...document.text.matchAll(/^right \| */gm)];
    const row = rows[(k * 7919) % rows.length] as RegExpExecArray;
    const grip = row.index + row[0].length + document.text.slice(row.index + row[0].length).search(/[35]/);
    const tone = document.text[grip] === "3" ? "5" : "3";
    const next = [document.text.slice(0, grip), tone, document.text.slice(grip + 1)].join("");
    document = openDocument("bench.plagal", next, undefined, undefined, document);
    sum += document.problems.length;
    const chord = next.lastIndexOf("\nchords | ", grip) + "\nchords | ".length;
    const start = performance.now();
    const said = answer(document, k % 2 === 0 ? grip : chord, isPictured);
    milliseconds.push(performance.now() - start);
    if (isPictured !== said.includes("data:")) throw new Error(`No picture, or one too many: ${said}`);
    sum += said.length;
  }
  return { milliseconds: milliseconds.slice(cold), sum };
}

/** Hovers with and without the picture of their moment. */
export function measureHovers(): { readonly rows: readonly ExportRow[]; readonly sum: number } {
  const charts = [
    ["32 bars", chartOfBars(950, 32)],
    ["10,000 lines", realisticChart(10_000, 951)],
  ] as const;
  const all = charts.flatMap(([size, text]) =>
    [true, false].map((isPictured) => ({ size, isPictured, ...afterEdits(text, isPictured) })),
  );
  return {
    rows: all.map(({ size, isPictured, milliseconds }) => ({
      name: isPictured ? `a hover with its picture, ${size}` : "  its words alone",
      milliseconds,
      goal: 10,
    })),
    sum: all.reduce((total, { sum }) => total + sum, 0),
  };
}
