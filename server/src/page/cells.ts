import { say } from "./elements.js";

/** What is said of a cell before its words; what isn't here says enough by itself. */
const rowWords: Readonly<Record<string, string>> = {
  lead: "Melody",
  right: "Right hand",
  left: "Left hand",
  bass: "Bass",
  words: "Words",
  cue: "Cue",
};

/**
 * What stands in a bar without a mouse: the arrows down and up go through it from the bar's number, and `gone` is told,
 * as it is of a press. Ctrl or Cmd with Enter goes there with the keyboard.
 */
export function openCells(chart: Element, gone: (cell: Element, focus?: boolean) => void): void {
  let at: Element | undefined;

  function step(number: Element, way: 1 | -1): void {
    const cells = [...(number.closest(".bar")?.querySelectorAll(".grid > span") ?? [])].filter(
      (it) => it.getClientRects().length > 0 && wordsOf(it) !== "",
    );
    const there = at === undefined ? -1 : cells.indexOf(at);
    const next = cells[there < 0 ? (way > 0 ? 0 : cells.length - 1) : there + way];
    if (next === undefined) return;
    show(next);
    gone(next);
    const [row] = Object.keys(rowWords).filter((it) => next.classList.contains(it));
    say(`${row === undefined ? "" : `${rowWords[row]}: `}${wordsOf(next)}.`);
  }

  function show(cell: Element | undefined): void {
    at?.classList.remove("at");
    at = cell;
    at?.classList.add("at");
  }

  chart.addEventListener("keydown", (event) => {
    const { key, ctrlKey, altKey, metaKey, target } = event as KeyboardEvent;
    const number = (target as Element).closest(".no");
    if (number === null || altKey) return;
    if (key === "Enter" && (ctrlKey || metaKey)) {
      const bar = number.closest(".bar");
      gone(at !== undefined && bar?.contains(at) ? at : number, true);
    } else if ((key === "ArrowDown" || key === "ArrowUp") && !ctrlKey && !metaKey) {
      step(number, key === "ArrowDown" ? 1 : -1);
    } else return;
    event.preventDefault();
  });
  chart.addEventListener("focusin", ({ target }) => {
    if (at !== undefined && !(target as Element).closest(".bar")?.contains(at)) show(undefined);
  });
}

/** `3 B♭, 5 D`, from the highest down, as it is printed. */
function wordsOf(cell: Element): string {
  if (cell.classList.contains("on")) return "held";
  const tones = [...cell.querySelectorAll(".tone")];
  if (tones.length === 0) return (cell.textContent ?? "").trim();
  return tones.map((it) => [...it.children].map(({ textContent }) => textContent).join(" ")).join(", ");
}
