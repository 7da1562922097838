import type { Drawing, OvalShape, PathShape, Shape, TextShape } from "./drawing.js";

/**
 * A drawing as an SVG document that needs nothing beside it. The same drawing gives the same text. One that is wider
 * than `widest` points is shown smaller.
 */
export function svg({ width, height, words, shapes }: Drawing, widest = width): string {
  const scale = Math.min(1, widest / width);
  const size = `width="${short(width * scale)}" height="${short(height * scale)}" viewBox="0 0 ${short(width)} ${short(height)}"`;
  const type = shapes.some(({ kind }) => kind === "text")
    ? ' font-family="sans-serif" text-anchor="middle"'
    : "";
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" ${size} role="img" fill="none"${type}>`,
    `<title>${escaped(words)}</title>`,
    ...runs(shapes).map(element),
    "</svg>",
  ].join("");
}

/** One decimal at most: a tenth of a point is as fine as print. */
const tenths = (n: number): number => Math.round(n * 10) / 10;
const short = (n: number): string => String(tenths(n));

/** Text of a chart as XML text or a quoted attribute. What XML can't hold is left out. */
const escaped = (text: string): string =>
  text
    .replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, "")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");

/** Shapes in a row that are painted alike: written once for all of them, which halves a picture. */
function runs(shapes: readonly Shape[]): readonly (readonly Shape[])[] {
  const found: Shape[][] = [];
  let last = "";
  for (const shape of shapes) {
    const alike = shape.kind + paintOf(shape);
    if (alike === last) found.at(-1)?.push(shape);
    else found.push([shape]);
    last = alike;
  }
  return found;
}

function paintOf(shape: Shape): string {
  if (shape.kind === "text") {
    const { anchor, size, bold, fill } = shape;
    return [
      ` font-size="${short(size)}" fill="${fill}"`,
      anchor === "middle" ? "" : ` text-anchor="${anchor}"`,
      bold ? ' font-weight="bold"' : "",
    ].join("");
  }
  const { fill, stroke, strokeWidth = 1, dashes } = shape;
  return [
    fill === undefined ? "" : ` fill="${fill}"`,
    stroke === undefined ? "" : ` stroke="${stroke}"`,
    stroke === undefined || strokeWidth === 1 ? "" : ` stroke-width="${short(strokeWidth)}"`,
    dashes === undefined ? "" : ` stroke-dasharray="${dashes.map(short).join(" ")}"`,
  ].join("");
}

function element(run: readonly Shape[]): string {
  const [first] = run;
  if (first === undefined) return "";
  const paint = paintOf(first);
  if (first.kind === "path") {
    const data = run.map((it) => (it.kind === "path" ? pathData(it) : "")).join("");
    return `<path d="${data}"${paint}/>`;
  }
  return run.length === 1
    ? single(first, paint)
    : `<g${paint}>${run.map((it) => single(it, "")).join("")}</g>`;
}

/** What has an element of its own. */
const single = (shape: Shape, paint: string): string =>
  shape.kind === "oval" ? ovalElement(shape, paint) : shape.kind === "text" ? textElement(shape, paint) : "";

function ovalElement({ centre, radii, turned }: OvalShape, paint: string): string {
  const [x, y] = centre.map(short);
  const [across, down] = radii.map(short);
  if (across === down) return `<circle cx="${x}" cy="${y}" r="${across}"${paint}/>`;
  const turn = turned === 0 ? "" : ` transform="rotate(${short(turned)} ${x} ${y})"`;
  return `<ellipse cx="${x}" cy="${y}" rx="${across}" ry="${down}"${turn}${paint}/>`;
}

function textElement(shape: TextShape, paint: string): string {
  const { at, text, width } = shape;
  // One sign has no neighbour in its own text to be drawn together with.
  const length =
    width === undefined || text.length < 2
      ? ""
      : ` textLength="${short(width)}" lengthAdjust="spacingAndGlyphs"`;
  return `<text x="${short(at[0])}" y="${short(at[1])}"${paint}${length}>${width === undefined ? escaped(text) : heavier(escaped(text), shape)}</text>`;
}

/** Accidentals are hairlines in most fonts, lost from afar on a page: they are drawn round as well. */
const heavier = (text: string, { size, bold, fill }: TextShape): string =>
  text.replace(
    /[♭♮♯]+/gu,
    (signs) =>
      `<tspan stroke="${fill}" stroke-width="${short(size * (bold ? 0.05 : 0.03))}">${signs}</tspan>`,
  );

const pathData = ({ lines, closed }: PathShape): string =>
  lines
    .map((line) => {
      let [lastX, lastY] = [0, 0];
      const points = line.map((point, i) => {
        const [x, y] = point.map(tenths) as [number, number];
        const step =
          i === 0
            ? `M${x} ${y}`
            : y === lastY
              ? briefer(`H${x}`, `h${tenths(x - lastX)}`)
              : x === lastX
                ? briefer(`V${y}`, `v${tenths(y - lastY)}`)
                : `L${x} ${y}`;
        [lastX, lastY] = [x, y];
        return step;
      });
      return points.join("") + (closed ? "Z" : "");
    })
    .join("");

const briefer = (one: string, other: string): string => (other.length < one.length ? other : one);
