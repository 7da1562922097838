import { andList } from "../text/and-list.js";
import { type Chord, completeOnDegree } from "../theory/chord.js";
import { compare, plus } from "../theory/fraction.js";
import { functionOf, type HarmonicFunction } from "../theory/harmonic-function.js";
import { isRedundantSign, type Key, scaleDegree } from "../theory/key.js";
import { pitchClass } from "../theory/note-name.js";
import { plainQuality } from "../theory/quality.js";
import { leavesOf } from "./bar-time.js";
import { type Ahead, chordsAhead, sharesRoot, type Where } from "./chords-ahead.js";
import { rowIn } from "./layout.js";
import type { Bar, Chart, ChordEvent, Lands, PlacedSection, Section, System, SystemRow } from "./model.js";
import { type Entry, type Following, followings } from "./play-order.js";

const known = new WeakMap<Chart, WeakMap<PlacedSection, readonly HarmonicFunction[]>>();
const knownNext = new WeakMap<Chart, ReadonlyMap<PlacedSection, Chord | undefined>>();

/**
 * What each chord of a section does in its key, in the order of `section.chords`. A chord is judged by the next one
 * on another root, so an A7 that goes on as A7b9 still goes to its D; before `:|` by the repeat's start too; the last
 * one by what the form plays after it.
 */
export function functionsOf(chart: Chart, placed: PlacedSection): readonly HarmonicFunction[] {
  const sections = known.get(chart) ?? new WeakMap<PlacedSection, readonly HarmonicFunction[]>();
  known.set(chart, sections);
  const before = sections.get(placed);
  if (before !== undefined) return before;
  const ahead = waysAhead(chart, placed);
  const functions = placed.section.chords.map((event, i) => functionOnAllWays(event, ahead[i] ?? []));
  sections.set(placed, functions);
  return functions;
}

/** What one chord of a section does: the same as in `functionsOf`, without asking it of all the others. */
export function functionAt(chart: Chart, placed: PlacedSection, event: ChordEvent): HarmonicFunction {
  const all = known.get(chart)?.get(placed);
  return all?.[event.index] ?? functionOnAllWays(event, waysAhead(chart, placed)[event.index] ?? []);
}

const knownWays = new WeakMap<Chart, WeakMap<PlacedSection, readonly (readonly Ahead[])[]>>();

/** What follows each chord of a section, on every way that its repeats and the form go on. */
export function waysAhead(chart: Chart, placed: PlacedSection): readonly (readonly Ahead[])[] {
  const sections = knownWays.get(chart) ?? new WeakMap<PlacedSection, readonly (readonly Ahead[])[]>();
  knownWays.set(chart, sections);
  const ways = sections.get(placed) ?? chordsAhead(placed.section, chordAfter(chart, placed));
  sections.set(placed, ways);
  return ways;
}

/**
 * What a chord does where repeats and endings lead on in several ways: what it does on the first way on which it
 * gets where it points to, else on the first. Its words then say where that is.
 */
function functionOnAllWays({ chord, key }: ChordEvent, ways: readonly Ahead[]): HarmonicFunction {
  const found = ways.map(({ chord: next, where }) => ({ fn: functionOf(chord, key, next), where }));
  const comes = found.filter(({ fn }) => fn.resolves === true);
  const first = comes[0] ?? found[0];
  if (first === undefined) return functionOf(chord, key, undefined);
  const same = comes.filter(({ fn }) => fn.text === first.fn.text).map(({ where }) => where);
  const isSure = same.length === ways.length && !same.includes("start of the repeat");
  if (comes.length === 0 || isSure) return first.fn;
  return { ...first.fn, text: `${first.fn.text} ${andList(same.map(whereWords))}` };
}

function whereWords(where: Where | undefined, i: number): string {
  if (where === undefined) return "further on";
  if (where === "after the repeat") return i === 0 ? where : "after it";
  return where === "start of the repeat" ? `at the ${where}` : `in the ${where}`;
}

/**
 * What follows a section's last chord: the first chord of what is played next, spelled as if this section stood
 * where it is printed. Where the form goes on in several ways, or in none, the plain chord on which it `lands`.
 */
export function chordAfter(chart: Chart, placed: PlacedSection): Chord | undefined {
  const next = knownNext.get(chart) ?? nextChords(chart);
  knownNext.set(chart, next);
  return next.get(placed) ?? landing(placed.section);
}

/** The first chord of what follows each section; `undefined` where it differs or nobody knows. */
function nextChords(chart: Chart): ReadonlyMap<PlacedSection, Chord | undefined> {
  const found = new Map<PlacedSection, Chord | undefined>();
  for (const { ended, moved, next } of followings(chart)) {
    const event = next === "unknown" ? undefined : openingChord(next.placed.section, next.bar);
    const chord =
      next === "unknown" || event === undefined ? undefined : seenFrom({ ended, moved }, next, event.chord);
    const before = found.get(ended);
    const agrees =
      !found.has(ended) || (chord !== undefined && before !== undefined && isSame(chord, before));
    found.set(ended, agrees ? chord : undefined);
  }
  return found;
}

const isSame = (a: Chord, b: Chord): boolean =>
  sharesRoot(a, b) &&
  pitchClass(a.bass ?? a.root) === pitchClass(b.bass ?? b.root) &&
  a.quality.symbol === b.quality.symbol;

function seenFrom({ ended, moved }: Pick<Following, "ended" | "moved">, next: Entry, chord: Chord): Chord {
  const gone = ({ section }: PlacedSection, key: Key): number => key.tonic - section.start.key.tonic;
  const by = gone(next.placed, next.moved.key) - gone(ended, moved.key);
  if (by === 0) return chord;
  return { ...chord, root: chord.root + by, bass: chord.bass === undefined ? undefined : chord.bass + by };
}

function landing({ lands, systems, start }: Section): Chord | undefined {
  if (lands === undefined) return undefined;
  const key = systems.at(-1)?.home.key ?? start.key;
  const { degree } = lands;
  const alter = isRedundantSign(key.mode, degree, lands.alter) ? 0 : lands.alter;
  const quality = completeOnDegree(plainQuality, key, degree, alter);
  return { root: landingRoot(lands, key), quality, bass: undefined };
}

/** The root on which a section lands, counted in a key. */
export const landingRoot = ({ degree, alter }: Lands, key: Key): number => scaleDegree(key, degree, alter);

/**
 * The chord that sounds when a bar of a section starts, or the first one struck after it; `undefined` where there is
 * none, or something that can't be read stands before it.
 */
export function openingChord(section: Section, bar: number): ChordEvent | undefined {
  const start = section.bars[bar];
  if (start === undefined) return undefined;
  let found: ChordEvent | undefined;
  for (const event of section.chords) {
    const reaches = compare(plus(event.at, event.length), start.at) > 0;
    if (!reaches) continue;
    const isHeld = compare(event.at, start.at) <= 0;
    // A pickup comes before the bar, and only what is held of it sounds there.
    if (event.pickup && !isHeld) continue;
    if (isHeld || found === undefined) found = event;
    if (!isHeld) break;
  }
  if (found === undefined || isUnread(section, start, found)) return undefined;
  return found;
}

/** Whether something that can't be read stands between a bar's start and a chord. */
function isUnread({ systems, bars }: Section, start: Bar, chord: ChordEvent): boolean {
  for (const bar of bars.slice(start.index, chord.bar + 1)) {
    const system = systems[bar.system] as System;
    const row = rowIn(system, "chords");
    const slots = row?.line.bars[bar.index - system.firstBar]?.slots ?? [];
    for (const { content, span } of leavesOf(slots, bar.length) ?? []) {
      if (span.start + (row as SystemRow).start >= chord.span.start) return false;
      if (content.kind !== "hold" && content.kind !== "rest" && content.kind !== "noChord") return true;
    }
  }
  return false;
}
