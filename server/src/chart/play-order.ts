import type { FormItem } from "../syntax/tree.js";
import type { Chart, Moved, PlacedSection, Play } from "./model.js";
import { movedBy, moveFurther } from "./moves.js";
import { waysPlayed } from "./played.js";

/** A word of a `form` or `play` line, or without a `form` line a section in its turn. */
export interface PlayWord {
  /** `undefined` where no text says it. */
  readonly item: FormItem | undefined;
  /** Where its line starts: in the section whose `play` line it is, else in the chart. */
  readonly lineStart: number;
  /** The section whose `play` line it is; `undefined` for the form. */
  readonly playedBy: PlacedSection | undefined;
  readonly target: PlacedSection | undefined;
}

/** A place where a section's own music starts. */
export interface Entry {
  readonly placed: PlacedSection;
  readonly bar: number;
  readonly moved: Moved;
}

/** A section's own music that ends, and what is played after it. */
export interface Following {
  readonly ended: PlacedSection;
  /** It ends before this bar, an index of its bars or their number. */
  readonly endBar: number;
  readonly moved: Moved;
  /** The words that end with it, the outermost first. Those that only start again there are left out. */
  readonly words: readonly PlayWord[];
  /** `unknown` where a name that nobody has comes next. */
  readonly next: Entry | "unknown";
}

/** What a section or the form consists of: words, and stretches of own bars between them. */
type Part = { readonly word: PlayWord } | { readonly bar: number; readonly endBar: number };

interface Place {
  readonly chart: Chart;
  /** Whose parts these are; `undefined` for the form. */
  readonly owner: PlacedSection | undefined;
  readonly moved: Moved | undefined;
  /** The sections that are being played: one that plays itself is left out there. */
  readonly within: readonly PlacedSection[];
}

const known = new WeakMap<Chart, readonly Following[]>();

/** Every place in the form where one section's music ends and another's starts, each as written once. */
export function followings(chart: Chart): readonly Following[] {
  const before = known.get(chart);
  if (before !== undefined) return before;
  const found: Following[] = [];
  const ways = waysPlayed(chart);
  follow(formParts(chart), { chart, owner: undefined, moved: undefined, within: [] }, found);
  for (const placed of chart.sections) {
    const moved = ways.get(placed)?.[0] ?? { key: placed.section.start.key, halfSteps: 0 };
    if (placed.plays.length > 0) {
      follow(partsOf(placed), { chart, owner: placed, moved, within: [placed] }, found);
    }
    if (placed.section.vamp) {
      const entry: Entry = { placed, bar: 0, moved };
      const endBar = placed.section.bars.length;
      found.push({ ended: placed, endBar, moved, words: [], next: entry });
    }
  }
  known.set(chart, found);
  return found;
}

function formParts({ form, formWords }: Chart): readonly Part[] {
  if (formWords.length === 0) {
    return form.map(({ section: target }) => ({
      word: { item: undefined, lineStart: 0, playedBy: undefined, target },
    }));
  }
  return formWords.map(({ item, lineStart, section: target }) => ({
    word: { item, lineStart, playedBy: undefined, target },
  }));
}

/** The words of a section's `play` lines, in order. */
export const playWords = (placed: PlacedSection): readonly PlayWord[] =>
  placed.section.plays.map(({ item, lineStart }, i) => ({
    item,
    lineStart,
    playedBy: placed,
    target: placed.plays[i],
  }));

function partsOf(placed: PlacedSection): readonly Part[] {
  const { plays, bars } = placed.section;
  const parts: Part[] = [];
  let bar = 0;
  playWords(placed).forEach((word, i) => {
    const { beforeBar } = plays[i] as Play;
    if (beforeBar > bar) parts.push({ bar, endBar: beforeBar });
    bar = beforeBar;
    parts.push({ word });
  });
  if (bars.length > bar) parts.push({ bar, endBar: bars.length });
  return parts;
}

function follow(parts: readonly Part[], place: Place, found: Following[]): void {
  parts.forEach((part, i) => {
    const next = startOf(parts, i + 1, place);
    const end = endOf(part, place);
    if (end !== undefined && next !== undefined) found.push({ ...end, next });
    if ("bar" in part) return;
    const { item, target } = part.word;
    if (end === undefined || target === undefined || (item?.times ?? 1) < 2) return;
    const again = startOf([part], 0, place);
    if (again !== undefined) found.push({ ...end, words: end.words.slice(1), next: again });
  });
}

/** How a word has its section played, and what that section is played within; `undefined` where it is left out. */
function enter({ item, target }: PlayWord, { chart, owner, moved, within }: Place): Place | undefined {
  if (target === undefined || within.includes(target)) return undefined;
  const { home, displacement } = owner?.section.context ?? {
    home: chart.header.home,
    displacement: undefined,
  };
  const own = item === undefined ? target.section.start : home;
  const inner = movedBy(item?.move, target.section, own, displacement);
  return {
    chart,
    owner: target,
    moved: moved === undefined ? inner : moveFurther(inner, moved.halfSteps),
    within: [...within, target],
  };
}

/** Where music starts from this part on; `undefined` where nothing is played. */
function startOf(parts: readonly Part[], from: number, place: Place): Following["next"] | undefined {
  for (let i = from; i < parts.length; i++) {
    const part = parts[i] as Part;
    if ("bar" in part) {
      return { placed: place.owner as PlacedSection, bar: part.bar, moved: place.moved as Moved };
    }
    if (part.word.target === undefined) return "unknown";
    const inner = enter(part.word, place);
    const found = inner && startOf(partsOf(part.word.target), 0, inner);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** The music that ends with a part, and the words that end with it. */
function endOf(part: Part, place: Place): Omit<Following, "next"> | undefined {
  if ("bar" in part) {
    const { owner, moved } = place;
    return { ended: owner as PlacedSection, endBar: part.endBar, moved: moved as Moved, words: [] };
  }
  const inner = enter(part.word, place);
  if (inner === undefined) return undefined;
  const parts = partsOf(inner.owner as PlacedSection);
  for (let i = parts.length - 1; i >= 0; i--) {
    const found = endOf(parts[i] as Part, inner);
    if (found !== undefined) return { ...found, words: [part.word, ...found.words] };
    // What nobody knows may have played last.
    const last = parts[i] as Part;
    if (!("bar" in last) && last.word.target === undefined) return undefined;
  }
  return undefined;
}
