import { keyboardPicture, type PictureTheme } from "../exports/keyboard-picture.js";
import type { PageContent, PageKey } from "../exports/page.js";
import type { PageView } from "../exports/page-data.js";
import { type Json, withDifferences } from "../exports/page-keys.js";
import { chordText, sectionName, sheet } from "../exports/page-sheet.js";
import type { PartName } from "../exports/performance.js";
import { drawn, patch } from "./draw.js";
import { loopOf, type Marked, placeOf } from "./loops.js";
import { momentsOf } from "./moment.js";
import { createPlayer } from "./player.js";
import { savedMidi } from "./saved-midi.js";
import { chordsAt, songOf } from "./song.js";

const byId = (id: string): HTMLElement => document.getElementById(id) as HTMLElement;
const content = JSON.parse(byId("content").textContent ?? "") as PageContent;
const { head } = content;

/** How much slower or faster one press goes, and how far; in parts of a hundred. */
const [paceStep, slowest, fastest] = [5, 25, 150];

let key = content.home;
let song = songOf(content.view);
let moments = momentsOf(song);
let pace = 100;
let marked: Marked | undefined;
/** The page follows the sound until somebody moves it. */
let follows = true;
let barShown: Element | undefined;
let drawnNow = "";

const partNames = content.view.sound.parts.map(({ name }) => name);
const player = createPlayer(song, content.piano, {
  ended() {
    say("The end.");
    show();
  },
  failed: () => say("This browser gives no sound here."),
});

/** For those who listen to the page: said once, and only what their own doing changed. */
function say(words: string): void {
  byId("said").textContent = words;
}

function viewIn(it: PageKey): PageView {
  return "view" in it
    ? it.view
    : (withDifferences(content.view as unknown as Json, it.differences) as unknown as PageView);
}

// What sounds, and where.

const isDark = matchMedia("(prefers-color-scheme: dark)");
const contrasts = [matchMedia("(forced-colors: active)"), matchMedia("(prefers-contrast: more)")];
const theme = (): PictureTheme => {
  if (contrasts[0]?.matches) return isDark.matches ? "high contrast" : "print";
  if (contrasts[1]?.matches) return isDark.matches ? "high contrast" : "print";
  return isDark.matches ? "dark" : "light";
};
for (const it of [isDark, ...contrasts]) it.addEventListener("change", () => show(true));

function sounding(): ReadonlySet<PartName> {
  const alone = document.querySelector<HTMLSelectElement>("#alone")?.value ?? "";
  return new Set(
    partNames.filter((name) =>
      alone === "" ? byId(`part-${name}`).getAttribute("aria-pressed") === "true" : name === alone,
    ),
  );
}

function show(anew = false): void {
  const position = player.position();
  const { view, timing } = song;
  const { sections, sound } = view;
  const bar = timing.barAt(position + 0.001);
  const section = sound.bars.section[bar];
  const there =
    section === undefined ? undefined : document.getElementById(`b${section}-${sound.bars.bar[bar]}`);
  if (there !== barShown) {
    barShown?.classList.remove("now");
    barShown?.removeAttribute("aria-current");
    barShown = there ?? undefined;
    there?.classList.add("now");
    there?.setAttribute("aria-current", "true");
    if (there && follows && player.isPlaying()) bringIntoView(there);
  }
  const keys = moments.keysAt(position, sounding());
  const { now, next } = chordsAt(song, position);
  const chordOf = (it: { readonly index: number } | undefined): string | undefined =>
    it &&
    chordText({
      root: sound.chords.root[it.index] as number,
      bass: sound.chords.bass[it.index] ?? null,
      quality: sound.chords.quality[it.index] as string,
    });
  const chord = chordOf(now);
  const state = JSON.stringify([keys, chord, chordOf(next), bar, theme()]);
  if (state === drawnNow && !anew) return;
  drawnNow = state;
  const picture = byId("picture");
  picture.querySelector("svg")?.remove();
  if (moments.frame.keys.length > 0)
    picture.append(drawn(keyboardPicture(keys, chord, theme(), moments.frame)));
  const caption = [chord ?? "", next === undefined ? "" : `then ${chordOf(next)}`];
  byId("caption").textContent = caption.filter((words) => words !== "").join(", ");
  byId("where").textContent =
    section === undefined
      ? "Nothing to play."
      : `${sectionName(sections[section])}, bar ${(sound.bars.bar[bar] as number) + 1}`;
}

/** Only where it can't be seen, and never further than needed. */
function bringIntoView(bar: Element): void {
  const { top, bottom } = bar.getBoundingClientRect();
  const shelf = byId("player").getBoundingClientRect().top;
  if (top < 0 || bottom > shelf) {
    const from = window.scrollY + top;
    window.scrollTo({ top: from - shelf * 0.25 });
  }
}

function showPlaying(): void {
  byId("play").textContent = player.isPlaying() ? "Pause" : "Play";
}

function frame(): void {
  show();
  showPlaying();
  if (player.isPlaying()) requestAnimationFrame(frame);
}

async function toggle(): Promise<void> {
  if (player.isPlaying()) player.pause();
  else {
    follows = true;
    await player.play();
  }
  showPlaying();
  requestAnimationFrame(frame);
}

for (const kind of ["wheel", "touchmove"]) addEventListener(kind, () => (follows = false), { passive: true });

// What can be pressed.

byId("play").addEventListener("click", () => void toggle());
byId("start").addEventListener("click", () => {
  follows = true;
  player.seek(loop()?.from ?? song.timing.starts[0] ?? 0);
  show();
});

function setPace(value: number): void {
  pace = Math.min(fastest, Math.max(slowest, value));
  player.setSpeed(pace / 100);
  const tempo = song.view.sound.bars.tempo[song.timing.barAt(player.position())];
  const beats = tempo === undefined ? "" : `, ${Math.round((tempo * pace) / 100)} a minute`;
  byId("pace").textContent = `${pace} %${beats}`;
  for (const [id, edge] of [
    ["slower", slowest],
    ["faster", fastest],
  ] as const)
    byId(id).setAttribute("aria-disabled", String(pace === edge));
}
byId("slower").addEventListener("click", () => setPace(pace - paceStep));
byId("faster").addEventListener("click", () => setPace(pace + paceStep));

const loopChoice = byId("loop") as HTMLSelectElement;
const loop = () => loopOf(song, loopChoice.value, marked, player.position());

function setLoop(isAsked: boolean): void {
  const range = loop();
  player.setLoop(range);
  if (isAsked) {
    const chosen = loopChoice.selectedOptions[0]?.textContent ?? "";
    if (range !== undefined)
      say(`Round and round: ${loopChoice.value === "marked" ? markedWords() : chosen}.`);
    else if (loopChoice.value === "marked")
      say("Mark bars first: press a bar’s number, then another one with Shift.");
    else say("No loop.");
  }
  show();
}
loopChoice.addEventListener("change", () => setLoop(true));

const markedWords = (): string => {
  if (marked === undefined) return "nothing";
  const { section, from, to } = marked;
  return `${sectionName(song.view.sections[section])}, bar ${from + 1}${from === to ? "" : ` to ${to + 1}`}`;
};

function setSounding(): void {
  player.setSounding(sounding());
  show();
}
for (const name of partNames) {
  const toggled = byId(`part-${name}`);
  toggled.addEventListener("click", () => {
    toggled.setAttribute("aria-pressed", String(toggled.getAttribute("aria-pressed") !== "true"));
    setSounding();
  });
}
document.getElementById("alone")?.addEventListener("change", setSounding);

const keyChoice = byId("key") as HTMLSelectElement;
keyChoice.addEventListener("change", () => {
  key = Number(keyChoice.value);
  const chosen = content.keys[key];
  if (chosen === undefined) return;
  song = songOf(viewIn(chosen));
  moments = momentsOf(song);
  patch(document.querySelector(".sheet") as Element, sheet(head, song.view));
  // Patching took away what only this page knows.
  showMarked();
  barShown?.classList.add("now");
  numbers[current]?.setAttribute("tabindex", "0");
  player.setSong(song);
  if (loopChoice.value !== "") player.setLoop(loop());
  say(`In ${chosen.name}.`);
  show(true);
});

byId("save").addEventListener("click", () => {
  const bytes = savedMidi(content.title, song.view);
  const link = document.createElement("a");
  const address = URL.createObjectURL(new Blob([bytes], { type: "audio/midi" }));
  link.href = address;
  link.download = midiName();
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
  say(`${link.download} saved.`);
});

/** The page's own name, with the key where it is another one. */
function midiName(): string {
  const own =
    decodeURIComponent(location.pathname.split("/").pop() ?? "").replace(/\.html?$/i, "") || "chart";
  const name = (content.keys[key]?.name ?? "").split(" ")[0] ?? "";
  const plain = name.replaceAll("♭", "b").replaceAll("♯", "-sharp");
  return `${own}${key === content.home ? "" : `-${plain}`}.mid`;
}

byId("print").addEventListener("click", () => print());

// Bars: one of them is in the order of Tab, the arrows go on from there.

const numbers = [...document.querySelectorAll<HTMLElement>(".no")];
let current = 0;

function focusBar(index: number): void {
  const next = numbers[index];
  if (next === undefined) return;
  numbers[current]?.setAttribute("tabindex", "-1");
  current = index;
  next.setAttribute("tabindex", "0");
  next.focus();
}
numbers[0]?.setAttribute("tabindex", "0");

const barOf = (number: HTMLElement): readonly [section: number, bar: number] => {
  const [section = 0, bar = 0] = (number.dataset.bar ?? "").split(" ").map(Number);
  return [section, bar];
};

function press(number: HTMLElement, further: boolean): void {
  const [section, bar] = barOf(number);
  numbers[current]?.setAttribute("tabindex", "-1");
  current = numbers.indexOf(number);
  number.setAttribute("tabindex", "0");
  if (further && marked?.section === section) {
    marked = { section, from: Math.min(marked.from, bar), to: Math.max(marked.from, bar) };
    say(`Marked: ${markedWords()}.`);
  } else {
    marked = { section, from: bar, to: bar };
    const place = placeOf(song, section, bar, player.position());
    if (place === undefined) say("The form doesn’t play this bar.");
    else player.seek(place);
  }
  showMarked();
  if (loopChoice.value === "marked") setLoop(false);
  show();
}

function showMarked(): void {
  for (const number of numbers) {
    const [section, bar] = barOf(number);
    const isMarked = marked?.section === section && bar >= marked.from && bar <= marked.to;
    number.closest(".bar")?.classList.toggle("marked", isMarked);
    number.setAttribute("aria-pressed", String(isMarked));
  }
}

byId("chart").addEventListener("click", (event) => {
  const number = (event.target as Element).closest(".bar")?.querySelector<HTMLElement>(".no");
  if (number) press(number, event.shiftKey);
});
byId("chart").addEventListener("keydown", (event) => {
  const steps: Readonly<Record<string, number>> = { ArrowRight: 1, ArrowLeft: -1 };
  const step = steps[event.key];
  if (!(event.target as Element).matches(".no")) return;
  if (step !== undefined) focusBar(Math.min(numbers.length - 1, Math.max(0, current + step)));
  else if (event.key === "Home") focusBar(0);
  else if (event.key === "End") focusBar(numbers.length - 1);
  else return;
  event.preventDefault();
});

/** Space plays and stops, unless it presses what has the focus. A bar's number is pressed by Enter. */
const isOurs = (event: KeyboardEvent): boolean =>
  event.key === " " &&
  !event.ctrlKey &&
  !event.altKey &&
  !event.metaKey &&
  !(event.target as Element).matches("button:not(.no), select, input, a");
addEventListener("keydown", (event) => {
  if (!isOurs(event)) return;
  event.preventDefault();
  if (!event.repeat) void toggle();
});
addEventListener("keyup", (event) => {
  if (isOurs(event)) event.preventDefault();
});

setPace(pace);
show();
showPlaying();
