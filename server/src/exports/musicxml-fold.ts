import type { Bar } from "../chart/model.js";
import type { BarFrame } from "./musicxml-frames.js";

/** A bar of the score. */
export interface PrintedBar {
  /** An index of the bars as they are played. */
  readonly frame: number;
  /** `|:` stands before it. */
  readonly opens?: boolean;
  /** `:|` stands after it; how often all is played. */
  readonly closes?: number;
  /** The ending that it belongs to (`"1"`, `"1, 2"`), and whether it starts and ends there. */
  readonly ending?: { readonly number: string; readonly starts: boolean; readonly ends: boolean };
  /** Key, meter and tempo are said anew: whoever comes back here comes from others. */
  readonly restates?: boolean;
  /** A section ends with it. */
  readonly sectionEnds?: boolean;
}

/** What folding asks of the bars as they are played. */
export interface Playing {
  readonly frames: readonly BarFrame[];
  /** Equal where two bars are printed alike. */
  readonly contents: readonly string[];
  /** Equal where key, meter, tempo and feel are the same. */
  readonly contexts: readonly string[];
  /** Whether a tone sounds on into the next bar. */
  readonly tiedOver: readonly boolean[];
}

/** The bars of one playing of a section, or of the part of it between others that it plays. */
interface Passage {
  readonly frames: readonly number[];
  /** The whole section, each bar once. */
  readonly plain: boolean;
}

/**
 * The bars as they are printed: in the order in which they are played, under signs of repetition where every pass is
 * the same to the last tie, and written out where one is not (other words, a pickup over the end of one pass alone, a
 * tone held over the sign).
 */
export function foldBars(playing: Playing): readonly PrintedBar[] {
  const printed: PrintedBar[] = [];
  const passages = passagesOf(playing.frames);
  for (let i = 0; i < passages.length; ) {
    const repeated = repeatedPassages(playing, passages, i);
    if (repeated === undefined) {
      printed.push(...insidePassage(playing, passages[i] as Passage));
      i++;
    } else {
      printed.push(...repeated.bars);
      i += repeated.count;
    }
    const last = printed[printed.length - 1];
    // The upbeat belongs to the first section: no double bar line parts them.
    if (last !== undefined && playing.frames[last.frame]?.upbeat === false)
      printed[printed.length - 1] = { ...last, sectionEnds: true };
  }
  return printed;
}

function passagesOf(frames: readonly BarFrame[]): readonly Passage[] {
  const passages: number[][] = [];
  frames.forEach(({ bar, upbeat }, i) => {
    const last = passages[passages.length - 1];
    if (last === undefined || (bar.enters && !upbeat)) passages.push([i]);
    else last.push(i);
  });
  return passages.map((indices) => {
    const { section } = (frames[indices[0] as number] as BarFrame).bar.played.section;
    const plain =
      indices.length === section.bars.length &&
      indices.every((frame, i) => frames[frame]?.upbeat === false && barOf(frames, frame).index === i);
    return { frames: indices, plain };
  });
}

const barOf = (frames: readonly BarFrame[], frame: number): Bar => (frames[frame] as BarFrame).bar.played.bar;

/** The same section played several times in a row: under one sign, with an ending for the last time where it differs. */
function repeatedPassages(
  playing: Playing,
  passages: readonly Passage[],
  first: number,
): { readonly bars: readonly PrintedBar[]; readonly count: number } | undefined {
  const { frames } = playing;
  const one = passages[first] as Passage;
  if (!one.plain) return undefined;
  const { section, moved } = (frames[one.frames[0] as number] as BarFrame).bar.played;
  let count = 1;
  for (let next = passages[first + 1]; next?.plain === true; next = passages[first + count]) {
    const { played } = (frames[next.frames[0] as number] as BarFrame).bar;
    if (played.section !== section || played.moved.halfSteps !== moved.halfSteps) break;
    if (played.moved.key.tonic !== moved.key.tonic) break;
    count++;
  }
  for (; count > 1; count--) {
    const passes = passages.slice(first, first + count).map((it) => it.frames);
    const length = one.frames.length;
    const shared = sharedStart(
      playing,
      passes[0] as readonly number[],
      passes[count - 1] as readonly number[],
    );
    if (shared < length && (shared === 0 || (length - shared) * 2 > length)) continue;
    const bars = foldPasses(playing, passes, shared);
    if (bars !== undefined) return { bars, count };
  }
  return undefined;
}

function sharedStart({ contents }: Playing, a: readonly number[], b: readonly number[]): number {
  let shared = 0;
  while (shared < a.length && contents[a[shared] as number] === contents[b[shared] as number]) shared++;
  return shared;
}

/** The bars of a passage with its own repeats. */
function insidePassage(playing: Playing, { frames: all }: Passage): readonly PrintedBar[] {
  const printed: PrintedBar[] = [];
  for (let i = 0; i < all.length; ) {
    const repeat = repeatFrom(playing, all, i);
    if (repeat === undefined) {
      printed.push({ frame: all[i] as number });
      i++;
    } else {
      printed.push(...repeat.bars);
      i += repeat.count;
    }
  }
  return printed;
}

/** The repeat that starts with a bar, as far as it is played as its signs say. */
function repeatFrom(
  playing: Playing,
  all: readonly number[],
  from: number,
): { readonly bars: readonly PrintedBar[]; readonly count: number } | undefined {
  const { frames } = playing;
  const first = frames[all[from] as number] as BarFrame;
  if (first.upbeat) return undefined;
  const barAt = (i: number): Bar | undefined =>
    all[i] === undefined ? undefined : barOf(frames, all[i] as number);
  const { index: start, repeat } = first.bar.played.bar;
  // Nothing goes back to any other bar.
  if (!repeat.start && start !== 0) return undefined;
  let end = from;
  while (barAt(end)?.repeat.end === false && follows(barAt(end), barAt(end + 1))) end++;
  const closing = barAt(end);
  if (closing?.repeat.end !== true || closing.repeat.times < 2) return undefined;
  if (barAt(end + 1)?.index !== start) return undefined;
  const length = end - from + 1;
  let before = length;
  for (let i = length - 1; i >= 0; i--) if (barAt(from + i)?.repeat.ending === 1) before = i;
  const passes: (readonly number[])[] = [];
  let at = from;
  const isPass = (length: number): boolean => {
    for (let i = 0; i < length; i++) if (barAt(at + i)?.index !== start + i) return false;
    return true;
  };
  for (let pass = 1; pass < closing.repeat.times; pass++) {
    if (!isPass(length)) return undefined;
    passes.push(all.slice(at, at + length));
    at += length;
  }
  if (!isPass(before)) return undefined;
  let count = before;
  const second = barAt(at + before);
  if (before < length && second?.repeat.ending === 2) {
    do count++;
    while (
      follows(barAt(at + count - 1), barAt(at + count)) &&
      barAt(at + count - 1)?.repeat.double === false &&
      barAt(at + count)?.repeat.start === false &&
      barAt(at + count)?.repeat.ending === undefined
    );
  }
  passes.push(all.slice(at, at + count));
  const bars = foldPasses(playing, passes, before);
  return bars && { bars, count: at + count - from };
}

const follows = (a: Bar | undefined, b: Bar | undefined): boolean =>
  a !== undefined && b !== undefined && b.index === a.index + 1;

/** Passes under one sign: all but the last are the same, and the last is so for its first `shared` bars. */
function foldPasses(
  { contents, contexts, tiedOver }: Playing,
  passes: readonly (readonly number[])[],
  shared: number,
): readonly PrintedBar[] | undefined {
  const first = passes[0] as readonly number[];
  const last = passes[passes.length - 1] as readonly number[];
  const { length } = first;
  if (shared === 0) return undefined;
  const isSame = (pass: readonly number[], bars: number): boolean =>
    first.slice(0, bars).every((frame, i) => contents[frame] === contents[pass[i] as number]);
  for (const pass of passes.slice(0, -1)) {
    if (!isSame(pass, length) || tiedOver[pass[length - 1] as number]) return undefined;
  }
  if (!isSame(last, shared)) return undefined;
  const hasEndings = shared < length;
  if (hasEndings && tiedOver[last[shared - 1] as number]) return undefined;
  const times = passes.length;
  const early = Array.from({ length: times - 1 }, (_, i) => i + 1).join(", ");
  const closing = first[length - 1] as number;
  const bars = first.map((frame, i): PrintedBar => {
    const ending = { number: early, starts: i === shared, ends: i === length - 1 };
    return {
      frame,
      ...(i === 0 ? { opens: true, restates: contexts[closing] !== contexts[frame] } : {}),
      ...(i === length - 1 ? { closes: times } : {}),
      ...(i >= shared ? { ending } : {}),
    };
  });
  const tail = last.slice(shared);
  const from = contexts[first[shared - 1] as number];
  tail.forEach((frame, i) => {
    const ending = { number: String(times), starts: i === 0, ends: i === tail.length - 1 };
    bars.push({ frame, ending, ...(i === 0 ? { restates: contexts[frame] !== from } : {}) });
  });
  return bars;
}
