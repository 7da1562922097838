import { sliceOf } from "../text/span.js";
import { type Fraction, minus, plus } from "../theory/fraction.js";
import type { BarFrame } from "./layout.js";
import type { Bar, HomeKey, Meter, Repeat, RowEvents, SlotEvent, System, Word } from "./model.js";
import { strikes } from "./strikes.js";
import { type Syllable, syllablesOf } from "./syllables.js";
import { type Frame, hasLead, slotsOf, type Verse, versesOf } from "./words-row.js";

const noWords: readonly Word[] = [];

/** A bar with what is sung in it. */
export class SungBar implements Bar {
  readonly index: number;
  readonly system: number;
  readonly meter: Meter;
  readonly home: HomeKey;
  readonly at: Fraction;
  readonly length: Fraction;
  readonly repeat: Repeat;

  constructor(
    { index, system, at, length, repeat }: BarFrame,
    { meter, home }: System,
    readonly cue: string | undefined,
    private readonly sung: SungWords,
  ) {
    this.index = index;
    this.system = system;
    this.meter = meter;
    this.home = home;
    this.at = at;
    this.length = length;
    this.repeat = repeat;
  }

  get words(): readonly Word[] {
    return this.sung.in(this.index);
  }
}

/** The syllables of a section, each on its lead note. They are many and seldom asked for, so they are placed when they are. */
export class SungWords {
  private made: ReadonlyMap<number, readonly Word[]> | undefined;

  constructor(
    private readonly frame: Frame,
    private readonly text: string,
    private readonly lead: RowEvents,
  ) {}

  /** What is sung in a bar of this index. */
  in(bar: number): readonly Word[] {
    this.made ??= placeWords(this.frame, this.text, this.lead);
    return this.made.get(bar) ?? noWords;
  }
}

function placeWords(frame: Frame, text: string, lead: RowEvents): ReadonlyMap<number, readonly Word[]> {
  const words = new Map<number, Word[]>();
  const slots = leadIn(lead);
  for (const it of versesOf(frame)) {
    const syllables = syllablesOf(slotsOf(it), text, it.row.start);
    if (syllables.length === 0) continue;
    const { bar, verse } = it;
    const more = hasLead(it) ? onNotes(syllables, slots(it), verse) : [underBar(syllables, bar, verse, text)];
    const there = words.get(bar.index);
    if (there === undefined) words.set(bar.index, more);
    else there.push(...more);
  }
  return words;
}

/** The slots of the lead in each bar, and in the pickup before it. */
function leadIn({ slots }: RowEvents): ({ bar, pickup }: Verse) => readonly SlotEvent[] {
  const sung: SlotEvent[][] = [];
  const pickups: SlotEvent[][] = [];
  for (const slot of slots) {
    const places = slot.pickup ? pickups : sung;
    const there = places[slot.bar];
    if (there === undefined) places[slot.bar] = [slot];
    else there.push(slot);
  }
  return ({ bar, pickup }) => (pickup ? pickups : sung)[bar.index] ?? [];
}

function underBar(syllables: readonly Syllable[], bar: BarFrame, verse: number, text: string): Word {
  const span = {
    start: (syllables[0] as Syllable).span.start,
    end: (syllables[syllables.length - 1] as Syllable).span.end,
  };
  return { verse, text: sliceOf(text, span).replace(/[ \t]+/g, " "), at: bar.at, length: bar.length, span };
}

function onNotes(syllables: readonly Syllable[], slots: readonly SlotEvent[], verse: number): Word[] {
  const notes = slots.filter(strikes);
  const words: { -readonly [K in keyof Word]: Word[K] }[] = [];
  syllables.forEach(({ text, span }, i) => {
    const slot = notes[i];
    if (slot === undefined) return;
    const last = words[words.length - 1];
    if (text !== undefined) words.push({ verse, text, at: slot.at, length: slot.lasts, span });
    else if (last !== undefined) last.length = minus(plus(slot.at, slot.lasts), last.at);
  });
  // The last syllable runs on through the notes that are left.
  const last = words[words.length - 1];
  const end = notes[notes.length - 1];
  if (last !== undefined && end !== undefined && syllables.length < notes.length) {
    last.length = minus(plus(end.at, end.lasts), last.at);
  }
  return words;
}
