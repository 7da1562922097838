import type { Drawing, PathShape, Shape, TextShape } from "./drawing.js";

/**
 * A drawing as an SVG document that needs nothing beside it. The same drawing gives the same text. One that is wider
 * than `widest` points is shown smaller.
 */
export function svg({ width, height, words, shapes }: Drawing, widest = width): string {
  const scale = Math.min(1, widest / width);
  const size = `width="${short(width * scale)}" height="${short(height * scale)}" viewBox="0 0 ${short(width)} ${short(height)}"`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" ${size} role="img" font-family="sans-serif" text-anchor="middle">`,
    `<title>${escaped(words)}</title>`,
    ...runs(shapes).map(element),
    "</svg>",
  ].join("");
}

/** One decimal at most: a tenth of a point is as fine as print. */
const short = (n: number): string => String(Math.round(n * 10) / 10);

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
    if (alike === last && shape.kind !== "oval") found.at(-1)?.push(shape);
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
  const { fill, stroke, strokeWidth = 1, dashed } = shape;
  return [
    ` fill="${fill ?? "none"}"`,
    stroke === undefined ? "" : ` stroke="${stroke}"`,
    stroke === undefined || strokeWidth === 1 ? "" : ` stroke-width="${short(strokeWidth)}"`,
    dashed === true ? ' stroke-dasharray="2 2"' : "",
  ].join("");
}

function element(run: readonly Shape[]): string {
  const [first] = run;
  if (first === undefined) return "";
  const paint = paintOf(first);
  if (first.kind === "oval") {
    const [x, y] = first.centre.map(short);
    const turned = first.turned === 0 ? "" : ` transform="rotate(${short(first.turned)} ${x} ${y})"`;
    const radii = `rx="${short(first.radii[0])}" ry="${short(first.radii[1])}"`;
    return `<ellipse cx="${x}" cy="${y}" ${radii}${turned}${paint}/>`;
  }
  if (first.kind === "path") {
    const data = run.map((it) => (it.kind === "path" ? pathData(it) : "")).join("");
    return `<path d="${data}"${paint}/>`;
  }
  return run.length === 1
    ? textElement(first, paint)
    : `<g${paint}>${run.map((it) => textElement(it, "")).join("")}</g>`;
}

function textElement(shape: Shape, paint: string): string {
  if (shape.kind !== "text") return "";
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
      let [lastX, lastY] = ["", ""];
      const points = line.map(([x, y], i) => {
        const [toX, toY] = [short(x), short(y)];
        const step =
          i === 0
            ? `M${toX} ${toY}`
            : toY === lastY
              ? `H${toX}`
              : toX === lastX
                ? `V${toY}`
                : `L${toX} ${toY}`;
        [lastX, lastY] = [toX, toY];
        return step;
      });
      return points.join("") + (closed ? "Z" : "");
    })
    .join("");
