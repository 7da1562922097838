/** A score as it is engraved, made anew from the engraver's text: nothing of it but shapes and words. */
export interface Engraved {
  readonly svg: SVGSVGElement;
  /** In units of its own. */
  readonly width: number;
  readonly height: number;
  readonly lines: readonly EngravedLine[];
}

export interface EngravedLine {
  readonly element: SVGGElement;
  readonly bars: readonly EngravedBar[];
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

/** Everything that is said of one picture must be its own. */
let pictures = 0;

/**
 * Makes a picture from the engraver's SVG. `letters` is how much smaller words must be than it reckons with, as fonts
 * differ, and `numbers` gives what stands under each chord.
 */
export function engraved(text: string, letters: number, numbers: readonly string[]): Engraved {
  const parsed = new DOMParser().parseFromString(text, "image/svg+xml");
  const inner = parsed.querySelector("svg svg");
  const [, , width = 0, height = 0] = (inner?.getAttribute("viewBox") ?? "").split(" ").map(Number);
  const own = `e${++pictures}-`;
  const svg = document.createElementNS(space, "svg");
  svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
  const lines: { element: SVGGElement; bars: EngravedBar[] }[] = [];
  let chords = 0;

  function copy(from: Element, to: Element): void {
    for (const it of from.children) {
      const kind = it.getAttribute("class")?.split(" ")[0] ?? "";
      // Bars have their own numbers here.
      if (kind === "mNum") continue;
      if (it.localName === "text") {
        const made = words(it, kindOfWords(from));
        if (made !== undefined) to.append(made);
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
      if (kind === "system") {
        made.setAttribute("class", "line");
        lines.push({ element: made as SVGGElement, bars: [] });
      }
      if (kind === "measure") {
        const [left, right] = extent(it);
        lines.at(-1)?.bars.push({ id: it.id, left, right });
      }
      copy(it, made);
      if (kind === "harm") addNumber(made, numbers[chords++]);
    }
  }

  function words(it: Element, kind: string): SVGTextElement | undefined {
    const said = (it.textContent ?? "").replace(/[\uE000-\uF8FF]/g, (sign) => signs[sign] ?? "");
    if (said.trim() === "") return undefined;
    const sizes = [...it.querySelectorAll("[font-size]")]
      .map((part) => sizeOf(part))
      .filter((size) => size > 0);
    return wordsAt(
      said,
      kind,
      Number(it.getAttribute("x")),
      Number(it.getAttribute("y")),
      sizes[0] ?? 405,
      it,
    );
  }

  function wordsAt(
    said: string,
    kind: string,
    x: number,
    y: number,
    size: number,
    like?: Element,
  ): SVGTextElement {
    const made = document.createElementNS(space, "text");
    made.setAttribute("class", kind);
    made.setAttribute("x", String(x));
    made.setAttribute("y", String(y));
    made.setAttribute("font-size", String(Math.round(size * letters)));
    const anchor = like?.getAttribute("text-anchor");
    if (anchor) made.setAttribute("text-anchor", anchor);
    made.textContent = said;
    return made;
  }

  function addNumber(chord: Element, number: string | undefined): void {
    const letters = chord.querySelector("text");
    if (letters === null || number === undefined) return;
    const [x, y] = [Number(letters.getAttribute("x")), Number(letters.getAttribute("y"))];
    chord.append(wordsAt(number, "number", x, y + numberBelow, numberSize));
  }

  const signsUsed = parsed.querySelector("defs");
  if (signsUsed !== null) {
    const defs = document.createElementNS(space, "defs");
    copy(signsUsed, defs);
    svg.append(defs);
  }
  if (inner !== null) copy(inner, svg);
  return { svg, width, height, lines };
}

/** In the engraver's units: how far a chord's number stands under its letters, and how large it is. */
const [numberBelow, numberSize] = [390, 340];

const kindOfWords = (around: Element): string => {
  const kind = around.closest("g.harm, g.syl, g.dir, g.ending, g.voltaBracket")?.getAttribute("class");
  if (kind?.startsWith("harm")) return "chord";
  if (kind?.startsWith("syl")) return "syllable";
  return kind?.startsWith("dir") ? "said" : "ending";
};

const sizeOf = (it: Element): number => Number.parseFloat(it.getAttribute("font-size") ?? "");

/** From where to where the first staff of a measure reaches: its lines do. */
function extent(measure: Element): readonly [left: number, right: number] {
  const line = measure.querySelector(":scope > .staff > path")?.getAttribute("d") ?? "";
  const [, left = "0", right = "0"] = /^M([\d.-]+) [\d.-]+ L([\d.-]+) /.exec(line) ?? [];
  return [Number(left), Number(right)];
}
