import type { Drawing, PathShape, Shape } from "./drawing.js";
import { element, type Markup } from "./markup.js";

/** A drawing as an element of a page, with its words for those who don't see it. */
export const drawingMarkup = ({ width, height, words, shapes }: Drawing): Markup =>
  element(
    "svg",
    {
      viewBox: `0 0 ${width} ${height}`,
      role: "img",
      "aria-label": words,
      "font-family": "system-ui, sans-serif",
    },
    ...shapes.map(shapeMarkup),
  );

function shapeMarkup(shape: Shape): Markup {
  if (shape.kind === "text") {
    const { at, anchor, size, bold, fill, text } = shape;
    const weight = bold ? "bold" : undefined;
    const place = { x: `${at[0]}`, y: `${at[1]}`, "text-anchor": anchor };
    return element("text", { ...place, "font-size": `${size}`, "font-weight": weight, fill }, text);
  }
  const paint = {
    fill: shape.fill ?? "none",
    stroke: shape.stroke,
    "stroke-width": shape.strokeWidth === undefined ? undefined : `${shape.strokeWidth}`,
    "stroke-dasharray": shape.dashes?.join(" "),
  };
  if (shape.kind === "path") return element("path", { d: pathOf(shape), ...paint });
  const [[cx, cy], [rx, ry]] = [shape.centre, shape.radii];
  const transform = `rotate(${shape.turned} ${cx} ${cy})`;
  return element("ellipse", { cx: `${cx}`, cy: `${cy}`, rx: `${rx}`, ry: `${ry}`, transform, ...paint });
}

const pathOf = ({ lines, closed }: PathShape): string =>
  lines.map((line) => `M${line.map(([x, y]) => `${x} ${y}`).join("L")}${closed ? "Z" : ""}`).join("");
