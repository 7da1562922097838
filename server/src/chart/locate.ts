import type { FormItem, KeyLine, Line, Token } from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import { type Span, sliceOf } from "../text/span.js";
import { type InForce, inForceAt } from "./in-force.js";
import { barAt, inRow } from "./locate-in-row.js";
import type { Charted, Located, Played } from "./located.js";
import { holds, type Place, where } from "./lookup-place.js";
import type { PlacedSection } from "./model.js";
import { movedBy } from "./moves.js";

/**
 * What stands at a place of a chart: the character at `offset`, or where that is white space the one before it. For
 * any text and any offset there is an answer; one outside the text counts as its nearest end.
 */
export function locate(charted: Charted, offset: number): Located {
  const { tree } = charted;
  const at = Number.isNaN(offset) ? 0 : Math.max(0, Math.min(Math.trunc(offset), tree.text.length));
  const lineIndex = indexAt(tree.starts, at);
  const line = tree.lines[lineIndex] as Line;
  const lineStart = tree.starts[lineIndex] as number;
  const placed = sectionAt(charted, lineIndex);
  const inLine = at - lineStart;
  const place: Place = { charted, lineIndex, line, lineStart, placed, inLine };
  const token = tokenAt(line, inLine);
  if (token === undefined) return nothing(place);
  if (token.kind === "comment") return { kind: "comment", ...where(place, token.span) };
  return (
    inStatement({ ...place, inLine: Math.min(inLine, token.span.end - 1) }, token) ?? unread(place, token)
  );
}

/** The section whose text a line is of; `undefined` in the header. */
export function sectionAt({ outline, chart }: Charted, lineIndex: number): PlacedSection | undefined {
  let low = -1;
  let high = outline.sections.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((outline.sections[middle]?.firstLine ?? 0) <= lineIndex) low = middle;
    else high = middle - 1;
  }
  return low < 0 ? undefined : chart.sections[low];
}

const nothing = (place: Place): Located => {
  const { inLine, line } = place;
  const here = { start: inLine, end: inLine };
  const { statement } = line;
  const bar = statement.kind === "row" ? barAt(place, statement) : undefined;
  return { kind: "nothing", ...where(place, here), in: bar };
};

const unread = (place: Place, { span }: Token): Located => {
  const { statement } = place.line;
  return {
    kind: "unread",
    ...where(place, span),
    text: sliceOf(place.line.text, span),
    in: statement.kind === "row" ? barAt(place, statement) : undefined,
  };
};

const isBlank = ({ kind }: Token): boolean => kind === "white" || kind === "lineEnd";

/** The token at a place of a line, or the one that ends there; `undefined` between white space. */
function tokenAt({ tokens }: Line, at: number): Token | undefined {
  let low = 0;
  let high = tokens.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((tokens[middle] as Token).span.start <= at) low = middle;
    else high = middle - 1;
  }
  const here = tokens[low];
  if (here !== undefined && !isBlank(here)) return here;
  const before = here?.span.start === at ? tokens[low - 1] : undefined;
  return before === undefined || isBlank(before) ? undefined : before;
}

/** As wide as its quotation marks, where it has any. */
const holdsQuoted = ({ start, end }: Span, token: Span): boolean => token.start <= start && end <= token.end;

function inStatement(place: Place, token: Token): Located | undefined {
  const { line, inLine, charted, placed, lineStart } = place;
  const { statement } = line;
  const here = where(place, token.span);
  if (token.kind === "headerWord" || token.kind === "sectionWord" || token.kind === "rowWord") {
    return { kind: "word", ...here, statement, text: sliceOf(line.text, token.span) };
  }
  switch (statement.kind) {
    case "text":
      return holds(statement.span, inLine)
        ? { kind: "text", ...where(place, statement.span), word: statement.word, text: statement.value }
        : undefined;
    case "key":
      return keyAt(place, statement);
    case "time":
      return statement.value && holds(statement.span, inLine)
        ? { kind: "time", ...where(place, statement.span), meter: statement.value }
        : undefined;
    case "tempo":
      return statement.value !== undefined && holds(statement.span, inLine)
        ? {
            kind: "tempo",
            ...where(place, statement.span),
            tempo: statement.value,
            inForce: inForceHere(place),
          }
        : undefined;
    case "feel":
      return statement.value && holds(statement.span, inLine)
        ? { kind: "feel", ...where(place, statement.span), feel: statement.value }
        : undefined;
    case "reach":
      return holds(statement.span, inLine) && token.kind !== "unread"
        ? {
            kind: "reach",
            ...where(place, statement.span),
            left: statement.left,
            right: statement.right,
          }
        : undefined;
    case "form":
      return playedAt(place, token, statement.items, "form");
    case "play":
      return playedAt(place, token, statement.item === undefined ? [] : [statement.item], "play");
    case "use": {
      if (statement.path === undefined || !holdsQuoted(statement.span, token.span)) return undefined;
      const start = statement.span.start + lineStart;
      const used = charted.chart.uses.find(({ span }) => span.start === start);
      return { kind: "use", ...here, used, path: statement.path };
    }
    case "section":
      return placed !== undefined && holdsQuoted(statement.nameSpan, token.span)
        ? { kind: "section", ...here, placed, name: statement.name }
        : undefined;
    case "lands":
      return statement.degree !== undefined && holds(statement.degree.span, inLine)
        ? {
            kind: "lands",
            ...where(place, statement.degree.span),
            lands: statement.degree,
            inForce: inForceHere(place),
          }
        : undefined;
    case "row":
      return inRow(place, token, statement);
    default:
      return undefined;
  }
}

/** What holds where a line stands: in the header what the header says in all. */
function inForceHere({ charted, placed, lineIndex }: Place, further = 0): InForce {
  if (placed === undefined) return charted.chart.header;
  return inForceAt(placed, lineIndex - placed.firstLine + further);
}

function keyAt(place: Place, keyLine: KeyLine): Located | undefined {
  const { inLine, placed, charted, lineIndex } = place;
  const { keySpan, original, tonic } = keyLine;
  const isOriginal = original !== undefined && holds(original.span, inLine);
  if (tonic === undefined || !(isOriginal || holds(keySpan, inLine))) return undefined;
  const first = charted.outline.header.findIndex(
    ({ statement }) => statement.kind === "key" && statement.tonic !== undefined,
  );
  return {
    kind: isOriginal ? "original" : "key",
    ...where(place, isOriginal ? original.span : keySpan),
    keyLine,
    inForce: inForceHere(place, 1),
    counts: placed !== undefined || first === lineIndex,
  };
}

function playedAt(
  place: Place,
  token: Token,
  items: readonly FormItem[],
  within: "form" | "play",
): Located | undefined {
  const { inLine } = place;
  for (const item of items) {
    const isName = holdsQuoted(item.nameSpan, token.span);
    if (!isName && !holds(item.span, inLine)) continue;
    const played = playedItem(place, item, within);
    if (isName) return { kind: "section-use", ...where(place, token.span), ...played };
    if (item.move !== undefined && holds(item.move.span, inLine)) {
      return { kind: "move", ...where(place, item.move.span), ...played, move: item.move };
    }
    if (token.kind === "times") return { kind: "times", ...where(place, token.span), ...played };
  }
  return undefined;
}

function playedItem({ charted, placed, lineStart }: Place, item: FormItem, within: "form" | "play"): Played {
  const { chart } = charted;
  if (within === "play") {
    const i = placed?.section.plays.findIndex(
      (it) => it.item === item && it.lineStart + placed.offset === lineStart,
    );
    const target = placed?.plays[i ?? -1];
    const moved =
      placed === undefined || target === undefined
        ? undefined
        : movedBy(
            item.move,
            target.section,
            placed.section.context.home,
            placed.section.context.displacement,
          );
    return { item, in: within, target, moved };
  }
  const target = chart.formWords.find((it) => it.item === item && it.lineStart === lineStart)?.section;
  const moved = target === undefined ? undefined : movedBy(item.move, target.section, chart.header.home);
  return { item, in: within, target, moved };
}
