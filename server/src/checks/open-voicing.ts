import type { Note, SlotEvent } from "../chart/model.js";
import { movedExactly } from "../edits/octave-in-text.js";
import type { ToneText } from "../syntax/tree.js";
import type { Edit } from "../text/edits.js";
import { shift, sliceOf } from "../text/span.js";
import { octaveEdit } from "./octave-edit.js";

/** Ways to make a muddy stack clear: its upper tone an octave up, all of it an octave up, or without that tone. */
export type Opening = "open" | "raise" | "drop";

/** A stack as it would be after a way of opening it. */
export interface Opened {
  readonly edits: readonly Edit[];
  /** The keys that it would sound, ascending MIDI numbers. */
  readonly keys: readonly number[];
}

/**
 * What becomes of a stack and its text of which one tone is moved or left out. `undefined` where the text
 * can't say that by this tone alone.
 */
export function opened(
  { struck, held }: SlotEvent,
  tone: ToneText,
  how: Opening,
  text: string,
): Opened | undefined {
  const notes = struck.filter(({ grace }) => !grace);
  const at = notes.findIndex((note) => note.tone === tone);
  if (at < 0 || held.length > 0) return undefined;
  // A `<` inside a stack does nothing, so one that is taken away would neither.
  if (notes.some(({ tone }, i) => i > 0 && tone.octaves < 0)) return undefined;
  if (how === "drop") return dropped(notes, at);
  const isLifted = (note: Note, i: number): boolean => (how === "open" ? i === at : i === 0 || isExact(note));
  // What lies above the tone goes up with it by itself, but the lowest would take all with it.
  if (how === "open" && at === 0) return undefined;
  const lifted = notes.filter(isLifted);
  const edits = lifted.map((note) => (isExact(note) ? exactEdit(note, text) : octaveEdit(note, 1)));
  if (edits.some((edit) => edit === undefined)) return undefined;
  return { edits: edits as Edit[], keys: keysOf(notes, isLifted) };
}

/** The tone and the `+` before it are taken away. Without its first tone a stack would lie elsewhere. */
function dropped(notes: readonly Note[], at: number): Opened | undefined {
  const [before, note] = [notes[at - 1], notes[at]];
  if (before === undefined || note === undefined) return undefined;
  const rest = notes.filter((_, i) => i !== at);
  return {
    edits: [{ span: { start: before.span.end, end: note.span.end }, text: "" }],
    keys: keysOf(rest, () => false),
  };
}

const isExact = ({ tone: { name } }: Note): boolean => name.kind === "pitch" && name.octave !== undefined;

function exactEdit({ span, tone }: Note, text: string): Edit | undefined {
  const name = shift(tone.nameSpan, span.start - tone.span.start);
  const moved = movedExactly(sliceOf(text, name), 1);
  return moved === undefined ? undefined : { span: name, text: moved };
}

/** The keys of a stack's tones, some an octave higher; each that isn't exact is the next above the one before it. */
function keysOf(notes: readonly Note[], isLifted: (note: Note, i: number) => boolean): readonly number[] {
  const keys: number[] = [];
  notes.forEach((note, i) => {
    const up = isLifted(note, i) ? 12 : 0;
    const { pitch, tone } = note;
    const isFree = i > 0 && !isExact(note);
    keys.push((isFree ? nextAbove(keys[i - 1] as number, pitch.midi) + 12 * tone.octaves : pitch.midi) + up);
  });
  return keys.sort((a, b) => a - b);
}

/** The next key strictly above another that sounds a pitch's name. */
const nextAbove = (below: number, midi: number): number =>
  below + 1 + ((((midi - below - 1) % 12) + 12) % 12);
