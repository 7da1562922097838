import { barLength } from "../chart/bar-time.js";
import type { Chart, Header, PlacedSection } from "../chart/model.js";
import { unfold } from "../chart/unfold.js";
import { visible } from "../text/visible.js";
import type { Fraction } from "../theory/fraction.js";
import { attributesOf, clefsOf, keyElement, keyName, type Said, timeElement } from "./musicxml-attributes.js";
import { closingBarline, openingBarline } from "./musicxml-barline.js";
import { type PrintedPart, printBars } from "./musicxml-bars.js";
import { pace, paceName, paceOf, rehearsal, untilCued } from "./musicxml-directions.js";
import { element, textElement } from "./musicxml-element.js";
import { foldBars, type PrintedBar } from "./musicxml-fold.js";
import type { BarFrame } from "./musicxml-frames.js";
import { wholeRest } from "./musicxml-note.js";
import { type Score, type ScorePart, scoreOf } from "./musicxml-score.js";
import type { VoiceBar } from "./musicxml-voice.js";
import { mildSwing, type PerformanceOptions } from "./performance.js";
import { type TimedBar, tempoOf } from "./timeline.js";

/** A chart as a MusicXML file's text. */
export interface MusicXml {
  readonly text: string;
  /** How many bars are played, written out. */
  readonly bars: number;
  readonly cut: boolean;
}

/**
 * The chart as a score (W3C MusicXML 4.0, score-partwise): the form in its order, the lead with its words, a grand
 * staff for the hands, the bass, and the chords over the top staff.
 */
export function musicXml(
  chart: Chart,
  { swing = mildSwing, vampTimes = 2 }: PerformanceOptions = {},
): MusicXml {
  const score = scoreOf(chart, vampTimes);
  const { frames, parts, cut } = score;
  const printed = parts.map((part) => printBars(part, score));
  const contexts = frames.map(contextOf);
  const bars = foldBars({
    frames,
    contents: frames.map((_, i) => printed.map(({ contents }) => contents[i]).join("")),
    contexts,
    tiedOver: frames.map((_, i) => parts.some(({ voices }) => voices.some((bars) => isTiedOver(bars[i])))),
  });
  const cued = openVamps(chart, frames);
  const body = parts.map((part, i) => {
    const { contents, divisions } = printed[i] as PrintedPart;
    const isTop = i === 0;
    const measures =
      frames.length === 0
        ? emptyMeasure(chart.header, part)
        : measuresOf({ part, score, bars, contents, divisions, cued, swing, isTop });
    return element("part", measures, { id: `P${i + 1}` });
  });
  const text = `<?xml version="1.0" encoding="UTF-8"?>\n${element("score-partwise", headOf(chart.header, parts) + body.join("\n"), { version: "4.0" })}\n`;
  return { text, bars: frames.filter(({ upbeat }) => !upbeat).length, cut };
}

/** What the file says of itself and of the chart. */
function headOf({ title, by, notes }: Header, parts: readonly ScorePart[]): string {
  const encoding = element(
    "encoding",
    textElement("software", "Plagal") +
      element("supports", "", { element: "accidental", type: "yes" }) +
      element("supports", "", { element: "beam", type: "no" }) +
      element("supports", "", { element: "stem", type: "no" }),
  );
  const remarks = notes.map((note) => textElement("miscellaneous-field", visible(note), { name: "note" }));
  return (
    (title === undefined ? "" : element("work", textElement("work-title", visible(title)))) +
    element(
      "identification",
      (by === undefined ? "" : textElement("creator", visible(by), { type: "composer" })) +
        encoding +
        (remarks.length === 0 ? "" : element("miscellaneous", remarks.join(""))),
    ) +
    element(
      "part-list",
      parts
        .map(({ name }, i) => element("score-part", textElement("part-name", name), { id: `P${i + 1}` }))
        .join(""),
    )
  );
}

const isTiedOver = (bar: VoiceBar | undefined): boolean =>
  bar?.segments[bar.segments.length - 1]?.tones.some(({ tiedTo }) => tiedTo) ?? false;

const contextOf = ({ bar, meter }: BarFrame): string =>
  `${keyName(bar.key)} ${meter.beats}/${meter.unit} ${paceName(paceOf(bar))}`;

interface Printing {
  readonly part: ScorePart;
  readonly score: Score;
  readonly bars: readonly PrintedBar[];
  readonly contents: readonly string[];
  readonly divisions: readonly number[];
  /** The bars with which a vamp starts that is repeated until cued. */
  readonly cued: ReadonlySet<TimedBar>;
  readonly swing: Fraction;
  readonly isTop: boolean;
}

function measuresOf({ part, score, bars, contents, divisions, cued, swing, isTop }: Printing): string {
  let said: Said | undefined;
  let number = 0;
  let upbeats = 0;
  return bars
    .map((printed, i) => {
      const frame = score.frames[printed.frame] as BarFrame;
      const { bar, upbeat, meter } = frame;
      const now: Said = {
        divisions: divisions[printed.frame] as number,
        key: keyName(bar.key),
        meter: `${meter.beats}/${meter.unit}`,
        pace: paceOf(bar),
      };
      const before = printed.restates === true && said !== undefined ? { ...said, key: "", meter: "" } : said;
      const place = part.voices.length > 1 ? textElement("staff", 1) : "";
      let text = openingBarline(printed) + attributesOf(now, before, bar, part);
      if (isTop) {
        if (bar.enters && !upbeat && bar.played.section.section.name !== "")
          text += rehearsal(bar.played.section.section.name, place);
        if (!upbeat && cued.has(bar)) text += untilCued(place);
        if (printed.restates === true || said === undefined || paceName(said.pace) !== paceName(now.pace))
          text += pace(
            now.pace,
            said?.pace,
            tempoOf(bar.played.section.section, bar.played.bar),
            swing,
            place,
          );
      }
      said = now;
      text += contents[printed.frame] + closingBarline(printed, bar, i === bars.length - 1);
      if (!upbeat) return element("measure", text, { number: ++number });
      return element("measure", text, { number: upbeats++ === 0 ? "0" : `X${upbeats - 1}`, implicit: "yes" });
    })
    .join("\n");
}

/** A chart without a bar is a bar's rest: a score has at least one. */
function emptyMeasure({ home, meter }: Header, { clefs }: ScorePart): string {
  const { n, d } = barLength(meter);
  const parts = Math.max(4, d);
  const attributes =
    textElement("divisions", parts / 4) +
    keyElement(home.key) +
    timeElement(String(meter.beats), String(meter.unit)) +
    clefsOf(clefs);
  const rest = wholeRest((n * parts) / d, 1, undefined);
  return element("measure", element("attributes", attributes) + rest, { number: 1 });
}

/** The bars with which vamps start of which the form doesn't say how often they are played. */
function openVamps(chart: Chart, frames: readonly BarFrame[]): ReadonlySet<TimedBar> {
  const starts = frames.filter(({ bar, upbeat }) => bar.enters && !upbeat).map(({ bar }) => bar);
  const open = new Set<TimedBar>();
  if (!starts.some(({ played }) => played.section.section.vamp)) return open;
  const runs = runsOf(starts.map((bar) => ({ section: bar.played.section, bar })));
  const once: { section: PlacedSection; verse: number }[] = [];
  for (const { section, verse } of unfold(chart).bars) {
    const last = once[once.length - 1];
    if (last?.section !== section || last.verse !== verse) once.push({ section, verse });
  }
  const plain = runsOf(once);
  runs.forEach((run, i) => {
    const there = plain[i];
    const [first] = run;
    if (first === undefined || there?.[0]?.section !== first.section) return;
    if (first.section.section.vamp && run.length > there.length) open.add(first.bar);
  });
  return open;
}

/** Neighbours of one section. */
function runsOf<T extends { readonly section: PlacedSection }>(all: readonly T[]): readonly (readonly T[])[] {
  const runs: T[][] = [];
  for (const it of all) {
    const last = runs[runs.length - 1];
    if (last?.[0]?.section === it.section) last.push(it);
    else runs.push([it]);
  }
  return runs;
}
