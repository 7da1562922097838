import type { Range } from "./laps.js";
import { placeIn } from "./place-in.js";
import type { Song } from "./song.js";
import { tiny } from "./timing.js";

/** A bar as it is printed: the index of its section, and its own in the section. */
export interface PrintedBar {
  readonly section: number;
  readonly bar: number;
}

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
  if (choice === "") return undefined;
  if (choice !== "marked") {
    const pass = passOf(song, Number(choice), seconds);
    const [first, last] = [pass[0], pass.at(-1)];
    if (first === undefined || last === undefined) return undefined;
    return { from: starts[first] as number, to: starts[last + 1] as number };
  }
  if (marked === undefined) return undefined;
  const { section, from, to } = marked;
  return loopBetween(song, { section, bar: from }, { section, bar: to }, seconds);
}

/**
 * The stretch from one printed bar to the end of another one as the form plays them: of those turns of the form the one
 * that sounds, or else the first; from the first time that the one bar comes round in its section to the next time of
 * the other. Bars of two sections need the form to play these one after the other, or with nothing between them but
 * what is printed between them; `undefined` where it doesn't.
 */
export function loopBetween(
  song: Song,
  from: PrintedBar,
  to: PrintedBar,
  seconds: number,
): Range | undefined {
  const { starts, barAt } = song.timing;
  const { bars } = song.view.sound;
  const rangeOf = (first: number, last: number): Range => ({
    from: starts[first] as number,
    to: starts[last + 1] as number,
  });
  if (from.section === to.section) {
    const place = placeOf(song, from.section, from.bar, seconds);
    if (place === undefined) return undefined;
    const first = barAt(place + tiny);
    const last = bars.bar.findIndex(
      (bar, i) => i >= first && bars.section[i] === to.section && bar === to.bar,
    );
    return last < 0 ? undefined : rangeOf(first, last);
  }
  const between = [from.section, to.section].sort((a, b) => a - b) as [number, number];
  const isBetween = (section: number): boolean => section >= between[0] && section <= between[1];
  const now = barAt(seconds + tiny);
  let found: Range | undefined;
  let first: number | undefined;
  let verse: number | undefined;
  let isBroken = false;
  bars.section.forEach((section, i) => {
    if (section === from.section) {
      // Each pass begins anew; one that goes on after what it plays in its middle goes on.
      if (bars.verse[i] !== verse) first = undefined;
      verse = bars.verse[i];
      isBroken = false;
      if (bars.bar[i] === from.bar) first ??= i;
    } else if (!isBetween(section)) isBroken = true;
    else if (section === to.section && bars.bar[i] === to.bar && first !== undefined && !isBroken) {
      if (found === undefined || (now >= first && now <= i)) found = rangeOf(first, i);
      first = undefined;
    }
  });
  return found;
}

/**
 * A loop of whole bars in another version of the song, in the turn of the form that was looped; `undefined` where one
 * of its ends isn't there any more.
 */
export function loopIn(newSong: Song, oldSong: Song, { from, to }: Range): Range | undefined {
  const begin = placeIn(newSong, oldSong, from);
  const end = barEndIn(newSong, oldSong, to);
  return begin === undefined || end === undefined || end <= begin ? undefined : { from: begin, to: end };
}

/** Where a bar that ends at a place of the song ends in another version of it; `undefined` where it isn't there. */
export function barEndIn(newSong: Song, oldSong: Song, end: number): number | undefined {
  const { starts, barAt } = oldSong.timing;
  const last = placeIn(newSong, oldSong, starts[barAt(end - 2 * tiny)] as number);
  return last === undefined ? undefined : newSong.timing.starts[newSong.timing.barAt(last + tiny) + 1];
}
