/** Keys that turn the page, as pedals send them too: forward and back. */
const turns: Readonly<Record<string, 1 | -1>> = {
  PageDown: 1,
  ArrowRight: 1,
  ArrowDown: 1,
  PageUp: -1,
  ArrowLeft: -1,
  ArrowUp: -1,
};

/** Of the height: what is seen before and after a turn where one line is taller than the screen. */
const overlap = 0.12;

/** Turns the chart by screens while it is on the stand: no line of bars is cut, and none is passed over. */
export function openStand(isOn: () => boolean, leave: () => void): void {
  addEventListener("keydown", (event) => {
    if (!isOn() || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
    if (event.key === "Escape") {
      leave();
      event.preventDefault();
      return;
    }
    const way = turns[event.key];
    if (way === undefined || (event.target as Element).matches("select, input")) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    turn(way);
  });
}

export function turn(way: 1 | -1): void {
  const height = innerHeight;
  const boxes = [
    ...document.querySelectorAll(".sheet header, .sheet h2, .system:not(.engraved), .staff .line"),
  ].map((it) => it.getBoundingClientRect());
  const step = height * (1 - overlap);
  if (way > 0) {
    // The first line that isn't seen whole comes to the top; its section's name comes with it.
    const next = boxes.find(({ top, bottom }) => bottom > height + 1 && top > 1);
    scrollBy({
      top: next === undefined ? step : Math.min(Math.max(next.top, 1), height),
      behavior: "instant",
    });
    return;
  }
  // As many whole lines as there is room for above the one at the top.
  const room = boxes.find(({ top, bottom }) => top >= -height - 1 && bottom <= height && top < -1);
  scrollBy({ top: room === undefined ? -step : room.top, behavior: "instant" });
}
