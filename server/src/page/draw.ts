import type { Drawing, Point, Shape } from "../exports/drawing.js";
import type { Markup } from "../exports/markup.js";

/** Makes a part of the document read as this; elements that are there stay, so that focus and marks do too. */
export function patch(there: Element, wanted: Markup): void {
  for (const { name } of [...there.attributes])
    if (wanted.attributes[name] === undefined && !kept.has(name)) there.removeAttribute(name);
  for (const [name, value] of Object.entries(wanted.attributes)) {
    if (there.getAttribute(name) !== value) there.setAttribute(name, value);
  }
  wanted.children.forEach((child, i) => {
    const node = there.childNodes[i];
    if (typeof child === "string") {
      if (node instanceof Text) {
        if (node.data !== child) node.data = child;
      } else there.insertBefore(new Text(child), node ?? null);
    } else if (node instanceof Element && node.localName === child.tag) patch(node, child);
    else there.insertBefore(made(child, there.namespaceURI), node ?? null);
  });
  while (there.childNodes.length > wanted.children.length) there.lastChild?.remove();
}

/** What a page's program adds of its own. */
const kept: ReadonlySet<string> = new Set(["tabindex", "aria-pressed", "aria-current"]);

/** An element of the document; inside a picture, one of a picture. */
export function made({ tag, attributes, children }: Markup, around: string | null = null): Element {
  const it =
    tag === "svg" || around === space ? document.createElementNS(space, tag) : document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) it.setAttribute(name, value);
  it.append(...children.map((child) => (typeof child === "string" ? child : made(child, it.namespaceURI))));
  return it;
}

const space = "http://www.w3.org/2000/svg";

function svgElement(
  tag: string,
  attributes: Readonly<Record<string, string | number | undefined>>,
): SVGElement {
  const it = document.createElementNS(space, tag);
  for (const [name, value] of Object.entries(attributes))
    if (value !== undefined) it.setAttribute(name, String(value));
  return it;
}

/** A drawing as an element of the document, with its words for those who don't see it. */
export function drawn({ width, height, words, shapes }: Drawing): SVGElement {
  const it = svgElement("svg", {
    viewBox: `0 0 ${width} ${height}`,
    role: "img",
    "aria-label": words,
    "font-family": "system-ui, sans-serif",
  });
  it.append(...shapes.map(shapeElement));
  return it;
}

function shapeElement(shape: Shape): SVGElement {
  if (shape.kind === "text") {
    const { at, anchor, size, bold, fill, text } = shape;
    const it = svgElement("text", {
      x: at[0],
      y: at[1],
      "text-anchor": anchor,
      "font-size": size,
      "font-weight": bold ? "bold" : undefined,
      fill,
    });
    it.textContent = text;
    return it;
  }
  const paint = {
    fill: shape.fill ?? "none",
    stroke: shape.stroke,
    "stroke-width": shape.strokeWidth,
    "stroke-dasharray": shape.dashed === true ? "2 2" : undefined,
  };
  if (shape.kind === "oval") {
    const [cx, cy] = shape.centre;
    const [rx, ry] = shape.radii;
    return svgElement("ellipse", {
      cx,
      cy,
      rx,
      ry,
      transform: `rotate(${shape.turned} ${cx} ${cy})`,
      ...paint,
    });
  }
  const line = (points: readonly Point[]): string =>
    `M${points.map(([x, y]) => `${x} ${y}`).join("L")}${shape.closed ? "Z" : ""}`;
  return svgElement("path", { d: shape.lines.map(line).join(""), ...paint });
}
