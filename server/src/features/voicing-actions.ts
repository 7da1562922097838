import { locate, sectionAt } from "../chart/locate.js";
import type { PlacedSection } from "../chart/model.js";
import type { Document } from "../document/document.js";
import { isInRepeatedBar } from "../edits/voiced-choice.js";
import { voicedRow } from "../edits/voiced-rows.js";
import type { Hand } from "../keyboard/hand.js";
import type { Line, RowName } from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import { type Span, shift } from "../text/span.js";
import { prettyChord } from "../theory/chord.js";
import { type Action, action } from "./action.js";
import { emptyBars } from "./empty-bars.js";
import type { Scope } from "./scope.js";
import { settingOf, stylesFor } from "./suiting-styles.js";
import { stepVoicing, voice } from "./voice.js";

const bothHands: readonly Hand[] = ["left", "right"];

/** What is to be voiced, and how a menu says so. */
interface Subject {
  readonly words: string;
  readonly hands: readonly Hand[];
  readonly placed: PlacedSection;
  readonly scope: Scope;
  readonly anew: boolean;
}

/**
 * Voicings of the chords at a place. On a row of a hand those of this row through its section, on the chords or the
 * melody those of the hands that leave bars empty there; of selected slots, those alone. The styles that suit first,
 * or `all`, and then also what writes a full row anew.
 */
export function voicingActions(document: Document, span: Span, all: boolean): readonly Action[] {
  const subject = selected(document, span) ?? atCursor(document, span.start, all);
  if (subject === undefined) return [];
  const { words, hands, scope, anew, placed } = subject;
  const { all: styles, suits } = stylesFor(settingOf([placed], hands));
  const offered = (everyKey: boolean, count: number): readonly Action[] =>
    styles
      .slice(0, count)
      .map(({ name }) =>
        action(
          "refactor.rewrite.voice",
          `${words}: ${name}${everyKey ? ", playable in every key" : ""}`,
          () => voice(document, scope, { hands, style: name, everyKey, anew }),
        ),
      );
  return all ? [...offered(false, styles.length), ...offered(true, suits)] : offered(false, suits);
}

/** The slots of the hands that a selection covers. */
function selected(document: Document, span: Span): Subject | undefined {
  if (span.end <= span.start) return undefined;
  const placed = sectionAt(document, indexAt(document.tree.starts, span.start));
  if (placed === undefined || placed.path !== undefined) return undefined;
  const own = shift(span, -placed.offset);
  const hands = bothHands.filter((hand) =>
    placed.section.rows[hand].slots.some(({ written }) => written.start < own.end && own.start < written.end),
  );
  if (hands.length === 0) return undefined;
  return {
    words: "Voice the selected slots",
    hands,
    placed,
    scope: { kind: "selection", span },
    anew: false,
  };
}

/** What is empty at the row of the cursor; where nothing is, the whole row, if it was voiced or `all` are asked for. */
function atCursor(document: Document, offset: number, all: boolean): Subject | undefined {
  const lineIndex = indexAt(document.tree.starts, offset);
  const line = document.tree.lines[lineIndex] as Line;
  const placed = sectionAt(document, lineIndex);
  if (line.statement.kind !== "row" || placed === undefined || placed.path !== undefined) return undefined;
  const { row } = line.statement;
  const wanted = wantedHands(row);
  if (wanted.length === 0 || placed.section.chords.length === 0) return undefined;
  const empty = wanted.filter((hand) => emptyBars(placed, hand) > 0);
  const anew = empty.length === 0;
  if (anew && !all && voicedRow(line) === undefined) return undefined;
  const hands = anew ? wanted : empty;
  const isHand = row === "left" || row === "right";
  const where = document.outline.sections.length < 2 ? "" : " of this section";
  const what = isHand ? "this row" : `the chords${where} for ${handWords(hands)}`;
  return {
    words: `Voice ${what}${anew ? " anew" : ""}`,
    hands,
    placed,
    scope: { kind: "section", placed },
    anew,
  };
}

function wantedHands(row: RowName): readonly Hand[] {
  if (row === "left" || row === "right") return [row];
  return row === "chords" || row === "lead" ? bothHands : [];
}

const handWords = (hands: readonly Hand[]): string =>
  hands.length > 1 ? "both hands" : `the ${hands[0]} hand`;

/** The next best voicing of the slot of a hand at the cursor. */
export function nextVoicingActions(document: Document, { start, end }: Span): readonly Action[] {
  if (end > start) return [];
  const place = locate(document, start);
  const isTone = place.kind === "tone" || place.kind === "grace";
  if (!isTone && place.kind !== "stack" && place.kind !== "note-sign") return [];
  const { row, event, placed } = place;
  if (row.row !== "left" && row.row !== "right") return [];
  if (placed.path !== undefined || event?.kind !== "stack" || event.chord === undefined) return [];
  if (event.struck.length === 0 || isInRepeatedBar(event)) return [];
  const title = `Try the next voicing of ${prettyChord(event.chord.chord)}`;
  return [action("refactor.rewrite", title, () => stepVoicing(document, start))];
}
