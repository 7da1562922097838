import { type Measure, type NoteEntry, parse } from "musicxml-io";
import { openDocument } from "../../server/src/document/document.js";
import { musicXml } from "../../server/src/exports/musicxml.js";
import type { PerformanceOptions } from "../../server/src/exports/performance.js";
import { chartText } from "../support/edit-chart.js";

/** The score of a chart written in a test. */
export const scoreOf = (text: string, options?: PerformanceOptions): string =>
  musicXml(openDocument("chart.plagal", chartText(text)).chart, options).text;

const signs: Readonly<Record<string, string>> = { "-2": "bb", "-1": "b", "0": "", "1": "#", "2": "x" };
const marks: Readonly<Record<string, string>> = {
  "flat-flat": "𝄫",
  flat: "♭",
  natural: "♮",
  sharp: "♯",
  "double-sharp": "𝄪",
};

/**
 * A voice of a score bar by bar, as words: `half C4+E4~` is a half note's chord whose E is tied on, `3:2 eighth D4` a
 * note of a triplet, `quarter. r` a dotted rest, `bar` a rest through the bar, `/` a stroke of the accompaniment, and
 * a grace note has a `'` before it. The accidental that is printed stands before its note.
 */
export function voice(text: string, part = "Piano", staff = 1): readonly string[] {
  const score = parse(scoreOf(text));
  const index = score.partList.findIndex((it) => it.type === "score-part" && it.name === part);
  return (score.parts[index]?.measures ?? []).map((measure) => barOf(measure, staff));
}

function barOf({ entries }: Measure, staff: number): string {
  const chords: NoteEntry[][] = [];
  for (const entry of entries) {
    if (entry.type !== "note" || (entry.staff ?? 1) !== staff) continue;
    if (entry.chord) chords.at(-1)?.push(entry);
    else chords.push([entry]);
  }
  return chords.map(chordOf).join(" | ");
}

function chordOf(notes: readonly NoteEntry[]): string {
  const first = notes[0] as NoteEntry;
  if (first.rest?.measure) return "bar";
  const { actualNotes, normalNotes } = first.timeModification ?? {};
  const tuplet = actualNotes === undefined ? "" : `${actualNotes}:${normalNotes} `;
  const value = `${first.noteType ?? "?"}${".".repeat(first.dots ?? 0)}`;
  const rolled = first.notations?.some(({ type }) => type === "arpeggiate") ? "~" : "";
  const what = first.rest ? "r" : first.unpitched ? "/" : rolled + notes.map(noteOf).join("+");
  return first.grace ? `'${what}` : `${tuplet}${value} ${what}`;
}

function noteOf({ pitch, accidental, ties, tie }: NoteEntry): string {
  if (pitch === undefined) return "?";
  const on = (ties ?? (tie === undefined ? [] : [tie])).some(({ type }) => type === "start") ? "~" : "";
  const sign = accidental === undefined ? "" : marks[accidental.value];
  return `${sign}${pitch.step}${signs[String(pitch.alter ?? 0)]}${pitch.octave}${on}`;
}

/** The bars of a score's top part with their signs: `|: 1 | [1.] 2 :|`. */
export function barLines(text: string): string {
  const measures = parse(scoreOf(text)).parts[0]?.measures ?? [];
  return measures
    .map(({ number, barlines = [] }) => {
      const left = barlines.find((it) => it.location === "left");
      const right = barlines.find((it) => it.location === "right");
      const ending = left?.ending === undefined ? "" : `[${left.ending.number}] `;
      const times = right?.repeat?.times === undefined ? "" : ` x${right.repeat.times}`;
      const ends = right?.ending === undefined ? "" : `]`;
      const close = right?.repeat ? ` :|${times}` : right?.barStyle === "light-light" ? " ||" : "";
      return `${left?.repeat ? "|: " : ""}${ending}${number}${ends}${close}`;
    })
    .join(" ");
}
