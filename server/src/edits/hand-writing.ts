import { homeOctave } from "../chart/home-octave.js";
import { rowIn } from "../chart/layout.js";
import type { Chart, Section, System } from "../chart/model.js";
import type { Hand } from "../keyboard/hand.js";
import type { Slot } from "../syntax/tree.js";
import { shift, sliceOf } from "../text/span.js";
import { pitchAt } from "../theory/pitch.js";
import { lettersOf } from "./letters.js";
import { type SignStyle, signStyle } from "./written-name.js";
import type { Notation } from "./written-tone.js";

/** How a chart writes what its hands play. */
export interface HandWriting {
  readonly notation: Notation;
  readonly signs: SignStyle;
  readonly lineEnd: "\n" | "\r\n";
}

/** Letters where most tones of the hands are letters already; numbers where nothing says. */
export function handWriting({ sections, outline }: Chart): HandWriting {
  const names: string[] = [];
  let [letters, numbers] = [0, 0];
  const count = (slot: Slot): void => {
    if (slot.kind === "group") slot.slots.forEach(count);
    else if (slot.content.kind === "stack")
      for (const { name } of slot.content.tones) name.kind === "pitch" ? letters++ : numbers++;
  };
  for (const { section, path } of sections) {
    if (path !== undefined) continue;
    for (const { rows } of section.systems) {
      for (const { row, line, start } of rows) {
        for (const { span } of lettersOf(line)) names.push(sliceOf(section.source.text, shift(span, start)));
        if (row !== "right" && row !== "left") continue;
        line.pickup.forEach(count);
        for (const { slots } of line.bars) slots.forEach(count);
      }
    }
  }
  return {
    notation: letters > numbers ? "letters" : "numbers",
    signs: signStyle(names.map(withoutOctave)),
    lineEnd: outline.lines[0]?.text.endsWith("\r\n") === true ? "\r\n" : "\n",
  };
}

const withoutOctave = (name: string): string => name.replace(/-?[0-9]+$/, "");

/** The lowest key of a hand's home octave in a system, a MIDI number, whether it has a row there or not. */
export function homeOf({ systems, context }: Section, { index, home }: System, hand: Hand): number {
  for (let i = index; i >= 0; i--) {
    const pitch = rowIn(systems[i] as System, hand)?.line.from?.pitch;
    if (pitch?.octave !== undefined)
      return pitchAt(pitch.fifths, pitch.octave).midi + context.displacement.halfSteps;
  }
  return homeOctave(hand, home.one);
}
