/** Holds what is looked at in its place while what stands above it gets another height. */
export interface PlaceHold {
  /** Holds from now on, or leaves it to the browser, which holds only where nothing around the place changes itself. */
  readonly hold: (wanted: boolean) => void;
  /** The sheet has changed: what is looked at comes back to where it was. */
  readonly settle: () => void;
}

/** A bar, and how far below the top of the screen it is to stay. */
interface Held {
  readonly bar: Element;
  readonly top: number;
  /** Where the page was scrolled to: if that is another place now, somebody has gone there. */
  readonly scrolled: number;
}

/** Pixels from one place where a bar is looked for to the next: less than any bar is high. */
const step = 20;

export function holdPlace(sheet: Element): PlaceHold {
  let holds = false;
  let held: Held | undefined;

  /** What is looked at from now on. `off`: how far it is from where it is to be, since screens have whole pixels. */
  function look(off = 0): void {
    const bar = scrollY < 1 ? undefined : firstSeen(sheet);
    held = bar && { bar, top: topOf(bar) - off, scrolled: scrollY };
  }

  function settle(): void {
    if (!holds || sheet.clientWidth === 0) return;
    if (held === undefined || !held.bar.isConnected || held.scrolled !== scrollY) {
      look();
      return;
    }
    const moved = topOf(held.bar) - held.top;
    if (Math.abs(moved) >= 0.5) scrollBy({ top: moved, behavior: "instant" });
    look(topOf(held.bar) - held.top);
  }

  const scrolled = (): void => {
    if (holds && sheet.clientWidth > 0 && held?.scrolled !== scrollY) look();
  };
  addEventListener("scroll", scrolled, { passive: true });
  // Bars that come near get their own heights, and that in the midst of a frame, before it is seen. What stands above
  // the sheet counts too.
  new ResizeObserver(settle).observe(document.body);

  return {
    hold(wanted) {
      if (holds === wanted) return;
      holds = wanted;
      held = undefined;
      // Two that hold it would push it twice.
      document.documentElement.style.overflowAnchor = wanted ? "none" : "";
    },
    settle,
  };
}

const topOf = (it: Element): number => it.getBoundingClientRect().top;

/** The first bar of the first line that is seen whole; else of the first that is seen at all. */
function firstSeen(sheet: Element): Element | undefined {
  const { left, width } = sheet.getBoundingClientRect();
  let found: Element | undefined;
  for (let y = 1; y < innerHeight; y += step) {
    const bar = document.elementFromPoint(left + width / 4, y)?.closest(".bar");
    if (bar === null || bar === undefined) continue;
    const isWhole = topOf(bar) >= 0;
    if (isWhole || found === undefined) found = bar;
    if (isWhole) break;
  }
  return found && firstInLine(found, sheet);
}

/** Where a line is broken otherwise, the bar that began it is the one that a reader finds again. */
function firstInLine(bar: Element, sheet: Element): Element {
  const bars = [...sheet.querySelectorAll(".bar")];
  const top = topOf(bar);
  let at = bars.indexOf(bar);
  while (at > 0 && Math.abs(topOf(bars[at - 1] as Element) - top) < 1) at--;
  return bars[at] ?? bar;
}
