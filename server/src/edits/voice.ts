import { waysPlayed } from "../chart/played.js";
import type { Edit } from "../text/edits.js";
import type { ChartText } from "./chart-text.js";
import { handWriting } from "./hand-writing.js";
import type { EditNote, EditResult } from "./result.js";
import { unreadNotes } from "./unread-notes.js";
import { voiceSection } from "./voice-section.js";
import type { VoicingAsked } from "./voicing-asked.js";

/**
 * Voices the chords of a chart for one hand or both: fills empty bars and rows that aren't there, or what is chosen,
 * with the best path through each section. The melody stays the right hand's top voice. No other slot is touched.
 */
export function voiceRows(text: ChartText, asked: VoicingAsked): EditResult {
  const { chart, tree } = text;
  const writing = handWriting(chart);
  const ways = waysPlayed(chart);
  const edits: Edit[] = [];
  const notes: EditNote[] = [];
  for (const placed of chart.sections) {
    if (placed.path !== undefined || (asked.only ?? placed) !== placed) continue;
    const moves = (ways.get(placed) ?? []).map(({ halfSteps }) => halfSteps);
    const voiced = voiceSection(placed, asked, moves, writing);
    edits.push(...voiced.edits);
    notes.push(...voiced.notes);
  }
  if (edits.length === 0) return { refused: notes[0]?.message ?? refusal(text, asked) };
  notes.push(...unreadNotes(tree, "voiced", (it) => it.kind === "row" && it.row === "chords"));
  return { edits, notes: oneOfEach(notes) };
}

function refusal({ chart }: ChartText, { hands, which }: VoicingAsked): string {
  const own = chart.sections.filter(({ path }) => path === undefined);
  if (own.every(({ section }) => section.chords.length === 0))
    return "There are no chords to voice. Write a chords row first.";
  if (typeof which !== "string")
    return "Nothing there can be voiced. Select slots of a hand, or put the cursor where a bar or a row is empty.";
  const names = hands.length === 2 ? "Both hands have" : `The ${hands[0]} hand has`;
  return `${names} something written in every bar that has a chord.`;
}

/** The same thing said at several chords is said at the first. */
function oneOfEach(notes: readonly EditNote[]): readonly EditNote[] {
  const said = new Set<string>();
  return [...notes]
    .sort((a, b) => a.span.start - b.span.start)
    .filter(({ message }) => !said.has(message) && said.add(message));
}
