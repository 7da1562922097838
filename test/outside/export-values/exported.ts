import { parseMidi } from "midi-file";
import { openDocument } from "../../../server/src/document/document.js";
import type { ExportedFile } from "../../../server/src/exports/exporters.js";
import { exporters } from "../../../server/src/exports/exporters.js";
import { sheets } from "../../../server/src/exports/sheets.js";
import type { SheetOptions } from "../../../server/src/exports/stand-sheet.js";

/** Each chart is exported once, however many values are read out of it. */
function once<T>(make: (text: string) => T): (text: string) => T {
  const made = new Map<string, T>();
  return (text) => {
    const before = made.get(text);
    if (before !== undefined) return before;
    const now = make(text);
    made.set(text, now);
    return now;
  };
}

const chartOf = (text: string) => openDocument("chart.plagal", text).chart;
const bytesOf =
  (kind: keyof typeof exporters) =>
  (text: string): Uint8Array =>
    (exporters[kind](chartOf(text)) satisfies ExportedFile).bytes;

/** The MIDI file of a chart. */
export const midiOf = once(bytesOf("midi"));
/** The same with the pedal down through each chord. */
export const pedalledMidiOf = once((text) => exporters.midi(chartOf(text), { pedal: true }).bytes);
const xmlBytesOf = once(bytesOf("musicxml"));
/** The score of a chart, as MusicXML. */
export const scoreOf = once((text) => new TextDecoder().decode(xmlBytesOf(text)));
/** The first section of a chart as an SVG picture, chords as the options say. */
export const pictureOf = (text: string, options: SheetOptions): string =>
  sheets.svg(chartOf(text), undefined, options) ?? "";
/** The PDF of a chart, a character for each byte. */
export const printOf = (text: string, options: SheetOptions): string =>
  Buffer.from(sheets.pdf(chartOf(text), options)).toString("latin1");

/** `count` bytes behind the first place of a file where `start`, two hex digits a byte, stands. */
export function bytesBehind(file: Uint8Array, start: string, count: number): readonly number[] {
  const at = Buffer.from(file).indexOf(Buffer.from(start.replaceAll(" ", ""), "hex"));
  return at < 0 ? [] : [...file.subarray(at + start.replaceAll(" ", "").length / 2).subarray(0, count)];
}

/** A key that goes down and comes up, in ticks. */
export interface Struck {
  readonly key: number;
  readonly at: number;
  readonly length: number;
}

/** The strokes of the first part of a MIDI file, as npm midi-file reads them, in the order in which they start. */
export const strokesOf = once((text): readonly Struck[] => {
  const strokes: { key: number; at: number; length: number }[] = [];
  let now = 0;
  for (const event of parseMidi(midiOf(text)).tracks[1] ?? []) {
    now += event.deltaTime;
    if (event.type === "noteOn") strokes.push({ key: event.noteNumber, at: now, length: 0 });
    if (event.type !== "noteOff") continue;
    const ended = strokes.findLast((it) => it.key === event.noteNumber);
    if (ended !== undefined) ended.length = now - ended.at;
  }
  return strokes;
});

/** What stands in the elements of a name, in their order. */
export const elementsOf = (xml: string, name: string): readonly string[] =>
  [...xml.matchAll(new RegExp(`<${name}(?: [^>]*)?>(.*?)</${name}>`, "gs"))].map(
    ([, content]) => content as string,
  );

/** A printed pitch in words: `F 1 4` is F sharp above middle C. */
export const pitchesOf = (xml: string): readonly string[] =>
  elementsOf(xml, "pitch").map(
    (it) => `${elementsOf(it, "step")[0]} ${elementsOf(it, "alter")[0] ?? 0} ${elementsOf(it, "octave")[0]}`,
  );

/** The chords of a score in letters, then in numbers, each as what stands in its element. */
export const harmoniesOf = (xml: string, placement: "above" | "below"): readonly string[] =>
  [...xml.matchAll(new RegExp(`<harmony placement="${placement}">(.*?)</harmony>`, "gs"))].map(
    ([, content]) => content as string,
  );
