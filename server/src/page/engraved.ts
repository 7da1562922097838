import type { LetterScale } from "./letter-scale.js";

/** A score as it is engraved, made anew from the engraver's text: nothing of it but shapes and words. */
export interface Engraved {
  readonly svg: SVGSVGElement;
  /** In units of its own; ten are one of the engraver's. */
  readonly width: number;
  readonly height: number;
  /** Where its lines count from. */
  readonly margin: { readonly x: number; readonly y: number };
  readonly lines: readonly EngravedLine[];
}

export interface EngravedLine {
  readonly element: SVGGElement;
  readonly bars: readonly EngravedBar[];
}

/** A line of what stands over the staff at a chord. */
export interface ChordLine {
  readonly text: string;
  readonly kind: "chord" | "number";
}

export interface EngravedBar {
  /** As the score has it. */
  readonly id: string;
  readonly left: number;
  readonly right: number;
}

const space = "http://www.w3.org/2000/svg";

const shapes: ReadonlySet<string> = new Set([
  "g",
  "path",
  "use",
  "ellipse",
  "polygon",
  "polyline",
  "rect",
  "line",
  "circle",
]);

const kept: ReadonlySet<string> = new Set([
  "d",
  "transform",
  "x",
  "y",
  "x1",
  "y1",
  "x2",
  "y2",
  "width",
  "height",
  "cx",
  "cy",
  "r",
  "rx",
  "ry",
  "points",
  "stroke-width",
  "stroke-linecap",
  "stroke-linejoin",
  "stroke-dasharray",
  "fill-opacity",
  "visibility",
]);

/** What the engraver sets signs with that stand among words (SMuFL 1.4, "Figured bass"), as everybody's fonts have them. */
const signs: Readonly<Record<string, string>> = {
  "\uEA63": "♭♭",
  "\uEA64": "♭",
  "\uEA65": "♮",
  "\uEA66": "♯",
  "\uEA67": "♯♯",
};

/** The page's content policy lets no style in but its own, and would tell of one even where nothing is taken over. */
const styles = /<style\b[^>]*>[^<]*<\/style>/g;

/** Everything that is said of one picture must be its own. */
let pictures = 0;

/**
 * Makes a picture from the engraver's SVG. `letters` is how much smaller words must be than it reckons with, as fonts
 * differ, and `chords` gives what stands over the staff at each of its places for a chord, from above.
 */
export function engraved(
  text: string,
  letters: LetterScale,
  chords: readonly (readonly ChordLine[])[],
): Engraved {
  const parsed = new DOMParser().parseFromString(text.replace(styles, ""), "image/svg+xml");
  const inner = parsed.querySelector("svg svg");
  const [, , width = 0, height = 0] = (inner?.getAttribute("viewBox") ?? "").split(" ").map(Number);
  const own = `e${++pictures}-`;
  const svg = document.createElementNS(space, "svg");
  svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
  const lines: { element: SVGGElement; bars: EngravedBar[] }[] = [];
  const [, moved = "0", lowered = "0"] =
    /translate\(([\d.-]+), ([\d.-]+)\)/.exec(
      parsed.querySelector(".page-margin")?.getAttribute("transform") ?? "",
    ) ?? [];
  const margin = { x: Number(moved), y: Number(lowered) };
  const rows = Math.max(1, ...chords.map((names) => names.length));
  const places = parsed.querySelectorAll("g.harm").length;
  let chord = 0;

  function copy(from: Element, to: Element): void {
    for (const it of from.children) {
      const kind = it.getAttribute("class")?.split(" ")[0] ?? "";
      // Bars have their own numbers here.
      if (kind === "mNum") continue;
      if (it.localName === "text") {
        const said = wordsOf(it);
        if (said !== undefined) to.append(textAt(it, said, kindOfWords(from), sizeIn(it) * letters.plain));
        continue;
      }
      if (kind === "harm") {
        const place = it.querySelector("text");
        const names = places === chords.length ? chords[chord++] : undefined;
        if (place !== null) to.append(...chordAt(place, names));
        continue;
      }
      if (!shapes.has(it.localName)) continue;
      const made = document.createElementNS(space, it.localName);
      for (const { name, value } of it.attributes) if (kept.has(name)) made.setAttribute(name, value);
      if (it.getAttribute("fill") === "none") made.setAttribute("fill", "none");
      const sign = /^#([\w-]+)$/.exec(it.getAttribute("href") ?? "")?.[1];
      if (it.localName === "use" && sign !== undefined) made.setAttribute("href", `#${own}${sign}`);
      if (from.localName === "defs") made.id = own + it.id;
      to.append(made);
      // The engraver knows one row of chords.
      if (kind === "voltaBracket") made.setAttribute("transform", `translate(0, ${(1 - rows) * chordLine})`);
      if (kind === "system") {
        made.setAttribute("class", "line");
        lines.push({ element: made as SVGGElement, bars: [] });
      }
      if (kind === "measure") {
        made.setAttribute("class", "measure");
        const [left, right] = extent(it);
        lines.at(-1)?.bars.push({ id: it.id, left: margin.x + left, right: margin.x + right });
      }
      copy(it, made);
    }
  }

  function chordAt(place: Element, names: readonly ChordLine[] | undefined): readonly SVGTextElement[] {
    if (names === undefined) {
      const said = wordsOf(place);
      return said === undefined ? [] : [textAt(place, said, "chord", sizeIn(place) * letters.bold)];
    }
    return names.flatMap(({ text, kind }, i) => {
      if (text === "") return [];
      const size = kind === "number" ? numberSize * letters.plain : chordSize * letters.bold;
      const made = textAt(place, text, kind, size);
      made.setAttribute("y", String(Number(place.getAttribute("y")) - (names.length - 1 - i) * chordLine));
      return [made];
    });
  }

  const signsUsed = parsed.querySelector("defs");
  if (signsUsed !== null) {
    const defs = document.createElementNS(space, "defs");
    copy(signsUsed, defs);
    svg.append(defs);
  }
  if (inner !== null) copy(inner, svg);
  return { svg, width, height, margin, lines };
}

/** In the picture's units: how large chords are, how large numbers under letters, and how far these are above those. */
const [chordSize, numberSize] = [450, 360];
export const chordLine = 430;

/** What a text says; `undefined` where that is nothing. */
function wordsOf(it: Element): string | undefined {
  const said = (it.textContent ?? "").replace(/[\uE000-\uF8FF]/g, (sign) => signs[sign] ?? "");
  return said.trim() === "" ? undefined : said;
}

function textAt(place: Element, said: string, kind: string, size: number): SVGTextElement {
  const made = document.createElementNS(space, "text");
  made.setAttribute("class", kind);
  for (const name of ["x", "y", "text-anchor"]) {
    const value = place.getAttribute(name);
    if (value !== null) made.setAttribute(name, value);
  }
  made.setAttribute("font-size", String(Math.round(size)));
  made.textContent = said;
  return made;
}

const kindOfWords = (around: Element): string => {
  const kind = around.closest("g.syl, g.dir")?.getAttribute("class") ?? "";
  return kind.startsWith("syl") ? "syllable" : kind.startsWith("dir") ? "said" : "ending";
};

/** The size of a text's letters: it stands at its parts. */
const sizeIn = (it: Element): number =>
  [...it.querySelectorAll("[font-size]")]
    .map((part) => Number.parseFloat(part.getAttribute("font-size") ?? ""))
    .find((size) => size > 0) ?? chordSize;

/** From where to where the first staff of a measure reaches: its lines do. */
function extent(measure: Element): readonly [left: number, right: number] {
  const line = measure.querySelector(":scope > .staff > path")?.getAttribute("d") ?? "";
  const [, left = "0", right = "0"] = /^M([\d.-]+) [\d.-]+ L([\d.-]+) /.exec(line) ?? [];
  return [Number(left), Number(right)];
}
