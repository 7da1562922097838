import type { Chart, ChordEvent, PlacedSection } from "../chart/model.js";
import type { Fix, Related } from "../problems/problem.js";
import type { FormItem } from "../syntax/tree.js";
import { type Span, shift } from "../text/span.js";
import { prettyChord } from "../theory/chord.js";
import { compare } from "../theory/fraction.js";
import { degreeInKey, type Key, scaleDegree } from "../theory/key.js";
import { pitchClass, prettyName } from "../theory/note-name.js";
import { prettyNumber, printNumber } from "../theory/tone-number.js";
import type { ChartCheck } from "./check.js";

/** What is heard in order, as far as landing is concerned. */
type Step =
  | {
      readonly kind: "start";
      readonly section: PlacedSection;
      readonly chord: ChordEvent | undefined;
      readonly key: Key;
    }
  | { readonly kind: "end"; readonly section: PlacedSection; readonly word: Word | undefined };

/** A name in the chart's own text. */
interface Word {
  readonly item: FormItem;
  readonly lineStart: number;
}

/** More steps than any form has: one that winds on beyond is judged as far as this. */
const mostSteps = 20_000;

/** A lead-in after which something comes that starts on another chord than it lands on. */
export const landsElsewhere: ChartCheck<"lands-elsewhere"> = {
  code: "lands-elsewhere",
  run(chart, report) {
    if (!chart.sections.some(({ section }) => section.lands !== undefined)) return;
    const told = new Set<FormItem>();
    let waiting: Extract<Step, { kind: "end" }>[] = [];
    for (const step of stepsOf(chart)) {
      if (step.kind === "end") {
        if (step.word !== undefined && step.section.section.lands !== undefined) waiting.push(step);
        continue;
      }
      for (const { section: placed, word } of waiting) {
        const { lands, name } = placed.section;
        if (word === undefined || lands === undefined || step.chord === undefined || told.has(word.item))
          continue;
        const wanted = scaleDegree(step.key, lands.degree, lands.alter);
        const { chord } = step.chord;
        if (pitchClass(chord.root) === pitchClass(wanted)) continue;
        told.add(word.item);
        const degree = degreeInKey(step.key, chord.root);
        report(
          shift(word.item.nameSpan, word.lineStart),
          {
            section: name,
            lands: prettyNumber({ number: lands.degree, alter: lands.alter }),
            landsOn: prettyName(wanted),
            next: step.section.section.name,
            starts: prettyChord(chord),
            degree: prettyNumber(degree),
          },
          landsLine(placed, lands.span, printNumber(degree)),
        );
      }
      waiting = [];
    }
  },
};

/** The `lands` line of a section of this chart, and the fix that changes it. */
function landsLine(
  { path, offset }: PlacedSection,
  span: Span,
  degree: string,
): { related: Related[]; fixes: Fix[] } {
  if (path !== undefined) return { related: [], fixes: [] };
  const place = shift(span, offset);
  return {
    related: [{ span: place, message: "Here it says where it lands." }],
    fixes: [{ title: `Write lands ${degree}`, edits: [{ span: place, text: degree }], silent: false }],
  };
}

function stepsOf(chart: Chart): readonly Step[] {
  const steps: Step[] = [];
  const play = (placed: PlacedSection, word: Word | undefined, within: readonly PlacedSection[]): void => {
    if (within.includes(placed) || steps.length > mostSteps) return;
    const { section, plays } = placed;
    const inside = [...within, placed];
    let from = 0;
    const bars = (to: number): void => {
      const bar = section.bars[from];
      if (bar !== undefined && to > from) {
        steps.push({ kind: "start", section: placed, chord: chordAt(placed, from), key: bar.home.key });
      }
      from = to;
    };
    section.plays.forEach(({ item, lineStart, beforeBar }, i) => {
      bars(beforeBar);
      const target = plays[i];
      const isOwn = placed.path === undefined;
      if (target !== undefined)
        play(target, isOwn ? { item, lineStart: placed.offset + lineStart } : undefined, inside);
    });
    bars(section.bars.length);
    steps.push({ kind: "end", section: placed, word });
  };
  if (chart.formWords.length === 0) for (const { section } of chart.form) play(section, undefined, []);
  for (const { item, lineStart, section } of chart.formWords) {
    if (section !== undefined) play(section, { item, lineStart }, []);
  }
  return steps;
}

/** The chord on the first beat of a bar; `undefined` where none sounds there, or it can't be read. */
function chordAt({ section }: PlacedSection, bar: number): ChordEvent | undefined {
  const at = section.bars[bar]?.at;
  return section.chords.find((event) => !event.pickup && at !== undefined && compare(event.at, at) === 0);
}
