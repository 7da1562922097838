import { keyboardPicture, type PictureTheme } from "../exports/keyboard-picture.js";
import { chordText, sectionName } from "../exports/page-sheet.js";
import type { PartName } from "../exports/performance.js";
import { drawn } from "./draw.js";
import { byId, say } from "./elements.js";
import { bringIntoView } from "./into-view.js";
import type { Range } from "./laps.js";
import { loopOf, type Marked } from "./loops.js";
import { momentsOf } from "./moment.js";
import type { Recordings } from "./piano.js";
import { createPlayer, type Player } from "./player.js";
import { chordsAt, type Song } from "./song.js";

/** The player of a page with its controls and the keyboard that shows what sounds. */
export interface Stage {
  readonly player: Player;
  readonly song: () => Song;
  /** Another song in its place: the same one in another key goes on where it is. */
  readonly setSong: (song: Song) => void;
  /** The bars that a loop of the marked bars goes round in. */
  readonly setMarked: (marked: Marked | undefined) => void;
  readonly markedWords: () => string;
  /** Shows what sounds now; `anew` even where it is shown already. */
  readonly show: (anew?: boolean) => void;
  /** The bars of the sheet are other elements now. */
  readonly sheetChanged: () => void;
  readonly toggle: () => Promise<void>;
  /** Plays from a place on, to the end or to another place. */
  readonly playFrom: (place: number, until?: number) => Promise<void>;
  /** Goes round in what a choice of loop names. */
  readonly chooseLoop: (choice: string) => void;
  /** How fast it goes, in parts of a hundred of what is written. */
  readonly setPace: (pace: number) => void;
  /** Beats a minute of the bar that is played, as written; `undefined` where nothing is played. */
  readonly tempo: () => number | undefined;
}

export interface StageOptions {
  readonly piano: Recordings | Readonly<Record<string, string>>;
  readonly theme: () => PictureTheme;
  /** What is selected elsewhere, for the loop `selected`; `undefined` where nothing is that the form plays. */
  readonly selected?: () => Range | undefined;
  /** Another bar is the one that sounds, or that would be played next. */
  readonly barChanged?: (section: number, bar: number, isPlaying: boolean) => void;
}

/** How much slower or faster one press goes, and how far presses go; in parts of a hundred. */
const [paceStep, slowest, fastest] = [5, 25, 150];
/** How far a tempo that is typed or tapped goes. */
const [least, most] = [10, 400];

export function openStage(
  first: Song,
  { piano, theme, barChanged = () => undefined, selected = () => undefined }: StageOptions,
): Stage {
  let song = first;
  let moments = momentsOf(song);
  let pace = 100;
  let marked: Marked | undefined;
  /** The page follows the sound until somebody moves it. */
  let follows = true;
  let barShown: Element | undefined;
  let barTold = "";
  let drawnNow = "";

  const player = createPlayer(song, piano, {
    ended() {
      say("The end.");
      show();
    },
    failed: () => tell("This browser gives no sound here."),
    locked: () => tell("Press Space or the Play button to start the sound."),
    waits: () => tell("No sound comes yet. Is a loudspeaker or a headphone there?"),
    gone: () => tell("The bar that played is gone from the chart."),
  });

  /** Said to those who listen and to those who look. */
  function tell(words: string): void {
    say(words);
    byId("where").textContent = words;
    showPlaying();
  }

  function sounding(): ReadonlySet<PartName> {
    const alone = document.querySelector<HTMLSelectElement>("#alone")?.value ?? "";
    const isOn = (name: PartName): boolean =>
      document.getElementById(`part-${name}`)?.getAttribute("aria-pressed") !== "false";
    return new Set(
      song.view.sound.parts
        .map(({ name }) => name)
        .filter((name) => (alone === "" ? isOn(name) : name === alone)),
    );
  }

  function show(anew = false): void {
    const position = player.position();
    const { view, timing } = song;
    const { sections, sound } = view;
    const index = timing.barAt(position + 0.001);
    const [section, bar] = [sound.bars.section[index], sound.bars.bar[index]];
    const there = section === undefined ? null : document.getElementById(`b${section}-${bar}`);
    if (there !== (barShown ?? null)) {
      barShown?.classList.remove("now");
      barShown?.removeAttribute("aria-current");
      barShown = there ?? undefined;
      there?.classList.add("now");
      there?.setAttribute("aria-current", "true");
      if (there && follows && player.isPlaying()) bringIntoView(there);
    }
    const told = `${section} ${bar} ${player.isPlaying()}`;
    if (told !== barTold && section !== undefined && bar !== undefined)
      barChanged(section, bar, player.isPlaying());
    barTold = told;
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
    const state = JSON.stringify([keys, chord, chordOf(next), index, theme()]);
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
        : `${sectionName(sections[section])}, bar ${(bar as number) + 1}`;
  }

  function showPlaying(): void {
    byId("play").textContent = player.isPlaying() ? "Pause" : "Play";
    document.documentElement.dataset.playing = String(player.isPlaying());
  }

  function frame(): void {
    show();
    showPlaying();
    if (player.isPlaying()) requestAnimationFrame(frame);
  }

  async function start(until?: number): Promise<void> {
    follows = true;
    const playing = player.play(until);
    // The press is answered at once, though sound may take a moment to open.
    showPlaying();
    await playing;
    requestAnimationFrame(frame);
  }

  async function toggle(): Promise<void> {
    if (!player.isPlaying()) return start();
    player.pause();
    showPlaying();
    show();
  }

  async function playFrom(place: number, until?: number): Promise<void> {
    if (player.isPlaying()) player.pause();
    player.seek(place);
    await start(until);
  }

  /** The chord and the singer's first tone of the loop, or else of the section that comes. */
  async function giveTone(): Promise<void> {
    const position = player.position();
    const section = song.view.sound.bars.section[song.timing.barAt(position + 0.001)];
    const stretch = loop() ?? loopOf(song, String(section ?? ""), undefined, position);
    const words = stretch && (await player.giveTone(stretch));
    tell(words === undefined ? "There is no tone to give here." : `First tone: ${words}`);
  }

  for (const kind of ["wheel", "touchmove"])
    addEventListener(
      kind,
      () => {
        follows = false;
      },
      { passive: true },
    );

  const loopValue = (): string => (byId("loop") as HTMLSelectElement).value;
  const loop = (): Range | undefined =>
    loopValue() === "selected" ? selected() : loopOf(song, loopValue(), marked, player.position());

  const markedWords = (): string => {
    if (marked === undefined) return "nothing";
    const { section, from, to } = marked;
    return `${sectionName(song.view.sections[section])}, bar ${from + 1}${from === to ? "" : ` to ${to + 1}`}`;
  };

  function setLoop(isAsked: boolean): void {
    const range = loop();
    player.setLoop(range);
    if (isAsked) {
      const chosen = (byId("loop") as HTMLSelectElement).selectedOptions[0]?.textContent ?? "";
      if (range !== undefined) say(`Round and round: ${loopValue() === "marked" ? markedWords() : chosen}.`);
      else if (loopValue() === "marked")
        say("Mark bars first: press a bar’s number, then another one with Shift.");
      else if (loopValue() === "selected") say("Select bars in the text first.");
      else say("No loop.");
    }
    show();
  }

  function setPace(value: number): void {
    pace = Math.min(most, Math.max(least, value));
    player.setSpeed(pace / 100);
    showPace();
    byId("slower").setAttribute("aria-disabled", String(pace <= slowest));
    byId("faster").setAttribute("aria-disabled", String(pace >= fastest));
  }

  const tempo = (): number | undefined => song.view.sound.bars.tempo[song.timing.barAt(player.position())];

  function showPace(): void {
    const now = tempo();
    const beats = now === undefined ? "" : `, ${Math.round((now * pace) / 100)} a minute`;
    byId("pace").textContent = `${Math.round(pace)} %${beats}`;
  }

  function setSounding(): void {
    player.setSounding(sounding());
    show();
  }

  byId("play").addEventListener("click", () => void toggle());
  byId("start").addEventListener("click", () => {
    follows = true;
    player.seek(loop()?.from ?? song.timing.starts[0] ?? 0);
    show();
  });
  byId("slower").addEventListener("click", () => setPace(Math.max(slowest, Math.round(pace) - paceStep)));
  byId("faster").addEventListener("click", () => setPace(Math.min(fastest, Math.round(pace) + paceStep)));
  byId("tone").addEventListener("click", () => void giveTone());
  // On the document, since what can be chosen comes and goes with the song.
  document.addEventListener("change", ({ target }) => {
    const { id } = target as Element;
    if (id === "loop") setLoop(true);
    if (id === "alone") setSounding();
  });
  document.addEventListener("click", ({ target }) => {
    const pressed = (target as Element).closest("#parts button, #count-in, #click");
    if (pressed === null) return;
    const isOn = pressed.getAttribute("aria-pressed") !== "true";
    pressed.setAttribute("aria-pressed", String(isOn));
    if (pressed.id === "count-in") player.setCountIn(isOn);
    else if (pressed.id === "click") player.setMetronome(isOn);
    else setSounding();
  });

  /** Space plays and stops, unless it presses what has the focus. A bar's number is pressed by Enter. */
  const isOurs = (event: KeyboardEvent): boolean =>
    event.key === " " &&
    !event.ctrlKey &&
    !event.altKey &&
    !event.metaKey &&
    !(event.target as Element).matches("button:not(.no), select, input, summary, a");
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
  return {
    player,
    song: () => song,
    setSong(value) {
      song = value;
      moments = momentsOf(song);
      player.setSong(song);
      player.setSounding(sounding());
      if (loopValue() !== "") player.setLoop(loop());
      showPace();
      show(true);
    },
    setMarked(value) {
      marked = value;
      if (loopValue() === "marked") setLoop(false);
    },
    markedWords,
    show,
    toggle,
    playFrom,
    chooseLoop(choice) {
      (byId("loop") as HTMLSelectElement).value = choice;
      setLoop(true);
    },
    setPace,
    tempo,
    sheetChanged() {
      barShown?.classList.remove("now");
      barShown?.removeAttribute("aria-current");
      barShown = undefined;
      show();
    },
  };
}
