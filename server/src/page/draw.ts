import type { Drawing } from "../exports/drawing.js";
import { drawingMarkup } from "../exports/drawing-markup.js";
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

/** A drawing as an element of the document. */
export const drawn = (drawing: Drawing): Element => made(drawingMarkup(drawing));
