import type { PageView } from "../exports/page-data.js";
import type { ChordTexts, StaffPicture } from "../exports/staff-pictures.js";
import { type ChordLine, chordLine, type Engraved, engraved } from "./engraved.js";
import { type Engraver, loadEngraver } from "./engraver.js";
import { holdPlace } from "./hold-place.js";
import { letterScale } from "./letter-scale.js";
import type { Look } from "./messages.js";

/** A chart's hands and melody as a staff: pictures behind the bars of its sheet, which stay what they are. */
export interface Staff {
  /** Engraves what isn't engraved so, and leaves the rest; `undefined` takes the staff away. */
  readonly show: (view: PageView, pictures: LivePictures | undefined) => void;
  /** The chords are shown otherwise, or all in another size. */
  readonly lookChanged: () => void;
  /** Bars were drawn again: they lie over their places in the pictures. */
  readonly place: () => void;
}

export type LivePictures = readonly (readonly StaffPicture[])[];

export interface StaffOptions {
  /** The sheet that it belongs to. */
  readonly sheet: Element;
  /** Where the engraver is loaded from. */
  readonly address: string;
  readonly look: () => Look;
  /** Draws a bar of the sheet if it wasn't yet. */
  readonly drawBar: (section: number, bar: number) => void;
  /** The places of bars have changed. */
  readonly placed: () => void;
}

/** A picture as it is to be, and as it is. */
interface Shown extends StaffPicture {
  readonly section: number;
  /** Its systems on the sheet, as indices among those of their section. */
  readonly systems: readonly [first: number, end: number];
  readonly host: HTMLElement;
  /** What it was engraved from; "" where it wasn't yet. */
  of: string;
  engraved: readonly Engraved[];
}

/** Of the engraver's units in a pixel at the usual size: a staff is 29 pixels high (chosen here, no source). */
const usualScale = 0.4;

/** How long the page's width must have stayed before all is engraved for it, in milliseconds. */
const rest = 200;

export function openStaff({ sheet, address, look, drawBar, placed }: StaffOptions): Staff {
  let shown: readonly Shown[] = [];
  let engraver: Engraver | undefined;
  let failed = false;
  let isOn = false;
  let waiting = 0;
  let width = 0;
  const letters = letterScale();
  const place = holdPlace(sheet);

  const status = document.createElement("p");
  status.id = "engraving";
  status.setAttribute("role", "status");

  /** What decides how a score looks beside itself. */
  const setting = (): string => `${look().chords} ${width} ${scaleNow()}`;
  const nameOf = ({ xml }: StaffPicture): string => `${setting()} ${xml}`;
  const isStale = (it: Shown): boolean => it.of !== nameOf(it);

  function later(): void {
    const stale = isOn && shown.some(isStale);
    if (stale && !failed) sheet.setAttribute("aria-busy", "true");
    else if (sheet.hasAttribute("aria-busy")) sheet.removeAttribute("aria-busy");
    if (waiting !== 0 || !stale || failed || isHidden()) return;
    if (engraver === undefined) {
      load();
      return;
    }
    // Not every browser knows when it is idle.
    if (!("requestIdleCallback" in window)) waiting = setTimeout(engraveNext, 20);
    else {
      const isNear = shown.some((it) => isStale(it) && distance(it) < innerHeight);
      waiting = requestIdleCallback(engraveNext, isNear ? { timeout: patience } : {});
    }
  }

  /** Behind another tab of the editor nothing has a size. */
  const isHidden = (): boolean => sheet.clientWidth === 0;

  function load(): void {
    if (status.isConnected) return;
    status.textContent = "Getting ready to draw the staff…";
    sheet.before(status);
    loadEngraver(address).then(
      (it) => {
        engraver = it;
        status.remove();
        later();
      },
      (error: unknown) => {
        failed = true;
        const why = error instanceof Error ? error.message : String(error);
        status.textContent = `The staff can’t be drawn here, so the hands stay as names and numbers. What draws it can’t be loaded: ${why}.`;
        later();
      },
    );
  }

  /** One picture at a time, the one that is nearest to what is looked at first. */
  function engraveNext(): void {
    waiting = 0;
    const stale = shown.filter(isStale);
    const [nearest] = stale.sort((a, b) => distance(a) - distance(b));
    if (engraver === undefined || nearest === undefined || !isOn || isHidden()) return;
    engrave(engraver, nearest);
    later();
  }

  function distance(it: Shown): number {
    const parts = it.engraved.length > 0 ? [it.host] : systemsOf(it);
    const [first, last] = [parts[0], parts.at(-1)];
    if (first === undefined || last === undefined) return 0;
    const { top } = first.getBoundingClientRect();
    const { bottom } = last.getBoundingClientRect();
    return Math.max(0, top - innerHeight, -bottom);
  }

  function engrave(engraver: Engraver, it: Shown): void {
    const { chords } = look();
    const name = nameOf(it);
    let pictures: readonly Engraved[];
    try {
      const above = barNumbers + (chords === "both" ? chordLine / 10 : 0);
      const pages = engraver.engrave(it.xml, width / scaleNow(), above);
      const left = [...it.chords];
      pictures = pages.map((page) =>
        engraved(
          page,
          letters,
          left.splice(0, chordsIn(page)).map((texts) => chordLines(texts, chords)),
        ),
      );
    } catch (error) {
      console.error(error);
      pictures = [];
    }
    it.of = name;
    it.engraved = pictures;
    it.host.replaceChildren(...pictures.map(({ svg }) => svg));
    for (const system of drawnSystems(it)) drawBar(it.section, system);
    stand(it);
    place.settle();
    placed();
  }

  const sectionOf = ({ section }: Shown): Element | undefined => sheet.children[section + 1];

  function systemsOf(it: Shown): readonly HTMLElement[] {
    const all = sectionOf(it)?.querySelectorAll<HTMLElement>(":scope > .system") ?? [];
    return [...all].slice(...it.systems);
  }

  /** The last bar of each system. */
  let lastBars: readonly (readonly number[])[] = [];
  const drawnSystems = ({ section, systems: [first, end] }: Shown): readonly number[] =>
    (lastBars[section] ?? []).slice(first, end);

  /** Puts the picture before its systems, and their bars over it. */
  function stand(it: Shown): void {
    const systems = systemsOf(it);
    const isThere = isOn && it.engraved.length > 0;
    if (!isThere) it.host.remove();
    else if (systems[0] !== undefined && systems[0].previousElementSibling !== it.host)
      systems[0].before(it.host);
    for (const system of systems) system.classList.toggle("engraved", isThere);
    if (isThere) lay(it, systems);
    else for (const bar of barsIn(systems)) bar.removeAttribute("style");
  }

  function lay(it: Shown, systems: readonly HTMLElement[]): void {
    const places = new Map<string, Place>();
    // Its systems follow it and have no height: whatever changes above, bars and picture go together.
    let top = it.host.offsetTop - (systems[0]?.offsetTop ?? 0);
    for (const picture of it.engraved) {
      const scale = it.host.clientWidth / picture.width;
      for (const line of picture.lines) {
        const { y, height } = extentOf(line.element);
        const above = barNumbers * 10;
        for (const { id, left, right } of line.bars)
          places.set(`b${it.section}-${id.slice(1)}`, {
            left: left * scale,
            top: top + (picture.margin.y + y - above) * scale,
            width: (right - left) * scale,
            height: (height + above + below) * scale,
          });
      }
      top += picture.height * scale;
    }
    for (const bar of barsIn(systems)) {
      const { left, top, width, height } = places.get(bar.id) ?? nowhere;
      const { style } = bar;
      style.left = `${left.toFixed(1)}px`;
      style.top = `${top.toFixed(1)}px`;
      style.width = `${width.toFixed(1)}px`;
      style.height = `${height.toFixed(1)}px`;
    }
  }

  /** The width of the sheet for which bars were laid over their pictures. */
  let placedFor = 0;
  function placeBars(): void {
    if (isHidden()) return;
    placedFor = sheet.clientWidth;
    for (const it of shown) stand(it);
    place.settle();
  }

  let resting: ReturnType<typeof setTimeout> | undefined;
  new ResizeObserver(() => {
    // Nothing is engraved out of sight: when it comes back, all is looked at anew.
    if (isHidden()) placedFor = 0;
    if (!isOn || isHidden() || sheet.clientWidth === placedFor) return;
    placeBars();
    clearTimeout(resting);
    resting = setTimeout(newWidth, rest);
  }).observe(sheet);

  function newWidth(): void {
    if (isHidden()) return;
    width = sheet.clientWidth;
    later();
  }

  return {
    show(view, pictures) {
      const before = shown;
      isOn = pictures !== undefined;
      place.hold(isOn);
      if (pictures === undefined) {
        for (const it of before) {
          it.engraved = [];
          stand(it);
        }
        shown = [];
        status.remove();
        later();
        return;
      }
      if (before.length === 0) width = sheet.clientWidth;
      placedFor = 0;
      lastBars = view.sections.map(({ systems }) => systems.map(({ bars }) => bars.at(-1)?.bar ?? 0));
      const wanted = pictures.flatMap((all, section) => all.map((it) => ({ ...it, section })));
      // What looks alike stays, wherever it stands now; what else is new takes the place of what was there.
      const left = new Set(before);
      const take = (isIt: (it: Shown) => boolean): Shown | undefined => {
        const found = [...left].find(isIt);
        if (found !== undefined) left.delete(found);
        return found;
      };
      const same = wanted.map((it) => take(({ xml }) => xml === it.xml));
      shown = wanted.map((it, i): Shown => {
        const { section } = it;
        const old = same[i] ?? take((other) => other.section === section && other.first === it.first);
        const ends = lastBars[section] ?? [];
        const first = ends.findIndex((bar) => bar >= it.first);
        const end = ends.findLastIndex((bar) => bar <= it.last) + 1;
        return {
          ...it,
          systems: [first, end],
          host: old?.host ?? newHost(),
          of: old?.of ?? "",
          engraved: old?.engraved ?? [],
        };
      });
      for (const { host } of left) host.remove();
      placeBars();
      later();
    },
    lookChanged() {
      if (isOn) later();
    },
    place: placeBars,
  };
}

/** In the engraver's units: the room for bar numbers above a line. */
const barNumbers = 48;

/** In a picture's units: what belongs to a bar below its line. */
const below = 60;

/** How many places for a chord a picture has. */
const chordsIn = (page: string): number => page.split('class="harm"').length - 1;

/** Milliseconds after which a picture is engraved although there was no time for it. */
const patience = 100;

interface Place {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}
const nowhere: Place = { left: 0, top: 0, width: 0, height: 0 };

const barsIn = (systems: readonly HTMLElement[]): readonly HTMLElement[] =>
  systems.flatMap((it) => [...it.querySelectorAll<HTMLElement>(".bar")]);

function newHost(): HTMLElement {
  const it = document.createElement("div");
  it.className = "staff";
  it.setAttribute("aria-hidden", "true");
  return it;
}

const scaleNow = (): number =>
  usualScale * (Number(document.documentElement.style.getPropertyValue("--size")) || 1);

/** Known extents of lines: to ask for one takes a layout. */
const extents = new WeakMap<SVGGElement, DOMRect>();

function extentOf(line: SVGGElement): DOMRect {
  const before = extents.get(line);
  if (before !== undefined) return before;
  const box = line.getBBox();
  extents.set(line, box);
  return box;
}

/** What stands over the staff at a chord, from above. */
function chordLines({ letters, numbers }: ChordTexts, chords: Look["chords"]): readonly ChordLine[] {
  if (chords === "letters") return [{ text: letters, kind: "chord" }];
  if (chords === "numbers") return [{ text: numbers, kind: "chord" }];
  // What is the same in both is said once.
  return [
    { text: letters, kind: "chord" },
    { text: numbers === letters ? "" : numbers, kind: "number" },
  ];
}
