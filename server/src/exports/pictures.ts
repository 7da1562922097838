import type { Hand } from "../keyboard/hand.js";
import { keyboardPicture, type PicturedKey, type PictureTheme } from "./keyboard-picture.js";
import { svg } from "./svg.js";

/** Pictures of keyboards: a bundle of its own, loaded when one is first shown. */
export interface Pictures {
  /** The keys that are down at a moment. `hands` are those that have their room, so that pictures are equally high. */
  readonly keyboard: (
    keys: readonly PicturedKey[],
    chord: string | undefined,
    hands: readonly Hand[],
    theme: PictureTheme,
  ) => Picture;
}

export interface Picture {
  /** An SVG document. */
  readonly svg: string;
  /** What is to be seen in it. */
  readonly words: string;
}

/** Points: what a hover of an editor has room for. Four octaves keep their size. */
const widest = 600;

export const pictures: Pictures = {
  keyboard(keys, chord, hands, theme) {
    const drawing = keyboardPicture(keys, chord, theme, { keys: [], hands });
    return { svg: svg(drawing, widest), words: drawing.words };
  },
};
