import type { Section, Word } from "../chart/model.js";
import { compare, type Fraction, minus, plus } from "../theory/fraction.js";
import type { Beats, Bend } from "./bent-time.js";
import type { SungWord } from "./performance.js";
import type { TimedBar } from "./timeline.js";

/**
 * The words as they are sung: the verses in turn, the last one from then on; those under a pickup only where it sounds.
 * With `only` those of this verse alone, wherever it has any.
 */
export function sungWords(bars: readonly TimedBar[], beats: Beats, only?: number): readonly SungWord[] {
  const known = new Map<Section, ReadonlyMap<number, Bend>>();
  const words: SungWord[] = [];
  for (const { at, played } of bars) {
    const { bar, verse, entered } = played;
    if (bar.words.length === 0) continue;
    const { section } = played.section;
    const bends = known.get(section) ?? bendsOf(section, beats);
    known.set(section, bends);
    const bend = bends.get(bar.index);
    const verses = section.systems[bar.system]?.rows.filter(({ row }) => row === "words").length ?? 1;
    const sung = only ?? Math.min(verse, verses);
    const time = (point: Fraction): Fraction => {
      const inBar = minus(point, bar.at);
      return plus(at, bend?.(inBar) ?? inBar);
    };
    const isSung = (word: Word): boolean => word.verse === sung && (entered || compare(word.at, bar.at) >= 0);
    for (const word of bar.words) {
      if (!isSung(word)) continue;
      const start = time(word.at);
      const end = time(plus(word.at, word.length));
      words.push({
        at: start,
        length: minus(end, start),
        text: word.text,
        source: { section: played.section, span: word.span },
      });
    }
  }
  words.sort((a, b) => compare(a.at, b.at));
  // A syllable that runs on, or that is held into two endings, ends where the next one is sung.
  return words.map((word, i) => {
    const next = words[i + 1];
    const most = next && minus(next.at, word.at);
    return most !== undefined && most.n > 0 && compare(most, word.length) < 0
      ? { ...word, length: most }
      : word;
  });
}

/** For each bar how the time of its lead is bent, which its words share. */
function bendsOf(section: Section, beats: Beats): ReadonlyMap<number, Bend> {
  const points = new Map<number, Fraction[]>();
  for (const { bar, at, length } of section.rows.lead.slots) {
    const frame = section.bars[bar];
    if (frame === undefined) continue;
    const start = minus(at, frame.at);
    const there = points.get(bar);
    if (there === undefined) points.set(bar, [start, plus(start, length)]);
    else there.push(start, plus(start, length));
  }
  return new Map(section.bars.map((bar) => [bar.index, beats(section, bar, points.get(bar.index) ?? [])]));
}
