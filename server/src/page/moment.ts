import { lowestVoice } from "../exports/comping-voices.js";
import type { PicturedKey, PictureFrame } from "../exports/keyboard-picture.js";
import type { PageView, SlotView } from "../exports/page-data.js";
import type { PartName } from "../exports/performance.js";
import type { Finger, Hand } from "../keyboard/hand.js";
import { passageFingering } from "../keyboard/passage-fingering.js";
import { nearly, type Song, type SongNote } from "./song.js";

/** The hand that shows a note: its own; what is made up is shown as a player would take it. `undefined`: somebody sings it. */
function handOf({ part, index, midi }: SongNote, { slots, sound, one }: PageView): Hand | undefined {
  if (part === "comping") return midi < one + lowestVoice ? "left" : "right";
  const slot = sound.parts.find(({ name }) => name === part)?.slot[index] ?? -1;
  return slots[slot]?.hand ?? undefined;
}

export interface Moments {
  /** The keys that are down at a time, of the parts that sound. */
  readonly keysAt: (seconds: number, sounding: ReadonlySet<PartName>) => readonly PicturedKey[];
  /** What all pictures of the song share. */
  readonly frame: PictureFrame;
}

/** The pictures of a song, moment by moment. */
export function momentsOf(song: Song): Moments {
  const { view, timing, inBars } = song;
  const parts = new Map(view.sound.parts.map((part) => [part.name, part]));
  const fingers = fingersOf(view);
  const shown = song.notes.filter((note) => handOf(note, view) !== undefined);
  const hands = (["right", "left"] as const).filter((hand) =>
    shown.some((note) => handOf(note, view) === hand),
  );
  const [lowest, highest] = shown.reduce(
    ([low, high], { midi }) => [Math.min(low, midi), Math.max(high, midi)] as const,
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY] as const,
  );
  return {
    frame: { keys: shown.length === 0 ? [] : [lowest, highest], hands },
    keysAt(seconds, sounding) {
      const time = seconds + nearly;
      const there = (inBars[timing.barAt(time)] ?? []).filter(
        (note) =>
          sounding.has(note.part) && !note.grace && note.shownFrom <= time && note.end > time + nearly,
      );
      return hands.flatMap((hand) => {
        const own = there.filter((note) => handOf(note, view) === hand);
        const last = own.reduce((latest, note) => Math.max(latest, note.shownFrom), Number.NEGATIVE_INFINITY);
        const struck = own.find((note) => note.shownFrom === last);
        const grip = struck === undefined ? undefined : fingers(struck, hand);
        return own.map((note): PicturedKey => {
          const part = parts.get(note.part);
          const number = part?.number[note.index] ?? 0;
          return {
            pitch: { fifths: note.fifths, midi: note.midi },
            hand,
            number: number === 0 ? undefined : { number, alter: part?.alter[note.index] ?? 0 },
            finger: grip?.get(note.midi),
            isHeldOver: note.shownFrom < last,
          };
        });
      });
    },
  };
}

/** The finger for each key of the grip that a note belongs to, the best for its whole section; made when first asked for. */
function fingersOf(view: PageView): (note: SongNote, hand: Hand) => ReadonlyMap<number, Finger> | undefined {
  const known = new Map<string, ReadonlyMap<SlotView, ReadonlyMap<number, Finger>>>();
  const parts = new Map(view.sound.parts.map((part) => [part.name, part]));
  return (note, hand) => {
    const part = parts.get(note.part);
    const slot = view.slots[part?.slot[note.index] ?? -1];
    if (part === undefined || slot === undefined) return undefined;
    const moved = part.moved[note.index] ?? 0;
    const name = `${slot.section} ${hand} ${moved}`;
    const passage = known.get(name) ?? passageOf(view, slot.section, hand, moved);
    known.set(name, passage);
    return passage.get(slot);
  };
}

function passageOf(
  { slots, reach }: PageView,
  section: number,
  hand: Hand,
  moved: number,
): ReadonlyMap<SlotView, ReadonlyMap<number, Finger>> {
  const grips = slots
    .filter(
      (slot) =>
        slot.section === section &&
        slot.hand === hand &&
        slot.kind === "stack" &&
        slot.tones.some(({ held }) => !held),
    )
    .map((slot) => {
      const keys = [...new Set(slot.tones.map(({ midi }) => midi + moved))].sort((a, b) => a - b);
      return { slot, keys, held: slot.tones.filter(({ held }) => held).map(({ midi }) => midi + moved) };
    });
  const fingers = passageFingering(grips, hand, reach[hand]);
  return new Map(
    grips.flatMap(({ slot, keys }, i) => {
      const list = fingers[i];
      return list === undefined
        ? []
        : [[slot, new Map(keys.map((key, k) => [key, list[k] as Finger]))] as const];
    }),
  );
}
