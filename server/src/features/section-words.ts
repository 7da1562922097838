import { meterText } from "../chart/beat-name.js";
import { landingRoot } from "../chart/harmony.js";
import type { LocatedAs } from "../chart/located.js";
import type { Chart, ChordEvent, Moved, PlacedSection, Section } from "../chart/model.js";
import { waysPlayed } from "../chart/played.js";
import { timesWords } from "../chart/times-words.js";
import type { RowName } from "../syntax/tree.js";
import { andList } from "../text/and-list.js";
import { count } from "../text/count.js";
import { type Key, keyName, prettyKey } from "../theory/key.js";
import { prettyName } from "../theory/note-name.js";
import { prettyNumber } from "../theory/tone-number.js";
import { chordLabel } from "./chord-words.js";
import { clipped } from "./clipped.js";
import { type HoverText, linesOf, saying } from "./hover-text.js";
import { rangeWords, stepsWords } from "./key-words.js";
import { sectionRange } from "./singers-keys.js";

/** A section where it opens: what it holds, and in which keys and how often it is played. */
export function sectionWords(chart: Chart, { placed, name }: LocatedAs<"section">): HoverText {
  return [
    { kind: "title", text: `${clipped(name)}: ${sizeWords(placed.section)}` },
    ...linesOf([...holdingWords(placed), ...playedWords(chart, placed)]),
  ];
}

/** A section's name in `form` or `play`, and the words that move and repeat it there. */
export function playedItemWords(it: LocatedAs<"section-use" | "move" | "times">): HoverText {
  const { item, target, moved, kind } = it;
  const name = clipped(item.name);
  if (target === undefined || moved === undefined) {
    return saying(`${name}: no section has this name`, "Nothing is played here.");
  }
  const { section } = target;
  const titles = {
    times: () => `${name} is played${item.times === 1 ? " once" : timesWords(item.times)}`,
    move: () => `${name} in ${prettyKey(moved.key)}${awayWords(moved)}`,
    "section-use": () =>
      `${name}${timesWords(item.times)}${isMoved(section, moved) ? ` in ${prettyKey(moved.key)}${awayWords(moved)}` : ""}: ${sizeWords(section)}`,
  };
  return [
    { kind: "title", text: titles[kind]() },
    ...linesOf([
      kind === "move"
        ? "The whole section moves as one block, with all that it plays. What comes after it is at home again."
        : undefined,
      kind === "times" ? "Each time is in the same key." : undefined,
      ...(kind === "section-use" ? holdingWords(target, moved) : [melodyWords(target, moved)]),
    ]),
  ];
}

const isMoved = ({ start }: Section, { key, halfSteps }: Moved): boolean =>
  halfSteps !== 0 || keyName(key) !== keyName(start.key);

const awayWords = ({ halfSteps }: Moved): string =>
  halfSteps === 0 ? ", as it is written" : `, ${stepsWords(halfSteps)} from where it is written`;

/** Where a section leads. */
export function landsWords({ lands, inForce }: LocatedAs<"lands">): HoverText {
  const number = prettyNumber({ number: lands.degree, alter: lands.alter });
  const { key } = inForce.home;
  return saying(
    `Leads into the ${number}`,
    `It is counted in the key of what follows; in ${prettyKey(key)} that is ${prettyName(landingRoot(lands, key))}.`,
    "A push at the section's end counts from that chord.",
  );
}

/** `8 bars of 4/4 in E♭ major` */
function sizeWords({ bars, start, systems }: Section): string {
  if (bars.length === 0) return "no bars";
  const meters = [...new Set(bars.map(({ meter }) => meterText(meter)))];
  const keys = keysOf(
    start.key,
    systems.map(({ home }) => home.key),
  );
  return `${count(bars.length, "bar")} of ${andList(meters.slice(0, mostNamed))}, ${keys}`;
}

const mostNamed = 6;

function keysOf(start: Key, keys: readonly Key[]): string {
  const names = [...new Set([start, ...keys].map(prettyKey))];
  return names.length === 1 ? `${names[0]}` : `from ${names[0]} to ${andList(names.slice(1, mostNamed + 1))}`;
}

const rowNames: readonly RowName[] = ["chords", "lead", "right", "left", "bass", "words", "cue"];

/** What a section holds: rows, first and last chord, melody, where it leads. */
function holdingWords(placed: PlacedSection, moved?: Moved): (string | undefined)[] {
  const { section, path } = placed;
  const { systems, chords, lands, vamp, plays } = section;
  const present = new Set(systems.flatMap(({ rows }) => rows.map(({ row }) => row)));
  const rows = rowNames.filter((name) => present.has(name));
  const verses = Math.max(0, ...systems.map(({ rows }) => rows.filter(({ row }) => row === "words").length));
  const [first] = chords;
  const last = chords.at(-1);
  const label = (event: ChordEvent): string =>
    chordLabel(moved === undefined ? event : inKeyOf(event, section, moved));
  return [
    rows.length === 0 ? undefined : `Rows: ${rows.join(", ")}${verses > 1 ? ` (${verses} verses)` : ""}.`,
    first === undefined || last === undefined
      ? undefined
      : first === last
        ? `One chord: ${label(first)}.`
        : `It starts on ${label(first)} and ends on ${label(last)}.`,
    melodyWords(placed, moved),
    lands === undefined
      ? undefined
      : `It leads into the ${prettyNumber({ number: lands.degree, alter: lands.alter })}.`,
    vamp ? "It is repeated until cued." : undefined,
    plays.length === 0
      ? undefined
      : `It plays ${andList([...new Set(plays.map(({ item }) => clipped(item.name)))].slice(0, mostNamed))}.`,
    path === undefined ? undefined : `It comes from ${clipped(path)}.`,
  ];
}

/** A chord as it sounds where its section is played. */
function inKeyOf(
  { chord, key, text }: ChordEvent,
  { start }: Section,
  moved: Moved,
): Pick<ChordEvent, "chord" | "key" | "text"> {
  const by = moved.key.tonic - start.key.tonic;
  const { root, quality, bass } = chord;
  return {
    chord: { root: root + by, quality, bass: bass === undefined ? undefined : bass + by },
    key: { tonic: key.tonic + by, mode: key.mode },
    text,
  };
}

function melodyWords(placed: PlacedSection, moved?: Moved): string | undefined {
  const range = sectionRange(placed, moved);
  return range && `The melody goes ${rangeWords(range)}.`;
}

/** How the form plays a section. */
function playedWords(chart: Chart, placed: PlacedSection): (string | undefined)[] {
  const ways = waysPlayed(chart).get(placed);
  if (ways === undefined || ways.length === 0) return ["The form doesn't play it."];
  const keys = [...new Set(ways.map(({ key }) => prettyKey(key)))];
  const isAtHome = ways.length === 1 && !isMoved(placed.section, ways[0] as Moved);
  return [isAtHome ? undefined : `It is played in ${andList(keys.slice(0, 12))}.`];
}
