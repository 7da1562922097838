import type { Bar, Chart, Moved, PlacedSection } from "./model.js";
import { movedBy, moveFurther } from "./moves.js";

/** One bar of the chart as it is played. */
export interface PlayedBar {
  readonly section: PlacedSection;
  readonly bar: Bar;
  readonly moved: Moved;
  /** Which time its section is played, from 1: the verse whose words are sung. */
  readonly verse: number;
  /** Its system is entered from before here, so its pickup sounds over the end of what was played before. */
  readonly entered: boolean;
  /** The last bar of a section that is repeated until cued. */
  readonly vampEnds: boolean;
}

export interface Unfolded {
  readonly bars: readonly PlayedBar[];
  /** The form is longer than `limit` bars and stops there. */
  readonly cut: boolean;
}

/** Longer than any service; a form that goes on beyond it is a slip of the pen. */
const longestForm = 20_000;

/**
 * The chart as it is played: form, repeats, endings and sections within sections written out. A vamp of which the
 * form doesn't say how often is played `vampTimes`, as if the form said so.
 */
export function unfold(chart: Chart, limit = longestForm, vampTimes = 1): Unfolded {
  const bars: PlayedBar[] = [];
  const verses = new Map<PlacedSection, number>();
  let cut = false;
  const timesOf = ({ section }: PlacedSection, said: number): number =>
    section.vamp && said === 1 ? vampTimes : said;

  const playSection = (placed: PlacedSection, moved: Moved, within: readonly PlacedSection[]): void => {
    if (within.includes(placed)) return;
    const verse = (verses.get(placed) ?? 0) + 1;
    verses.set(placed, verse);
    const { section } = placed;
    const inside = [...within, placed];
    const playBefore = (bar: number): void => {
      section.plays.forEach(({ item, beforeBar }, i) => {
        const target = placed.plays[i];
        if (beforeBar !== bar || target === undefined) return;
        const { displacement } = section.context;
        const inner = movedBy(item.move, target.section, section.context.home, displacement);
        for (let n = timesOf(target, item.times); n > 0 && !cut; n--)
          playSection(target, moveFurther(inner, moved.halfSteps), inside);
      });
    };
    for (const { bar, entered } of writtenOut(section.bars)) {
      if (bars.length >= limit) {
        cut = true;
        return;
      }
      if (entered) playBefore(bar.index);
      if (cut) return;
      const starts = section.systems[bar.system]?.firstBar === bar.index;
      const vampEnds = section.vamp && bar.index === section.bars.length - 1;
      bars.push({ section: placed, bar, moved, verse, entered: entered && starts, vampEnds });
    }
    playBefore(section.bars.length);
  };

  for (const { section, times, moved } of chart.form) {
    for (let n = timesOf(section, times); n > 0 && !cut; n--) playSection(section, moved, []);
  }
  return { bars, cut };
}

/**
 * The bars of a section with its repeats and endings played, none more than `most` times in a row; `entered` is false
 * where a repeat goes back.
 */
export function* writtenOut(
  bars: readonly Bar[],
  most = Number.POSITIVE_INFINITY,
): Generator<{ readonly bar: Bar; readonly entered: boolean }> {
  /** For each bar that ends a repeat, how often it has gone back. */
  const back = new Map<number, number>();
  let start = 0;
  let entered = true;
  let i = 0;
  const backFrom = ({ repeat: { times } }: Bar): number => Math.min(times, most) - 1;
  while (i < bars.length) {
    const bar = bars[i] as Bar;
    if (bar.repeat.start) start = i;
    if (bar.repeat.ending === 1) {
      const end = indexFrom(bars, i, ({ repeat }) => repeat.end);
      const isLast = end >= 0 && (back.get(end) ?? 0) >= backFrom(bars[end] as Bar);
      if (isLast) {
        back.delete(end);
        start = 0;
        const second = indexFrom(bars, end + 1, ({ repeat }) => repeat.ending === 2);
        i = second < 0 ? end + 1 : second;
        entered = true;
        continue;
      }
    }
    yield { bar, entered };
    const gone = back.get(i) ?? 0;
    if (bar.repeat.end && gone < backFrom(bar)) {
      back.set(i, gone + 1);
      i = start;
      entered = false;
      continue;
    }
    if (bar.repeat.end) {
      back.delete(i);
      start = 0;
    }
    i++;
    entered = true;
  }
}

/** The first bar from `start` on that is so; -1 where none is. */
function indexFrom(bars: readonly Bar[], start: number, isSo: (bar: Bar) => boolean): number {
  for (let i = start; i < bars.length; i++) if (isSo(bars[i] as Bar)) return i;
  return -1;
}
