import type { Range } from "./laps.js";
import type { Song } from "./song.js";

/** Bars of a section that somebody marked, as they are printed. */
export interface Marked {
  readonly section: number;
  readonly from: number;
  readonly to: number;
}

/** The performed bars of one pass of a section, the one that sounds at a time or else the first. */
function passOf({ view, timing }: Song, section: number, seconds: number): readonly number[] {
  const { bars } = view.sound;
  const now = timing.barAt(seconds + 1e-6);
  const own = bars.section.flatMap((it, i) => (it === section ? [i] : []));
  const verse = bars.section[now] === section ? bars.verse[now] : bars.verse[own[0] ?? 0];
  return own.filter((i) => bars.verse[i] === verse);
}

/** Where a bar is played: in the pass that sounds, or else in the first; `undefined` where the form never plays it. */
export function placeOf(song: Song, section: number, bar: number, seconds: number): number | undefined {
  const at = (pass: readonly number[]): number | undefined =>
    pass.find((i) => song.view.sound.bars.bar[i] === bar);
  const { section: sections } = song.view.sound.bars;
  const index =
    at(passOf(song, section, seconds)) ?? at(sections.flatMap((it, i) => (it === section ? [i] : [])));
  return index === undefined ? undefined : song.timing.starts[index];
}

/** The stretch that a choice of loop goes round in: "" for none, `marked`, or a section's index. */
export function loopOf(
  song: Song,
  choice: string,
  marked: Marked | undefined,
  seconds: number,
): Range | undefined {
  const { starts } = song.timing;
  const { bars } = song.view.sound;
  if (choice === "") return undefined;
  if (choice !== "marked") {
    const pass = passOf(song, Number(choice), seconds);
    const [first, last] = [pass[0], pass.at(-1)];
    if (first === undefined || last === undefined) return undefined;
    return { from: starts[first] as number, to: starts[last + 1] as number };
  }
  if (marked === undefined) return undefined;
  const from = placeOf(song, marked.section, marked.from, seconds);
  if (from === undefined) return undefined;
  const first = song.timing.barAt(from + 1e-6);
  const last = bars.bar.findIndex(
    (bar, i) => i >= first && bars.section[i] === marked.section && bar === marked.to,
  );
  return last < 0 ? undefined : { from, to: starts[last + 1] as number };
}
