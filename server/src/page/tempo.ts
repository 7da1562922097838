import { element, type Markup } from "../exports/markup.js";
import { button } from "../exports/page-furniture.js";
import { byId, say } from "./elements.js";
import type { Stage } from "./stage.js";
import { tapped, tempoOf } from "./taps.js";

/** The tempo by hand or by taps, and into the chart. */
export const tempoControls = (): Markup =>
  element(
    "div",
    { class: "pace", role: "group", "aria-label": "Tempo" },
    element(
      "label",
      {},
      "Tempo ",
      element("input", { id: "tempo", type: "number", min: "1", max: "999", autocomplete: "off" }),
    ),
    button("tap", "Tap"),
    button("write-tempo", "Write it into the chart"),
  );

/** `write` puts a tempo, in beats a minute, into the chart. */
export function openTempo(
  stage: Stage,
  write: (tempo: number) => void,
): { readonly chartChanged: () => void } {
  let taps: readonly number[] = [];
  /** A tempo on its way into the chart: once it is there, the pace is as written. */
  let written: number | undefined;
  /** What the chart said when the field was last filled from it. */
  let shown: number | undefined;
  const field = (): HTMLInputElement => byId("tempo") as HTMLInputElement;

  function choose(tempo: number): void {
    const now = stage.tempo();
    if (now !== undefined) stage.setPace((tempo / now) * 100);
  }

  function chosen(): number | undefined {
    const tempo = field().valueAsNumber;
    return Number.isInteger(tempo) && tempo >= 1 && tempo <= 999 ? tempo : undefined;
  }

  function tap(time: number): void {
    taps = tapped(taps, time);
    const tempo = tempoOf(taps);
    if (tempo === undefined) {
      say("Go on tapping the beat.");
      return;
    }
    field().value = `${tempo}`;
    choose(tempo);
    say(`${tempo} beats a minute.`);
  }

  document.addEventListener("change", ({ target }) => {
    if ((target as Element).id !== "tempo") return;
    const tempo = chosen();
    if (tempo === undefined) say("A tempo is a whole number of beats a minute, 1 to 999.");
    else choose(tempo);
  });
  document.addEventListener("click", ({ target, timeStamp }) => {
    const { id } = target as Element;
    if (id === "tap") tap(timeStamp);
    if (id !== "write-tempo") return;
    const tempo = chosen();
    if (tempo === undefined)
      say("Tap the tempo first, or write it: a whole number of beats a minute, 1 to 999.");
    else {
      written = tempo;
      write(tempo);
    }
  });
  function chartChanged(): void {
    const now = stage.tempo();
    if (written !== undefined && now === written) {
      written = undefined;
      stage.setPace(100);
    }
    if (now !== undefined && now !== shown) field().value = `${now}`;
    shown = now;
  }
  chartChanged();
  return { chartChanged };
}
