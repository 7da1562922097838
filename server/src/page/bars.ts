import { byId, say } from "./elements.js";
import { type Marked, placeOf } from "./loops.js";
import type { Stage } from "./stage.js";

/** The bars of a sheet, pressed by their numbers. */
export interface Bars {
  /** The sheet was drawn anew: marks and the order of Tab are set again. */
  readonly sheetChanged: () => void;
}

/** One bar is in the order of Tab, the arrows go on from there; a pressed one is played next, and marked. */
export function openBars(stage: Stage, pressed: (bar: Element) => void = () => undefined): Bars {
  let numbers: readonly HTMLElement[] = [];
  let current = 0;
  let marked: Marked | undefined;

  function makeCurrent(index: number): HTMLElement | undefined {
    if (index !== current) numbers[current]?.setAttribute("tabindex", "-1");
    current = index;
    setOnce(numbers[current], "tabindex", "0");
    return numbers[current];
  }

  function press(number: HTMLElement, further: boolean): void {
    const [section, bar] = barOf(number);
    makeCurrent(numbers.indexOf(number));
    if (further && marked?.section === section) {
      marked = { section, from: Math.min(marked.from, bar), to: Math.max(marked.from, bar) };
      stage.setMarked(marked);
      say(`Marked: ${stage.markedWords()}.`);
    } else {
      marked = { section, from: bar, to: bar };
      const place = placeOf(stage.song(), section, bar, stage.player.position());
      if (place === undefined) say("The form doesn’t play this bar.");
      else stage.player.seek(place);
      stage.setMarked(marked);
    }
    showMarked();
    stage.show();
  }

  function showMarked(): void {
    for (const number of numbers) {
      const [section, bar] = barOf(number);
      const isMarked = marked?.section === section && bar >= marked.from && bar <= marked.to;
      number.closest(".bar")?.classList.toggle("marked", isMarked);
      setOnce(number, "aria-pressed", String(isMarked));
    }
  }

  byId("chart").addEventListener("click", (event) => {
    const target = event.target as Element;
    const number = target.closest(".bar")?.querySelector<HTMLElement>(".no");
    if (!number) return;
    press(number, event.shiftKey);
    if (!event.shiftKey) pressed(target);
  });
  byId("chart").addEventListener("keydown", (event) => {
    if (!(event.target as Element).matches(".no")) return;
    const places: Readonly<Record<string, number>> = {
      ArrowRight: Math.min(numbers.length - 1, current + 1),
      ArrowLeft: Math.max(0, current - 1),
      Home: 0,
      End: numbers.length - 1,
    };
    const place = places[event.key];
    if (place === undefined) return;
    makeCurrent(place)?.focus();
    event.preventDefault();
  });

  function sheetChanged(): void {
    numbers = [...document.querySelectorAll<HTMLElement>(".no")];
    makeCurrent(Math.max(0, Math.min(current, numbers.length - 1)));
    showMarked();
  }
  sheetChanged();
  return { sheetChanged };
}

/** Whoever watches a page is told of every setting of an attribute, also to what it is. */
function setOnce(it: Element | undefined, name: string, value: string): void {
  if (it !== undefined && it.getAttribute(name) !== value) it.setAttribute(name, value);
}

const barOf = (number: HTMLElement): readonly [section: number, bar: number] => {
  const [section = 0, bar = 0] = (number.dataset.bar ?? "").split(" ").map(Number);
  return [section, bar];
};
