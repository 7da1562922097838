import { byId } from "./elements.js";

/** How far, in heights of the screen, a scroll may go smoothly; further it jumps (chosen here, no source). */
const smoothly = 1.5;
/** For how many frames it is looked whether a bar stayed in sight: what is drawn then is higher or lower than was thought. */
const frames = 12;

let later = new AbortController();

/** Whatever was about to be brought into view is not: the reader goes somewhere else. */
const stop = (): void => later.abort();
for (const kind of ["wheel", "touchmove", "keydown", "pointerdown"])
  addEventListener(kind, stop, { passive: true, capture: true });

/** Whether a scroll of ours is on its way. */
let isMoving = false;
addEventListener("scrollend", () => {
  isMoving = false;
});

/** Scrolls where a bar can't be seen, and never further than needed. */
export function bringIntoView(bar: Element): void {
  stop();
  later = new AbortController();
  const { signal } = later;
  const way = wayTo(bar);
  if (way === 0 && !isMoving) return;
  const isSmooth = way !== 0 && movesSmoothly() && Math.abs(way) < smoothly * innerHeight;
  // What is seen on the way to another bar is stopped at.
  scrollBy({ top: way, behavior: isSmooth ? "smooth" : "instant" });
  isMoving = isSmooth;
  let left = frames;
  const look = (): void => {
    if (signal.aborted || !bar.isConnected || left-- === 0) return;
    const rest = wayTo(bar);
    if (rest !== 0) scrollBy({ top: rest, behavior: "instant" });
    requestAnimationFrame(look);
  };
  if (isSmooth) addEventListener("scrollend", look, { once: true, signal });
  else requestAnimationFrame(look);
}

/** How far a bar is from where it is well seen, in pixels; 0 where it is seen whole already. */
function wayTo(bar: Element): number {
  const { top, bottom, height } = bar.getBoundingClientRect();
  // On the stand the player is no shelf in front of the sheet but the end of the page.
  const room = Math.min(innerHeight, byId("player").getBoundingClientRect().top);
  if (top >= 0 && bottom <= room) return 0;
  // With what comes next below it, if there is room; a bar that is higher than the screen starts at its top.
  return top - Math.max(0, Math.min(room * 0.25, room - height));
}

/** The style sheet knows what the system says, and on a page beside a text also what the editor says. */
const movesSmoothly = (): boolean => getComputedStyle(document.documentElement).scrollBehavior === "smooth";
