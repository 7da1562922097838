import { barLength } from "../chart/bar-time.js";
import type { Chart, Header, PlacedSection } from "../chart/model.js";
import { unfold } from "../chart/unfold.js";
import { visible } from "../text/visible.js";
import { compare, type Fraction, fraction } from "../theory/fraction.js";
import type { Key } from "../theory/key.js";
import { type Pace, pace, paceName, paceOf, rehearsal, untilCued } from "./musicxml-directions.js";
import { element, textElement } from "./musicxml-element.js";
import { foldBars, type PrintedBar } from "./musicxml-fold.js";
import type { BarFrame } from "./musicxml-frames.js";
import { printVoice, signsOf, wholeRest } from "./musicxml-note.js";
import { type Piece, rhythmOf } from "./musicxml-rhythm.js";
import { type Score, type ScorePart, scoreOf } from "./musicxml-score.js";
import type { Segment, VoiceBar } from "./musicxml-voice.js";
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

interface PrintedPart {
  /** The notes of each bar, with what stands at their places. */
  readonly contents: readonly string[];
  /** Of a quarter note, for each bar. */
  readonly divisions: readonly number[];
}

/** So fine can a whole note be parted in a file; beyond it places are rounded, each from its bar's start. */
const [mostParts, roundedParts] = [2 ** 22, 2 ** 18];

function printBars({ voices, lyrics, marks }: ScorePart, { frames, isRolled }: Score): PrintedPart {
  const piecesOf = rhythms();
  const pieces = frames.map((frame, i) => voices.map((bars) => piecesOf(bars[i] as VoiceBar, frame)));
  const own = frames.map(({ length }, i) => {
    const places = (pieces[i] ?? []).flatMap((voice) => (voice ?? []).map((it) => it.at));
    const withMarks = commonParts([length, ...places, ...(marks[i] ?? []).map(({ at }) => at)]);
    return withMarks ?? commonParts([length, ...places]) ?? roundedParts;
  });
  // One number for the whole part is what readers are used to.
  const shared = commonParts(own.map((d) => ({ n: 1, d })));
  const contents = frames.map((frame, i) => {
    const { length, bar } = frame;
    const parts = shared ?? (own[i] as number);
    const ticksOf = ({ n, d }: Fraction): number => Math.round((n * parts) / d);
    const isGrand = voices.length > 1;
    return voices
      .map((bars, v) =>
        printVoice({
          bar: bars[i] as VoiceBar,
          pieces: pieces[i]?.[v],
          voice: v + 1,
          staff: isGrand ? v + 1 : undefined,
          key: bar.key,
          ticksOf,
          length,
          lyrics: lyrics[i] ?? [],
          marks: v === 0 ? (marks[i] ?? []) : [],
          isRolled,
        }),
      )
      .join(element("backup", textElement("duration", ticksOf(length))));
  });
  return { contents, divisions: own.map((parts) => (shared ?? parts) / 4) };
}

/** How many equal parts of a whole note all these places need; at least four. */
function commonParts(places: readonly Fraction[]): number | undefined {
  let parts = 4;
  for (const { d } of places) {
    if (parts % d !== 0) parts *= fraction(parts, d).d;
    if (parts > mostParts) return undefined;
  }
  return parts;
}

/** Gives the printed values of a voice in a bar; `undefined` where it rests all through. */
function rhythms(): (bar: VoiceBar, frame: BarFrame) => readonly Piece[] | undefined {
  // Most bars of a chart share a few rhythms.
  const known = new Map<string, readonly Piece[]>();
  return ({ segments, slots }, { meter, length, from }) => {
    if (segments.every(isSilent)) return undefined;
    let name = `${meter.beats}/${meter.unit} ${length.n}/${length.d} ${from.n}/${from.d}`;
    for (const it of segments) name += `${isSilent(it) ? "r" : "|"}${it.at.n}/${it.at.d}`;
    for (const { n, d } of slots) name += `,${n}/${d}`;
    const before = known.get(name);
    if (before !== undefined) return before;
    let last = 0;
    const isRest = (at: Fraction): boolean => {
      // Asked in order.
      while (segments[last + 1] !== undefined && compare((segments[last + 1] as Segment).at, at) <= 0) last++;
      return isSilent(segments[last] as Segment);
    };
    const changes = segments.slice(1).map(({ at }) => at);
    const pieces = rhythmOf({ meter, length, from, changes, slots, isRest });
    known.set(name, pieces);
    return pieces;
  };
}

const isSilent = ({ tones, slash }: Segment): boolean => tones.length === 0 && !slash;

const isTiedOver = (bar: VoiceBar | undefined): boolean =>
  bar?.segments[bar.segments.length - 1]?.tones.some(({ tiedTo }) => tiedTo) ?? false;

const contextOf = ({ bar, meter }: BarFrame): string =>
  `${keyName(bar.key)} ${meter.beats}/${meter.unit} ${paceName(paceOf(bar))}`;

const keyName = (key: Key): string => `${signsOf(key)} ${key.mode}`;

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

/** What was said last. */
interface Said {
  readonly divisions: number;
  readonly key: string;
  readonly meter: string;
  readonly pace: Pace;
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

function attributesOf(now: Said, before: Said | undefined, { key }: TimedBar, { clefs }: ScorePart): string {
  const [beats = "", unit = ""] = now.meter.split("/");
  return element(
    "attributes",
    (now.divisions === before?.divisions ? "" : textElement("divisions", now.divisions)) +
      (now.key === before?.key ? "" : keyElement(key)) +
      (now.meter === before?.meter ? "" : timeElement(beats, unit)) +
      (before === undefined ? clefsOf(clefs) : ""),
  ).replace("<attributes/>", "");
}

const keyElement = (key: Key): string =>
  element("key", textElement("fifths", signsOf(key)) + textElement("mode", key.mode));

const timeElement = (beats: string, unit: string): string =>
  element("time", textElement("beats", beats) + textElement("beat-type", unit));

const clefsOf = (clefs: ScorePart["clefs"]): string =>
  (clefs.length > 1 ? textElement("staves", clefs.length) : "") +
  clefs
    .map((sign, i) =>
      element("clef", textElement("sign", sign) + textElement("line", sign === "G" ? 2 : 4), {
        number: clefs.length > 1 ? i + 1 : undefined,
      }),
    )
    .join("");

function openingBarline({ opens, ending }: PrintedBar): string {
  if (opens !== true && ending?.starts !== true) return "";
  return element(
    "barline",
    (opens === true ? textElement("bar-style", "heavy-light") : "") +
      (ending?.starts === true ? endingElement(ending.number, "start") : "") +
      (opens === true ? element("repeat", "", { direction: "forward" }) : ""),
    { location: "left" },
  );
}

function closingBarline({ closes, ending, sectionEnds }: PrintedBar, bar: TimedBar, isLast: boolean): string {
  const isDouble = sectionEnds === true || bar.played.bar.repeat.double;
  const style = isLast || closes !== undefined ? "light-heavy" : isDouble ? "light-light" : undefined;
  const ends = ending?.ends === true;
  if (style === undefined && !ends) return "";
  const times = closes !== undefined && closes > 2 && ending === undefined ? closes : undefined;
  return element(
    "barline",
    (style === undefined ? "" : textElement("bar-style", style)) +
      (ends ? endingElement(ending.number, closes === undefined ? "discontinue" : "stop") : "") +
      (closes === undefined ? "" : element("repeat", "", { direction: "backward", times })),
    { location: "right" },
  );
}

const endingElement = (number: string, type: string): string => {
  const last = /[0-9]+$/.exec(number)?.[0] ?? number;
  return textElement("ending", number === last ? `${number}.` : `1.–${last}.`, { number, type });
};

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
