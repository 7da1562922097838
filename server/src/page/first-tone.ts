import { compingOf } from "../exports/comping-voices.js";
import type { PartName } from "../exports/performance.js";
import { type Chord, prettyChord } from "../theory/chord.js";
import { type ModeName, triadOn } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import { prettyPitch } from "../theory/pitch.js";
import { complete, plainQuality, readQuality } from "../theory/quality.js";
import { firstFrom, type Range } from "./laps.js";
import { entryAt } from "./pickups.js";
import { nearly, type Song, type SongNote } from "./song.js";
import { tiny } from "./timing.js";

/** What a singer is given before a stretch of the song. */
export interface FirstTone {
  /** The chord as a block in the middle register: MIDI numbers from the lowest up. */
  readonly chord: readonly number[];
  readonly tone: SongNote;
  /** For the status line: `G4, over C`, or `E4, after G7` where another chord comes in together with the tone. */
  readonly words: string;
}

/**
 * The singer's first tone in a stretch of the song or in the pickup into it, and the chord before it: the one that
 * sounds already when it comes, else the last one before; at the start of all the home chord of the key. Where nobody
 * has a melody, the tone is the top one of what the right hand strikes first, as if the melody lay there. `undefined`
 * where there is neither.
 */
export function firstTone(song: Song, range: Range): FirstTone | undefined {
  const tone = firstOf(song, "lead", range) ?? firstOf(song, "right", range);
  if (tone === undefined) return undefined;
  const before = song.chords.findLast(({ at }) => at < tone.at - nearly);
  const chord = before === undefined ? homeChord(song, tone.at) : chordAt(song, before.index);
  const isOver = before === undefined || before.end > tone.at + nearly;
  return {
    chord: block(chord, song),
    tone,
    words: `${prettyPitch(tone)}, ${isOver ? "over" : "after"} ${prettyChord(chord)}`,
  };
}

/** The top note of what a part strikes first. */
function firstOf(song: Song, part: PartName, { from, to }: Range): SongNote | undefined {
  const entry = entryAt(song, from);
  const pickup = entry.into === undefined ? undefined : song.pickups.get(entry.into)?.notes;
  let first: SongNote | undefined;
  for (let i = firstFrom(song.notes, entry.from); i < song.notes.length; i++) {
    const note = song.notes[i] as SongNote;
    if (note.at >= to - tiny) break;
    if (note.part !== part || note.grace) continue;
    if (pickup !== undefined && note.at < from - tiny && !pickup.has(note)) continue;
    if (first === undefined || (note.shownFrom === first.shownFrom && note.midi > first.midi)) first = note;
  }
  return first;
}

function chordAt({ view }: Song, index: number): Chord {
  const { root, bass, quality } = view.sound.chords;
  const reading = readQuality(quality[index] as string) ?? plainQuality;
  return {
    root: root[index] as number,
    quality: complete(reading, "major", "perfect"),
    bass: bass[index] ?? undefined,
  };
}

function homeChord({ view, timing }: Song, seconds: number): Chord {
  const { bars } = view.sound;
  const bar = timing.barAt(seconds + tiny);
  const tonic = bars.tonic[bar] as number;
  const { third, fifth } = triadOn({ tonic, mode: bars.mode[bar] as ModeName }, 1);
  return { root: tonic, quality: complete(plainQuality, third, fifth), bass: undefined };
}

/** Voices as they are comped, and the bass's name close below them but clear of mud. */
function block(chord: Chord, { view }: Song): readonly number[] {
  const home = { key: { tonic: view.tonic, mode: "major" }, one: view.one } as const;
  const voices = compingOf([{ chord, key: home.key }], home).flatMap((it) =>
    it.voices.map(({ midi }) => midi),
  );
  const below = (voices[0] ?? view.one) - clear;
  const bass = below - ((((below - pitchClass(chord.bass ?? chord.root)) % 12) + 12) % 12);
  return [bass, ...voices];
}
/** Half steps that the bass lies below the voices at least (chosen here, no source). */
const clear = 3;

/** A tone that is due: a key, and when it starts and ends on the sound's clock. */
export interface DueTone {
  readonly midi: number;
  readonly start: number;
  readonly end: number;
  readonly loudness: number;
}

/** Seconds that the chord is heard, that are left free behind it, and that the tone is heard (chosen here, no source). */
const [chordHeard, gap, toneHeard] = [1.3, 0.3, 2];
/** The chord stays behind the tone that is to be remembered. MIDI velocities (chosen here, no source). */
const [chordLoudness, toneLoudness] = [64, 88];

/** The chord as a block from a time on, and the tone alone behind it. */
export function soundFirstTone({ chord, tone }: FirstTone, at: number): readonly DueTone[] {
  const then = at + chordHeard + gap;
  return [
    ...chord.map((midi) => ({ midi, start: at, end: at + chordHeard, loudness: chordLoudness })),
    { midi: tone.midi, start: then, end: then + toneHeard, loudness: toneLoudness },
  ];
}
