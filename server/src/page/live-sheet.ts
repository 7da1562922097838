import { element, type Markup } from "../exports/markup.js";
import type { PageView, SectionView, SystemView } from "../exports/page-data.js";
import { type PageHead, sectionHead, sheetHead, systemPart } from "../exports/page-sheet.js";
import { made, patch } from "./draw.js";
import type { SystemPictures } from "./hand-pictures.js";

/** The sheet of a page whose chart changes while it is looked at. */
export interface LiveSheet {
  readonly element: Element;
  /** Draws what is not drawn so; the rest stays as it is. Says whether any system was drawn. */
  readonly show: (head: PageHead, view: PageView, pictures?: PicturesOf) => boolean;
  /** A bar as an element, drawn if it wasn't yet; `undefined` where there is none. */
  readonly bar: (section: number, bar: number, pickup?: boolean) => Element | undefined;
}

/** The pictures of a system's hands, by its section and its place there. */
type PicturesOf = (section: number, system: number) => SystemPictures;

/** A system on the page: as it is drawn, or as it will be once it comes near. */
interface Shown {
  readonly element: HTMLElement;
  /** All that it shows, as text: equal texts look alike. */
  content: string;
  waiting: (() => Markup) | undefined;
  bars: readonly [section: number, first: number, last: number];
}

/** Milliseconds that drawing what nobody sees yet may take at a time. */
const slice = 8;

/** `drawnAnew` is called when systems were drawn later than asked. */
export function openLiveSheet(drawnAnew: () => void): LiveSheet {
  const article = made(element("article", { class: "sheet", "aria-labelledby": "title" }));
  let systems: readonly (readonly Shown[])[] = [];
  const byElement = new Map<Element, Shown>();
  const waiting = new Set<Shown>();
  const near = new IntersectionObserver(
    (entries) => {
      const came = entries.flatMap(({ isIntersecting, target }) => {
        const it = isIntersecting ? byElement.get(target) : undefined;
        return it?.waiting === undefined ? [] : [it];
      });
      for (const it of came) draw(it);
      if (came.length > 0) drawnAnew();
    },
    { rootMargin: "100% 0px" },
  );
  let idle = 0;

  function draw(it: Shown): void {
    if (it.waiting === undefined) return;
    patch(it.element, it.waiting());
    it.waiting = undefined;
    waiting.delete(it);
  }

  function drawRest(deadline: { timeRemaining(): number }): void {
    idle = 0;
    const until = Math.min(slice, deadline.timeRemaining());
    const start = performance.now();
    for (const it of waiting) {
      draw(it);
      if (performance.now() - start > until) break;
    }
    drawnAnew();
    if (waiting.size > 0) later();
  }

  function later(): void {
    if (idle !== 0) return;
    // Not every browser knows when it is idle.
    idle =
      "requestIdleCallback" in window
        ? requestIdleCallback(drawRest)
        : setTimeout(() => drawRest({ timeRemaining: () => slice }), 50);
  }

  function added(): Shown {
    const it: Shown = {
      element: made(element("div", { class: "system" })) as HTMLElement,
      content: "",
      waiting: undefined,
      bars: [0, 0, -1],
    };
    byElement.set(it.element, it);
    near.observe(it.element);
    return it;
  }

  function removed(it: Shown): void {
    near.unobserve(it.element);
    byElement.delete(it.element);
    waiting.delete(it);
    it.element.remove();
  }

  /** Whether it is on the screen or nearly. */
  function isNear({ element: it }: Shown): boolean {
    const { top, bottom } = it.getBoundingClientRect();
    return bottom > -innerHeight && top < 2 * innerHeight;
  }

  function showSection(
    part: Element,
    view: PageView,
    section: SectionView,
    index: number,
    before: readonly Shown[],
    pictures: PicturesOf | undefined,
  ): { readonly shown: readonly Shown[]; readonly fresh: readonly Shown[] } {
    const head = sectionHead(view, section, index);
    head.forEach((wanted, i) => {
      const there = part.children[i];
      if (there?.localName === wanted.tag) patch(there, wanted);
      else part.insertBefore(made(wanted), there ?? null);
    });
    const contents = section.systems.map((system, s) =>
      contentOf(view, section, index, system, pictures?.(index, s)),
    );
    // What is alike from both ends stays; what lies between is drawn into the elements that are there.
    let start = 0;
    while (start < before.length && before[start]?.content === contents[start]) start++;
    let end = 0;
    while (
      end < before.length - start &&
      end < contents.length - start &&
      before[before.length - 1 - end]?.content === contents[contents.length - 1 - end]
    )
      end++;
    const middle = before.slice(start, before.length - end);
    const count = contents.length - start - end;
    for (const it of middle.slice(count)) removed(it);
    const after = before[before.length - end]?.element ?? null;
    const fresh: Shown[] = [];
    for (let i = 0; i < count; i++) {
      let it = middle[i];
      if (it === undefined) {
        it = added();
        part.insertBefore(it.element, after);
      }
      const system = section.systems[start + i] as SystemView;
      it.content = contents[start + i] as string;
      const drawHands = pictures?.(index, start + i).draw;
      it.waiting = () => systemPart(view, section, index, system, drawHands?.());
      waiting.add(it);
      fresh.push(it);
    }
    const shown = [...before.slice(0, start), ...fresh, ...before.slice(before.length - end)];
    shown.forEach((it, i) => {
      const bars = section.systems[i]?.bars ?? [];
      it.bars = [index, bars[0]?.bar ?? 0, bars.at(-1)?.bar ?? -1];
    });
    return { shown, fresh };
  }

  return {
    element: article,
    show(head, view, pictures) {
      const top = sheetHead(head, view);
      const first = article.firstElementChild;
      if (first === null) article.append(made(top));
      else patch(first, top);
      for (let i = view.sections.length; i < systems.length; i++) {
        for (const it of systems[i] ?? []) removed(it);
        article.lastElementChild?.remove();
      }
      const fresh: Shown[] = [];
      systems = view.sections.map((section, i) => {
        const there = article.children[i + 1] ?? made(element("section", { "aria-labelledby": `s${i}` }));
        if (there.parentNode === null) article.append(there);
        const part = showSection(there, view, section, i, systems[i] ?? [], pictures);
        fresh.push(...part.fresh);
        return part.shown;
      });
      for (const it of fresh.filter(isNear)) draw(it);
      if (waiting.size > 0) later();
      return fresh.length > 0;
    },
    bar(section, bar, pickup = false) {
      const there = systems[section]?.find(({ bars: [, from, to] }) => bar >= from && bar <= to);
      if (there !== undefined) draw(there);
      return document.getElementById(`b${section}-${bar}${pickup ? "p" : ""}`) ?? undefined;
    },
  };
}

/** All that a system shows: slots stand in it as they are, since their places in the list change with any other one. */
function contentOf(
  view: PageView,
  { name }: SectionView,
  index: number,
  { rows, bars }: SystemView,
  pictures: SystemPictures | undefined,
): string {
  const shown = bars.map((bar) => ({
    ...bar,
    cells: bar.cells.map((row) =>
      row.map((cell) => ("slot" in cell ? { ...cell, slot: view.slots[cell.slot] } : cell)),
    ),
  }));
  return JSON.stringify([index, name, rows, shown, pictures?.content]);
}
