import { chordInNumbers } from "../chart/chord-summary.js";
import type { Bar, PlacedSection, Section } from "../chart/model.js";
import { prettyChord, prettyQuality } from "../theory/chord.js";
import { compare, zero } from "../theory/fraction.js";
import { attributesOf, keyName, type Said } from "./musicxml-attributes.js";
import { closingBarline, openingBarline } from "./musicxml-barline.js";
import { type PrintedPart, printBars } from "./musicxml-bars.js";
import type { ChordMark } from "./musicxml-chords.js";
import { paceOf, paceWords, words } from "./musicxml-directions.js";
import { element, textElement } from "./musicxml-element.js";
import type { PrintedBar } from "./musicxml-fold.js";
import { kindOf } from "./musicxml-kind.js";
import { type Score, type ScorePart, scoreOfBars } from "./musicxml-score.js";
import { playsBefore, shownParts } from "./page-view.js";
import { printedBars } from "./printed-bars.js";
import { sungWords } from "./sung-words.js";

/** A part of a section as an engraver is given it. */
export interface StaffPicture {
  /**
   * W3C MusicXML 4.0, whose lines may start where those of the text do; a measure's id is `b` and its bar's index in the section, with a `p` behind it the pickup into that bar.
   */
  readonly xml: string;
  /** Its first and last bar, as indices of the section's. */
  readonly first: number;
  readonly last: number;
  /** What each of its chords is called, in order. */
  readonly chords: readonly ChordTexts[];
}

export interface ChordTexts {
  /** `G7/B` */
  readonly letters: string;
  /** `1:7/3` */
  readonly numbers: string;
}

/** A section is engraved in pictures of so many bars at most, each as a whole (chosen here, no source). */
const mostBars = 32;

/**
 * A bar, and a picture, with more notes than this is nothing for a reader, and would keep the engraver busy for seconds
 * (measured with verovio 6.3: a bar of 1500 notes takes four).
 */
const [mostInBar, mostNotes] = [400, 2000];

const notesIn = (xml: string): number => xml.split("<note>").length - 1;

/** By the section, and by which of the sections that it plays are there: who types changes one section, seldom two. */
const known = new WeakMap<Section, { readonly plays: string; readonly pictures: readonly StaffPicture[] }>();

/**
 * A section for an engraver: each bar once, as it is written, with the lead and the words of all verses, a grand staff
 * for the hands, and the bass. Bars that no reader could read are in no picture.
 */
export function staffPictures(placed: PlacedSection): readonly StaffPicture[] {
  const plays = placed.plays.map((it) => it !== undefined).join(" ");
  const before = known.get(placed.section);
  if (before?.plays === plays) return before.pictures;
  const pictures = picturesOf(placed);
  known.set(placed.section, { plays, pictures });
  return pictures;
}

function picturesOf(placed: PlacedSection): readonly StaffPicture[] {
  const { section } = placed;
  const { bars, frames } = printedBars(placed);
  const verses = Math.max(
    1,
    ...section.systems.map(({ rows }) => rows.filter(({ row }) => row === "words").length),
  );
  const score = scoreOfBars(bars, {
    framesFrom: () => frames,
    verses: Array.from({ length: verses }, (_, i) => sungWords(bars, () => (point) => point, i + 1)),
    printChord,
  });
  const ranges = rangesOf(section);
  const firsts = ranges.map(([first]) => frames.findIndex(({ bar }) => bar.played.bar.index === first));
  const printed = score.parts.map((part) => printBars(part, score, new Set(firsts.slice(1))));
  return ranges.flatMap(([first, end], i): StaffPicture[] => {
    const [from, to] = [firsts[i] as number, firsts[i + 1] ?? frames.length];
    const [start, stop] = [frames[from], frames[to]].map((frame) => frame?.at);
    const chords = score.chords
      .filter(({ at }) => compare(at, start ?? zero) >= 0 && (stop === undefined || compare(at, stop) < 0))
      .filter(isShown);
    const weights = printed.flatMap(({ contents }) => contents.slice(from, to).map(notesIn));
    if (weights.some((notes) => notes > mostInBar) || sum(weights) > mostNotes) return [];
    const parts = score.parts.map((part, p) =>
      element(
        "part",
        measuresOf({ part, printed: printed[p] as PrintedPart, score, from, to, isTop: p === 0 }),
        {
          id: `P${p + 1}`,
        },
      ),
    );
    const names = score.parts.map(({ name }, p) =>
      element("score-part", textElement("part-name", name, { "print-object": "no" }), { id: `P${p + 1}` }),
    );
    const xml = element("score-partwise", element("part-list", names.join("")) + parts.join(""), {
      version: "4.0",
    });
    const text = `<?xml version="1.0" encoding="UTF-8"?>${xml}`;
    return [{ xml: text, first, last: end - 1, chords: chords.map(chordTexts) }];
  });
}

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0);

/** The bars of each picture: as many whole shown systems as there is room for. */
function rangesOf({ systems }: Section): readonly (readonly [first: number, end: number])[] {
  const ranges: [number, number][] = [];
  for (const [first, end] of systems.flatMap(shownParts)) {
    const last = ranges[ranges.length - 1];
    if (last !== undefined && end - last[0] <= mostBars) last[1] = end;
    else ranges.push([first, end]);
  }
  return ranges;
}

interface Measures {
  readonly part: ScorePart;
  readonly printed: PrintedPart;
  readonly score: Score;
  /** Indices of the printed bars. */
  readonly from: number;
  readonly to: number;
  readonly isTop: boolean;
}

function measuresOf({ part, printed, score, from, to, isTop }: Measures): string {
  let said: Said | undefined;
  let text = "";
  const place = part.voices.length > 1 ? textElement("staff", 1) : "";
  const above = (words: string): string => (words === "" ? "" : aboveStaff(words, place));
  score.frames.slice(from, to).forEach((frame, i) => {
    const { bar, upbeat, meter } = frame;
    const { section } = bar.played.section;
    const now: Said = {
      divisions: printed.divisions[from + i] as number,
      key: keyName(bar.key),
      meter: `${meter.beats}/${meter.unit}`,
      pace: paceOf(bar),
    };
    const lines: PrintedBar = upbeat ? { frame: from + i } : linesOf(section, bar.played.bar);
    const { system, index } = bar.played.bar;
    const startsLine =
      i > 0 && section.systems[system]?.firstBar === index && upbeat === hasPickup(section, system);
    let content = startsLine && isTop ? '<print new-system="yes"/>' : "";
    content += openingBarline(lines) + attributesOf(now, said, bar, part);
    // The meter is said where the section starts and where it changes, not on each picture.
    if (i === 0 && from > 0) content = content.replace("<time>", '<time print-object="no">');
    if (isTop && !upbeat) {
      const before = score.frames[from + i - 1]?.bar;
      content += playsBefore(bar.played.section, bar.played.bar.index).map(above).join("");
      if (before !== undefined) content += above(paceWords(now.pace, paceOf(before)));
      if ((lines.closes ?? 0) > 2) content += above(`${lines.closes} times`);
    }
    content += printed.contents[from + i] + closingBarline(lines, bar, false);
    text += element("measure", content, {
      number: upbeat ? `X${index + 1}` : index + 1,
      implicit: upbeat ? "yes" : undefined,
      id: isTop ? `b${index}${upbeat ? "p" : ""}` : undefined,
    });
    said = now;
  });
  return text;
}

const hasPickup = ({ systems }: Section, system: number): boolean => (systems[system]?.pickup.n ?? 0) > 0;

const aboveStaff = (text: string, place: string): string => words(text, "above", place, "italic");

/** The bar lines and endings of a bar as it is written. */
function linesOf({ bars }: Section, { index, repeat }: Bar): PrintedBar {
  const ending = endingAt(bars, index);
  return {
    frame: index,
    opens: repeat.start,
    sectionEnds: index === bars.length - 1,
    ...(repeat.end ? { closes: repeat.times } : {}),
    ...(ending === undefined ? {} : { ending }),
  };
}

/** The first ending reaches to its sign of repetition; the second one is as long as it at most. */
function endingAt(bars: readonly Bar[], index: number): PrintedBar["ending"] {
  const start = bars.findLastIndex(({ index: i, repeat }) => i <= index && repeat.ending !== undefined);
  const repeat = bars[start]?.repeat;
  if (repeat === undefined) return undefined;
  const close = bars.findIndex((it, i) => i >= start && it.repeat.end);
  if (repeat.ending === 1) {
    if (close < index) return undefined;
    const times = bars[close]?.repeat.times ?? 2;
    const number = Array.from({ length: times - 1 }, (_, i) => i + 1).join(", ");
    return { number, starts: index === start, ends: index === close };
  }
  const first = bars.findLastIndex((it, i) => i < start && it.repeat.ending === 1);
  let end = start;
  while (
    end - start < start - first - 1 &&
    bars[end]?.repeat.double === false &&
    bars[end]?.repeat.end === false &&
    bars[end + 1]?.repeat.start === false &&
    bars[end + 1]?.repeat.ending === undefined
  )
    end++;
  if (index > end) return undefined;
  const times = bars[start - 1]?.repeat.times ?? 2;
  return { number: String(times), starts: index === start, ends: index === end };
}

const isShown = (mark: ChordMark): boolean => mark.kind === "chord" || mark.noChord;

/** What stands over the staff at a chord; where `NC` is written, the same for both. */
function chordTexts(mark: ChordMark): ChordTexts {
  if (mark.kind === "silence") return { letters: "N.C.", numbers: "N.C." };
  return { letters: prettyChord(mark.chord), numbers: prettyQuality(chordInNumbers(mark)) };
}

/**
 * Room for a chord. The engraver is given one text of which it leaves alone what it says, and who shows its picture sets
 * what is wanted in place of it.
 */
function printChord(mark: ChordMark, place: string): string {
  if (!isShown(mark)) return "";
  const { letters, numbers } = chordTexts(mark);
  const longest = letters.length < numbers.length ? numbers : letters;
  return element(
    "harmony",
    element("numeral", textElement("numeral-root", 1, { text: longest + gap })) +
      textElement("kind", mark.kind === "silence" ? "none" : kindOf(mark.chord.quality).kind, { text: "" }) +
      place,
    { placement: "above" },
  );
}

/** What parts it from the next one. */
const gap = "\u00A0\u00A0";
