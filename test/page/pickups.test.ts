import { describe, expect, test } from "vitest";
import { startLaps } from "../../server/src/page/laps.js";
import { entryAt } from "../../server/src/page/pickups.js";
import type { Song } from "../../server/src/page/song.js";
import { songIn } from "../support/song-in.js";

const text = `key C
tempo 60
section Verse
left  | C2 - - D2 |
lead  | C4 - - -  |

section Chorus
left       | E2 - - - | F2 - - - |
lead (G4 A4) | B4 - - - | - - - - |
form Verse Chorus
`;
const song = songIn(text);

/** What sounds when it begins at a place, `midi@start-end` on a clock that starts with it. */
function played(of: Song, place: number, seconds: number): readonly string[] {
  const { from, into } = entryAt(of, place);
  const { notes } = startLaps(of, { at: 0, from, into }, { speed: 1, loop: undefined, until: undefined }).due(
    seconds,
  );
  return notes
    .map(({ note, start, end }) => ({ midi: note.midi, start, end }))
    .sort((a, b) => a.start - b.start || a.midi - b.midi)
    .map(({ midi, start, end }) => `${midi}@${start}-${end}`);
}

describe("who begins where a bar does", () => {
  test("plays the pickup into it first, and nothing else of the bar before", () => {
    expect(entryAt(song, 4)).toEqual({ from: 3, into: 1 });
    expect(played(song, 4, 2)).toEqual(["67@0-0.5", "69@0.5-1", "40@1-5", "71@1-9"]);
  });
  test("plays no pickup where none leads into the bar", () => {
    expect(entryAt(song, 0)).toEqual({ from: 0, into: undefined });
    expect(entryAt(song, 8)).toEqual({ from: 8, into: undefined });
    expect(played(song, 8, 1)).toEqual(["41@0-4", "71@0-4"]);
  });
  test("within a bar plays from there", () => {
    expect(entryAt(song, 3.5)).toEqual({ from: 3.5, into: undefined });
    expect(played(song, 3, 0.9)).toEqual(["38@0-1", "67@0-0.5", "69@0.5-1"]);
  });
  test("at the start begins with the first note before it", () => {
    const early = songIn("key C\ntempo 60\nlead E4 | C4 |\nleft | C2 |\n");
    expect(entryAt(early, early.timing.starts[0] as number)).toEqual({ from: 3, into: undefined });
    expect(played(early, 4, 2)).toEqual(["64@0-1", "36@1-5", "60@1-5"]);
  });
  test("strikes at the bar what another hand holds into it", () => {
    const held = songIn(
      "key C\ntempo 60\nsection A\nleft | C2 - - - |\nlead | r |\n\nleft | - - - - |\nlead E4 | F4 |\n",
    );
    expect(played(held, 4, 2)).toEqual(["64@0-1", "36@1-5", "65@1-5"]);
  });
});
