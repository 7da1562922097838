import type { PageView } from "../exports/page-data.js";
import type { Song } from "./song.js";
import { tiny } from "./timing.js";

/**
 * Where a place of a song, in seconds, is in another version of it: the same time of the same bar of the same section,
 * in the same turn of the form, or in the last one where there are fewer now. A section is known by its name, or by
 * where it stands if there are as many as before. `undefined` where that bar isn't there or isn't played any more.
 */
export function placeIn(newSong: Song, oldSong: Song, seconds: number): number | undefined {
  if (newSong === oldSong) return seconds;
  const { timing, view } = oldSong;
  const { bars } = view.sound;
  const index = timing.barAt(seconds + tiny);
  const printed = bars.section[index];
  if (printed === undefined) return undefined;
  const section = sectionIn(newSong.view, view, printed);
  if (section === undefined) return undefined;
  const there = turnIn(newSong, section, oldSong, index);
  if (there === undefined) return undefined;
  const beats = ((seconds - (timing.starts[index] as number)) * (bars.tempo[index] as number)) / 60;
  const { starts } = newSong.timing;
  const [start, next] = [starts[there] as number, starts[there + 1] as number];
  // Where a bar has become shorter, what is beyond its end is where the next one begins.
  const place = start + (beats * 60) / (newSong.view.sound.bars.tempo[there] as number);
  return Math.max(0, Math.min(place, next));
}

/** The index of a section in another version of its chart. */
function sectionIn(now: PageView, before: PageView, index: number): number | undefined {
  const name = before.sections[index]?.name;
  const namesakes = ({ sections }: PageView) =>
    sections.flatMap((section, i) => (section.name === name ? [i] : []));
  const which = namesakes(before).indexOf(index);
  const found = namesakes(now)[which];
  if (found !== undefined) return found;
  // One that was given another name; another old name there would be another section.
  const here = now.sections[index];
  const isRenamed =
    now.sections.length === before.sections.length &&
    !before.sections.some((section) => section.name === here?.name);
  return isRenamed ? index : undefined;
}

/** The performed bar of the same printed bar, as often as it has come round in the pass of its section, and that pass. */
function turnIn(now: Song, section: number, before: Song, index: number): number | undefined {
  const old = before.view.sound.bars;
  const { bars } = now.view.sound;
  const [printed, bar, verse] = [old.section[index], old.bar[index], old.verse[index]];
  const turn = old.bar
    .slice(0, index)
    .filter((it, i) => it === bar && old.section[i] === printed && old.verse[i] === verse).length;
  const all = bars.bar.flatMap((it, i) => (it === bar && bars.section[i] === section ? [i] : []));
  const last = bars.verse[all.at(-1) ?? 0] as number;
  const pass = all.filter((i) => bars.verse[i] === Math.min(verse as number, last));
  return pass[turn] ?? pass.at(-1) ?? all.at(-1);
}
