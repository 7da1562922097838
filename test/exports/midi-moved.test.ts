import fc from "fast-check";
import { parseMidi } from "midi-file";
import { expect } from "vitest";
import { type Document, openDocument } from "../../server/src/document/document.js";
import { transposeChart } from "../../server/src/edits/transpose.js";
import { midiFile } from "../../server/src/exports/midi.js";
import { perform } from "../../server/src/exports/performance.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { practicalKeys } from "../../server/src/theory/key.js";
import { anyChart, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";

const open = (text: string): Document => openDocument("a.plagal", text, usedFiles);

/** A roll takes as long as the hand needs between its keys, and black and white keys fall differently in each key. */
const withoutRolls = (text: string): string => text.replace(/(^|[\s(!|])~(?=[^\s])/gm, "$1");

/** The tracks as read back, with absolute ticks, each key moved by some half steps; of meta events what isn't the key. */
function tracks(file: Uint8Array, by: number): readonly (readonly object[])[] {
  return parseMidi(file).tracks.map((events) => {
    let tick = 0;
    return events.flatMap((event): object[] => {
      const { deltaTime, ...rest } = event;
      tick += deltaTime;
      if (event.type === "keySignature") return [];
      const isNote = event.type === "noteOn" || event.type === "noteOff";
      return [isNote ? { ...rest, noteNumber: event.noteNumber + by, tick } : { ...rest, tick }];
    });
  });
}

const cases = fc.tuple(anyChart().map(withoutRolls), fc.nat({ max: 11 }));

let compared = 0;

property("the file of a moved chart is the file moved", cases, 300, ([text, choice]) => {
  const before = open(text);
  const { home } = before.chart.header;
  const target = practicalKeys(home.key.mode)[choice];
  if (target === undefined) return;
  const moved = transposeChart(before, { tonic: target.tonic, mode: undefined });
  if ("refused" in moved) return;
  const after = open(applyEdits(text, moved.edits));
  const by = after.chart.header.home.one - home.one;
  const [performance, there] = [perform(before.chart), perform(after.chart)];
  const keys = performance.parts.flatMap(({ notes }) => notes.map(({ pitch }) => pitch.midi));
  // What leaves MIDI's 128 keys is left out of a file.
  if (keys.some((key) => Math.min(key, key + by) < 0 || Math.max(key, key + by) > 127)) return;
  compared++;
  expect(tracks(midiFile(there), 0)).toEqual(tracks(midiFile(performance), by));
});

property("most charts could be compared", fc.constant(undefined), 1, () => {
  expect(compared).toBeGreaterThan(100);
});
