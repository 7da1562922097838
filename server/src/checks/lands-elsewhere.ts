import { landingRoot, openingChord } from "../chart/harmony.js";
import type { Chart, ChordEvent, Lands, PlacedSection, RowEvents } from "../chart/model.js";
import { type Entry, followings, type PlayWord } from "../chart/play-order.js";
import { asPrinted, waysPlayed } from "../chart/played.js";
import type { Extras } from "../problems/problem.js";
import type { Edit } from "../text/edits.js";
import { type Span, shift } from "../text/span.js";
import { prettyChord } from "../theory/chord.js";
import { compare } from "../theory/fraction.js";
import { degreeInKey, type Key } from "../theory/key.js";
import { pitchClass, prettyName } from "../theory/note-name.js";
import { prettyNumber, printNumber, type ToneNumber } from "../theory/tone-number.js";
import type { ChartCheck, PlayedSection } from "./check.js";
import { handsTrial, trialOf } from "./trial.js";

/** A word of the chart's own text whose section lands on a degree, and the chord that comes after it. */
interface Landing {
  readonly word: PlayWord;
  readonly span: Span;
  readonly lands: Lands;
  readonly next: Entry;
  readonly chord: ChordEvent;
  readonly key: Key;
  /** The degree on which what follows starts. */
  readonly degree: ToneNumber;
}

/** A lead-in after which something comes that starts on another chord than it lands on. */
export const landsElsewhere: ChartCheck<"lands-elsewhere"> = {
  code: "lands-elsewhere",
  run(chart, report, reach) {
    const { sections, contents } = chart.outline;
    if (contents.holding.lands.length === 0 && chart.sections.length === sections.length) return;
    const all = landings(chart);
    const told = new Set<number>();
    let ways: ReturnType<typeof waysPlayed> | undefined;
    const playedAs = (placed: PlacedSection): PlayedSection => {
      ways ??= waysPlayed(chart);
      const { section } = placed;
      return { section, played: ways.get(placed) ?? asPrinted(section), reach };
    };
    for (const landing of all) {
      const { word, span, lands, next, chord, key, degree } = landing;
      if (!misses(landing) || told.has(span.start)) continue;
      told.add(span.start);
      /** From where it is printed to where it is played, on the line of fifths. */
      const moved = next.moved.key.tonic - next.placed.section.start.key.tonic;
      report(
        span,
        {
          section: word.target?.section.name ?? "",
          lands: prettyNumber({ number: lands.degree, alter: lands.alter }),
          landsOn: prettyName(landingRoot(lands, key) + moved),
          next: next.placed.section.name,
          starts: prettyChord(movedChord(chord, moved)),
          degree: prettyNumber(degree),
        },
        landsLine(landing, all, playedAs),
      );
    }
  },
};

const misses = ({ lands, key, chord }: Landing): boolean =>
  pitchClass(landingRoot(lands, key)) !== pitchClass(chord.chord.root);

const movedChord = ({ chord }: ChordEvent, by: number): ChordEvent["chord"] => ({
  ...chord,
  root: chord.root + by,
  bass: chord.bass === undefined ? undefined : chord.bass + by,
});

function landings(chart: Chart): readonly Landing[] {
  const found: Landing[] = [];
  for (const { words, next } of followings(chart)) {
    for (const word of words) {
      const lands = word.target?.section.lands;
      const span = spanOf(word);
      // A section that is played again has not left its own ground yet.
      if (lands === undefined || span === undefined || next === "unknown" || next.placed === word.target)
        continue;
      const { section } = next.placed;
      const bar = section.bars[next.bar];
      const chord = openingChord(section, next.bar);
      // Where it starts with silence, nobody hears it start elsewhere.
      if (bar === undefined || chord === undefined || compare(chord.at, bar.at) > 0) continue;
      const { key } = bar.home;
      found.push({ word, span, lands, next, chord, key, degree: writableDegree(key, chord.chord.root) });
    }
  }
  return found;
}

/** The degree of a root; of one spelled too far from its key for two signs that of the same key of the keyboard. */
function writableDegree(key: Key, root: number): ToneNumber {
  const degree = degreeInKey(key, root);
  if (Math.abs(degree.alter) <= 2) return degree;
  return writableDegree(key, root - 12 * Math.sign(degree.alter));
}

/** The name in the chart's own text; `undefined` in that of another chart. */
function spanOf({ item, lineStart, playedBy }: PlayWord): Span | undefined {
  if (item === undefined || playedBy?.path !== undefined) return undefined;
  return shift(item.nameSpan, lineStart + (playedBy?.offset ?? 0));
}

/** A push at a section's end counts from what it lands on, so with another one it may leave the keyboard or the hand. */
function isPlayable(played: PlayedSection, edit: Edit): boolean {
  const isPushed = ({ slots }: RowEvents): boolean => slots.some(({ pushed }) => pushed);
  if (!Object.values(played.section.rows).some(isPushed)) return true;
  const verdict = trialOf(played.section, played.played)([edit]);
  return (verdict === "fewer" || verdict === "same") && handsTrial(played)([edit]);
}

/** The `lands` line of a section of this chart, and a fix that changes it where that suits every word for it. */
function landsLine(
  { word: { target }, lands, degree }: Landing,
  all: readonly Landing[],
  playedAs: (placed: PlacedSection) => PlayedSection,
): Extras {
  if (target === undefined || target.path !== undefined) return {};
  const span = shift(lands.span, target.offset);
  const related = [{ span, message: "Here it says where it lands." }];
  const text = printNumber(degree);
  const suitsAll = all.every((it) => it.word.target !== target || printNumber(it.degree) === text);
  return suitsAll && isPlayable(playedAs(target), { span: lands.span, text })
    ? { related, fixes: [{ title: `Write lands ${text}`, edits: [{ span, text }], silent: false }] }
    : { related };
}
