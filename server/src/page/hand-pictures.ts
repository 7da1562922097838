import { drawingMarkup } from "../exports/drawing-markup.js";
import type { PicturedKey, PictureTheme } from "../exports/keyboard-picture.js";
import type { HandKey, LiveChart } from "../exports/live-chart.js";
import type { HandPictures } from "../exports/page-sheet.js";
import { smallKeyboard } from "../exports/small-keyboard.js";

/** Pictures of a system's hands: what they show, as text, and how they are drawn once they are needed. */
export interface SystemPictures {
  readonly content: string;
  readonly draw: () => HandPictures;
}

/** The hands as small keyboards, system by system. */
export const handPictures =
  ({ hands }: LiveChart, theme: PictureTheme) =>
  (section: number, system: number): SystemPictures => {
    const bars = hands[section]?.[system] ?? [];
    return {
      content: JSON.stringify([theme, bars]),
      draw: () =>
        bars.map((moments) =>
          moments.map(
            ([column, keys]) => [column, drawingMarkup(smallKeyboard(keys.map(pictured), theme))] as const,
          ),
        ),
    };
  };

const pictured = ([midi, fifths, right, heldOver]: HandKey): PicturedKey => ({
  pitch: { midi, fifths },
  hand: right === 1 ? "right" : "left",
  number: undefined,
  finger: undefined,
  isHeldOver: heldOver === 1,
});
