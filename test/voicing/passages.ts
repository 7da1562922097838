import { readChord } from "../../server/src/theory/chord.js";
import { readKey } from "../../server/src/theory/key.js";
import { prettyPitch, readPitch } from "../../server/src/theory/pitch.js";
import type { Asked } from "../../server/src/voicing/asked.js";
import type { Passage } from "../../server/src/voicing/search.js";
import type { StyleName } from "../../server/src/voicing/styles.js";
import type { Step, Voicing } from "../../server/src/voicing/voicing.js";

const read = <T>(value: T | undefined, text: string): T => {
  if (value === undefined) throw new Error(`“${text}” can't be read`);
  return value;
};

/** Chords in letters, one a step, with the melody's pitches behind a bar: `Dm7 G7 C | F5 E5 E5`; `-` is none. */
export function stepsOf(text: string, keyName = "C major"): readonly Step[] {
  const [chords = "", melody = ""] = text.split("|");
  const key = read(readKey(keyName), keyName);
  const tune = melody.trim().split(/\s+/);
  return chords
    .trim()
    .split(/\s+/)
    .map((symbol, i) => {
      const tone = tune[i] ?? "";
      return {
        chord: read(readChord(symbol), symbol),
        key,
        melody: tone === "" || tone === "-" ? undefined : read(readPitch(tone), tone),
        left: undefined,
        right: undefined,
        time: undefined,
      };
    });
}

export const asking = (style: StyleName, more: Partial<Asked> = {}): Asked => ({
  style,
  reach: { left: 9, right: 9 },
  moves: [],
  everyKey: false,
  ...more,
});

/** `D2 | F4 A4 C5`: the left hand's keys and the right hand's. */
export const handsOf = ({ left, right }: Voicing): string =>
  [left, right].map((voices) => voices.map(({ pitch }) => prettyPitch(pitch)).join(" ")).join(" | ");

/** A line for each step; the style behind it where it is another than was asked for. */
export const passageText = ({ steps }: Passage, { style }: Asked): string =>
  steps
    .map((it) =>
      it.voicing === undefined
        ? it.reason
        : handsOf(it.voicing) + (it.served === style ? "" : ` (${it.served})`),
    )
    .join("\n");
