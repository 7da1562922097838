import { inForceAt } from "../chart/in-force.js";
import { sectionAt } from "../chart/locate.js";
import { namesOf, sectionWords } from "../checks/section-words.js";
import { isTextRow } from "../syntax/text-row.js";
import type { BarText, Line, RowLine, RowName } from "../syntax/tree.js";
import type { Span } from "../text/span.js";
import { keyName } from "../theory/key.js";
import { isReadable, type Offer, playsKnown, type TypingPlace } from "./completion-place.js";
import { saying } from "./hover-text.js";
import { newChart } from "./new-chart.js";
import { canBeSaid, sectionWord } from "./section-word.js";
import { place as fill, literal } from "./snippet.js";
import { wordMeanings } from "./word-meanings.js";

/** The first word of the cursor's line; where there is none, the cursor itself. */
export function firstWordOf({ body, at }: TypingPlace): Span {
  const start = /^[\uFEFF \t]*/.exec(body)?.[0].length ?? 0;
  const length = /^[^ \t|]*/.exec(body.slice(start))?.[0].length ?? 0;
  return length === 0 && start === body.length ? { start: at, end: at } : { start, end: start + length };
}

const rowNames: readonly RowName[] = ["chords", "lead", "right", "left", "bass", "words", "cue"];
const usualNames = ["Verse", "Chorus", "Bridge", "Tag", "Intro", "Turnaround", "Ending"];

/** What a line may start with where it stands. */
export function firstWordOffers(place: TypingPlace, span: Span): readonly Offer[] {
  const { at, body, document, lineIndex, line } = place;
  if (at < span.start) return [];
  const isWhole = body.slice(span.end).trim() === "";
  // A section's own first line belongs, for what may stand there, to what is before it.
  const placed = lineIndex === 0 ? undefined : sectionAt(document, lineIndex - 1);
  const words = placed === undefined ? headWords(place) : sectionWordsFor(place, placed);
  const rows = rowsFor(place);
  const said = words.map((word) => wordOffer(place, word, span));
  const played = rows.map((row) => rowOffer(place, row, span));
  // A section is there for its rows.
  const offers = placed === undefined ? [...said, ...played] : [...played, ...said];
  if (isWhole) {
    if (document.text.trim() !== body.trim() || line.text.trim() !== body.trim()) return offers;
    const chart: Offer = {
      label: "new chart",
      kind: "snippet",
      detail: "a head and a first system to fill",
      span,
      text: newChart(),
      isSnippet: true,
    };
    return [chart, ...offers];
  }
  return changedWords(place, span, offers);
}

/** The words alone, where the rest of the line stands already and can be read after them. */
function changedWords(place: TypingPlace, span: Span, offers: readonly Offer[]): readonly Offer[] {
  const { kind } = place.line.statement;
  // Another word than `section` would give its rows to another section.
  if (kind === "section") return [];
  const rest = place.body.slice(span.end);
  return offers
    .filter(({ kind: of }) => !(of === "row" && /[%=]/.test(rest)))
    .map(({ isSnippet, ...it }): Offer => ({ ...it, text: it.label }))
    .filter(({ text }) => isReadable(place, span, text) && playsKnown(place, span, text));
}

const documented = (word: string): Pick<Offer, "detail" | "documentation"> => {
  const [title, ...more] = wordMeanings[word] as readonly [string, ...string[]];
  return { detail: title.slice(title.indexOf(":") + 2), documentation: saying(title, ...more) };
};

function wordOffer(place: TypingPlace, word: string, span: Span): Offer {
  const value = firstValue(place, word);
  return {
    label: word,
    kind: "word",
    ...documented(word),
    span,
    text: value === "" ? word : `${word} ${value}`,
    isSnippet: true,
  };
}

/** What stands behind a word at first, to be typed over; all of it can be read. */
function firstValue(place: TypingPlace, word: string): string {
  const { document, placed, lineIndex } = place;
  const { chart } = document;
  const inForce = placed === undefined ? chart.header : inForceAt(placed, lineIndex - placed.firstLine);
  const { home, meter, tempo, feel } = inForce;
  switch (word) {
    case "title":
      return fill(1, "New Chart");
    case "by":
      return fill(1, "who wrote it");
    case "note":
      return fill(1, "a word to the player");
    case "key":
      return fill(1, keyName(home.key));
    case "time":
      return fill(1, `${meter.beats}/${meter.unit}`);
    case "tempo":
      return fill(1, `${tempo ?? 80}`);
    case "feel":
      return fill(1, feel === "straight" ? "swing" : "straight");
    case "reach":
      return fill(1, "9");
    case "lands":
      return fill(1, "1");
    case "use":
      return `"${fill(1, "tags.plagal")}"`;
    case "form":
      return namesOf(chart)
        .filter(canBeSaid)
        .slice(0, mostInForm)
        .map((name, i) => fill(i + 1, sectionWord(name)))
        .join(" ");
    case "play":
      return fill(1, sectionWord(playable(place)[0] ?? ""));
    case "section":
      return fill(1, newName(place));
    default:
      return literal("");
  }
}

const mostInForm = 12;

/** Sections that can be named here, without the one that the line is in. */
const playable = ({ document: { chart }, placed }: TypingPlace): readonly string[] => {
  const own = placed?.section.name;
  return namesOf(chart).filter((name) => canBeSaid(name) && (placed === undefined || name !== own));
};

function newName({ document: { chart } }: TypingPlace): string {
  const taken = new Set(namesOf(chart));
  const asked = sectionWords(chart)
    .filter(({ target }) => target === undefined)
    .map(({ item }) => item.name);
  const found = [...asked, ...usualNames].find(
    (name) => canBeSaid(name) && !taken.has(name) && !name.includes(";"),
  );
  if (found !== undefined) return found;
  let number = taken.size + 1;
  while (taken.has(`Section ${number}`)) number++;
  return `Section ${number}`;
}

/** Words of the head; those that count once are left out where they stand already. */
function headWords(place: TypingPlace): readonly string[] {
  const { document, lineIndex } = place;
  const others = document.outline.header.filter((_, i) => i !== lineIndex).map(wordOf);
  const once = (word: string): readonly string[] => (others.includes(word) ? [] : [word]);
  return [
    ...["title", "key", "time", "tempo"].flatMap(once),
    "section",
    ...["by", "feel", "reach"].flatMap(once),
    "note",
    ...(playable(place).length > 0 ? ["form"] : []),
    "use",
  ];
}

const wordOf = ({ text }: Line): string => /^[\uFEFF \t]*([^ \t\r\n|]*)/.exec(text)?.[1] ?? "";

type Placed = NonNullable<TypingPlace["placed"]>;

function sectionWordsFor(place: TypingPlace, placed: Placed): readonly string[] {
  const { lineIndex, document } = place;
  const { source } = placed.section;
  const own = lineIndex - placed.firstLine;
  const has = (kind: string): boolean =>
    source.lines.some((line, i) => i !== own && line.statement.kind === kind);
  const names = playable(place);
  const lastOwn = source.lines.findLastIndex(
    ({ statement: { kind } }, i) => i !== own && ["section", "row", "lands", "vamp", "play"].includes(kind),
  );
  const isEnd = document.chart.outline.sections.at(-1)?.offset === placed.offset && own > lastOwn;
  return [
    "section",
    ...(has("lands") ? [] : ["lands"]),
    ...(has("vamp") ? [] : ["vamp"]),
    ...(names.length > 0 ? ["play"] : []),
    "key",
    "time",
    "tempo",
    "feel",
    ...(isEnd && namesOf(document.chart).some(canBeSaid) ? ["form"] : []),
  ];
}

/** Rows of the system that the line is or would be of: the nearest rows above and below it, and all their names. */
function systemAround({ document, lineIndex }: TypingPlace): {
  readonly above: Line | undefined;
  readonly below: Line | undefined;
  readonly names: ReadonlySet<RowName>;
} {
  const { lines } = document.tree;
  const names = new Set<RowName>();
  const walk = (step: number): Line | undefined => {
    let nearest: Line | undefined;
    for (let i = lineIndex + step; i >= 0 && i < lines.length; i += step) {
      const line = lines[i] as Line;
      if (line.statement.kind === "comment") continue;
      if (line.statement.kind !== "row" || (names.has(line.statement.row) && line.statement.row !== "words"))
        break;
      names.add(line.statement.row);
      nearest ??= line;
    }
    return nearest;
  };
  return { above: walk(-1), below: walk(1), names };
}

const rowsFor = (place: TypingPlace): readonly RowName[] => {
  const { names } = systemAround(place);
  const lacking = rowNames.filter((name) => name === "words" || !names.has(name));
  // Words go to a lead: without one they are the least likely.
  return names.has("lead") ? lacking : [...lacking.filter((name) => name !== "words"), "words"];
};

function rowOffer(place: TypingPlace, row: RowName, span: Span): Offer {
  const { above, below } = systemAround(place);
  const other = above ?? below;
  return {
    label: row,
    kind: "row",
    ...documented(row),
    span,
    text: openRow(row, other, above === undefined),
    isSnippet: true,
  };
}

/** A row with as many bars as its neighbour, each with a place to fill; the first row has the repeats of its system. */
function openRow(row: RowName, other: Line | undefined, isTop: boolean): string {
  const neighbour = other?.statement.kind === "row" ? other.statement : undefined;
  const bars = neighbour?.bars ?? [];
  const column = bars[0] === undefined ? 0 : bars[0].open.span.start;
  const start = column > row.length ? row.padEnd(column) : `${row} `;
  return start + barsToFill(row, bars, isTop && other !== undefined ? other.text : undefined);
}

const bare = 4;

/** Bars to fill between bar lines, which are those of `text` where it is given. */
export function barsToFill(row: RowName, bars: RowLine["bars"], text: string | undefined): string {
  const first = isTextRow(row) ? "" : row === "chords" ? "1" : "r";
  const cell = (i: number): string => ` ${fill(i + 1, first)} `;
  if (bars.length === 0) return `|${Array.from({ length: bare }, (_, i) => `${cell(i)}|`).join("")}`;
  if (text === undefined) return `|${bars.map((_, i) => `${cell(i)}|`).join("")}`;
  const sign = ({ open, ending }: BarText): string =>
    text.slice(open.span.start, ending?.span.end ?? open.timesSpan?.end ?? open.span.end);
  const close = bars.at(-1)?.close;
  const end =
    close === undefined ? "|" : text.slice(close.span.start, close.timesSpan?.end ?? close.span.end);
  return literal(`${bars.map(sign).join("\u0000")}\u0000${end}`)
    .split("\u0000")
    .map((it, i, all) => (i === all.length - 1 ? it : it + cell(i)))
    .join("");
}
