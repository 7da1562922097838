import { handGrips } from "../chart/hand-grips.js";
import type { Section, SlotEvent } from "../chart/model.js";
import type { Finger, Hand } from "../keyboard/hand.js";
import { passageFingering } from "../keyboard/passage-fingering.js";

/** A finger for each key of a slot, from the lowest key up; slots that the hand can't hold are missing. */
export type Fingering = ReadonlyMap<SlotEvent, readonly Finger[]>;

const known = new WeakMap<Section, Map<string, Fingering>>();
/** A section is asked for both hands at one reach or another; more are asked for while a reach is being typed. */
const remembered = 8;

/** The best fingering of what a hand plays through a whole section; `reach` is 5 to 15, 8 an octave. */
export function fingeringOf(section: Section, hand: Hand, reach: number): Fingering {
  const all = known.get(section) ?? new Map<string, Fingering>();
  known.set(section, all);
  const name = `${hand} ${reach}`;
  let fingering = all.get(name);
  if (fingering === undefined) {
    fingering = made(section, hand, reach);
    if (all.size >= remembered) all.clear();
    all.set(name, fingering);
  }
  return fingering;
}

function made(section: Section, hand: Hand, reach: number): Fingering {
  const grips = handGrips(section, hand);
  const passage = grips.map(({ keys, slot }) => ({ keys, held: slot.held.map(({ pitch }) => pitch.midi) }));
  const fingers = passageFingering(passage, hand, reach);
  const fingering = new Map<SlotEvent, readonly Finger[]>();
  grips.forEach(({ slot }, i) => {
    const list = fingers[i];
    if (list !== undefined) fingering.set(slot, list);
  });
  return fingering;
}
