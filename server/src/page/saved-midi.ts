import { evenLoudness } from "../exports/loudness.js";
import { type MidiMusic, midiFile } from "../exports/midi.js";
import type { PageView } from "../exports/page-data.js";
import type { ModeName } from "../theory/key.js";

/** The MIDI file of what a page plays in a key: the bytes that the exporter writes for the chart in that key. */
export function savedMidi(title: string | null, { sound, sections }: PageView): Uint8Array<ArrayBuffer> {
  const { bars, parts, words } = sound;
  const at = ({ n, d }: { readonly n: readonly number[]; readonly d: readonly number[] }, i: number) => ({
    n: n[i] as number,
    d: d[i] as number,
  });
  const music: MidiMusic = {
    title: title ?? undefined,
    length: { n: sound.n, d: sound.d },
    pedal: [],
    bars: bars.n.map((_, i) => ({
      at: at(bars, i),
      meter: { beats: bars.beats[i] as number, unit: bars.unit[i] as number },
      tempo: bars.tempo[i] as number,
      key: { tonic: bars.tonic[i] as number, mode: bars.mode[i] as ModeName },
      enters: bars.enters[i] === 1,
      section: { section: { name: sections[bars.section[i] as number]?.name ?? "" } },
    })),
    words: words.text.map((text, i) => ({ at: at(words, i), text })),
    parts: parts.map((part) => ({
      name: part.name,
      notes: part.n.map((_, i) => ({
        at: at(part, i),
        length: { n: part.ln[i] as number, d: part.ld[i] as number },
        pitch: { midi: part.midi[i] as number },
        loudness: evenLoudness,
      })),
    })),
  };
  return new Uint8Array(midiFile(music));
}
