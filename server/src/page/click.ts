import type { Voice } from "./piano.js";

/** Cycles a second of a bar's first beat and of the others: a sixth apart, above the keyboard's middle (chosen here, no source). */
const [firstPitch, otherPitch] = [2000, 1200];
/** How loud they are beside each other (chosen here, no source). */
const [firstLoudness, otherLoudness] = [0.9, 0.5];
/** Seconds in which a click rises, and in which it falls to a third: that of struck wood (chosen here, no source). */
const [rise, fall] = [0.001, 0.014];

/** The click of a beat: a made tone, so short that no key has it. */
export function click(context: BaseAudioContext, at: number, isFirst: boolean, out: AudioNode): Voice {
  const source = new OscillatorNode(context, { frequency: isFirst ? firstPitch : otherPitch });
  const gain = new GainNode(context, { gain: 0 });
  gain.gain.setValueAtTime(0, at);
  gain.gain.linearRampToValueAtTime(isFirst ? firstLoudness : otherLoudness, at + rise);
  gain.gain.setTargetAtTime(0, at + rise, fall);
  source.connect(gain).connect(out);
  source.start(at);
  source.stop(at + rise + 7 * fall);
  source.onended = () => gain.disconnect();
  return {
    start: at,
    stop(when) {
      if (when <= at) source.stop(0);
    },
    endAt() {},
  };
}
