import { beatLength } from "../chart/bar-time.js";
import type { Feel, Meter } from "../chart/model.js";
import { visible } from "../text/visible.js";
import type { Fraction } from "../theory/fraction.js";
import { element, textElement } from "./musicxml-element.js";
import { typeOf } from "./musicxml-value.js";
import type { TimedBar } from "./timeline.js";

/** How a bar goes: what is said where it changes. */
export interface Pace {
  /** Beats a minute as the chart says; `undefined` where it doesn't. */
  readonly tempo: number | undefined;
  readonly meter: Meter;
  /** The feel, as far as this meter's beat is halved at all. */
  readonly feel: Feel;
}

export function paceOf({ played: { section, bar } }: TimedBar): Pace {
  const system = section.section.systems[bar.system];
  const bends = beatLength(bar.meter).n === 1;
  return { tempo: system?.tempo, meter: bar.meter, feel: bends ? (system?.feel ?? "straight") : "straight" };
}

/** Equal where nothing has to be said between two bars. */
export const paceName = ({ tempo, meter, feel }: Pace): string => {
  const { n, d } = beatLength(meter);
  return `${tempo ?? ""} ${n}/${d} ${feel}`;
};

/** Of system-wide directions only the top one is to be seen. */
const onTop = { placement: "above", system: "only-top" };

const wordsOf = (text: string, style?: string): string =>
  element("direction-type", textElement("words", text, { "font-style": style }));

/** Words over or under a staff. */
export const words = (text: string, placement: "above" | "below", place: string, style?: string): string =>
  element("direction", wordsOf(visible(text), style) + place, { placement });

/** The name of a section. */
export const rehearsal = (name: string, place: string): string =>
  element("direction", element("direction-type", textElement("rehearsal", visible(name))) + place, onTop);

/** What stands over a section that is repeated until somebody gives the sign. */
export const untilCued = (place: string): string =>
  element("direction", wordsOf("repeat until cued", "italic") + place, onTop);

const feelWords: Readonly<Record<Feel, string>> = {
  straight: "Straight",
  swing: "Swing",
  shuffle: "Shuffle",
};

/**
 * Tempo and feel where they change, for the eye and for sound. `sounds` is the tempo that sounds, `swing` how much
 * longer the first half of a swung beat lasts than the second.
 */
export function pace(
  { tempo, meter, feel }: Pace,
  before: Pace | undefined,
  sounds: number,
  swing: Fraction,
  place: string,
): string {
  const beat = beatLength(meter);
  const changes = feel !== (before?.feel ?? "straight");
  const sound = element("sound", changes ? swingOf(feel, swing, beat) : "", {
    tempo: (sounds * 4 * beat.n) / beat.d,
  });
  const seen =
    (changes ? wordsOf(feelWords[feel]) : "") +
    (tempo === undefined ? "" : element("direction-type", metronome(tempo, beat)));
  return seen === "" ? sound : element("direction", seen + place + sound, onTop);
}

/** Tempo and feel where they change, in words alone: `Swing, ♩ = 96`; "" where neither does. */
export function paceWords({ tempo, meter, feel }: Pace, before: Pace): string {
  const { n, d } = beatLength(meter);
  const beat = n === 3 ? `${noteSigns[d / 2] ?? "beat"}.` : (noteSigns[d] ?? "beat");
  return [
    ...(feel === before.feel ? [] : [feelWords[feel]]),
    ...(tempo === undefined || tempo === before.tempo ? [] : [`${beat} = ${tempo}`]),
  ].join(", ");
}

/** By the part of a whole note. */
const noteSigns: Readonly<Record<number, string>> = { 4: "♩", 8: "♪" };

/** A shuffle is exactly 2:1. */
function swingOf(feel: Feel, swing: Fraction, beat: Fraction): string {
  if (feel === "straight") return element("swing", "<straight/>");
  const { n, d } = feel === "shuffle" ? { n: 2, d: 1 } : swing;
  return element("swing", textElement("first", n) + textElement("second", d) + halfBeat(beat));
}

/** MusicXML 4.0 knows swung eighths and 16ths. */
const halfBeat = ({ d }: Fraction): string =>
  d === 4 || d === 8 ? textElement("swing-type", d === 4 ? "eighth" : "16th") : "";

/** The beat is a plain or a dotted value. */
function metronome(tempo: number, { n, d }: Fraction): string {
  const unit = typeOf(n === 3 ? { n: 1, d: d / 2 } : { n, d }) ?? "quarter";
  return element(
    "metronome",
    textElement("beat-unit", unit) + (n === 3 ? "<beat-unit-dot/>" : "") + textElement("per-minute", tempo),
  );
}
