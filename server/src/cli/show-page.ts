import { barLength } from "../chart/bar-time.js";
import { beatName, meterText } from "../chart/beat-name.js";
import { chordSummary } from "../chart/chord-summary.js";
import { functionsOf } from "../chart/harmony.js";
import type { Bar, Chart, FormStep, Note, PlacedSection, Section, SlotEvent, Word } from "../chart/model.js";
import { numberInChord } from "../chart/number-in-chord.js";
import { timesWords } from "../chart/times-words.js";
import type { PitchedRow } from "../syntax/tree.js";
import { andList } from "../text/and-list.js";
import { visible } from "../text/visible.js";
import { prettyChord } from "../theory/chord.js";
import { compare, type Fraction, minus, plus } from "../theory/fraction.js";
import type { HarmonicFunction } from "../theory/harmonic-function.js";
import { degreeInKey, keyName, prettyKey } from "../theory/key.js";
import { prettyStrict } from "../theory/note-name.js";
import { prettyPitch } from "../theory/pitch.js";
import { prettyNumber } from "../theory/tone-number.js";
import type { Paint } from "./paint.js";

const rows: readonly PitchedRow[] = ["lead", "right", "left", "bass"];
const labelWidth = 8;

/** The resolved chart as a page to read aloud: bar by bar, what is played and what it does. */
export function showPage(chart: Chart, paint: Paint): string {
  const sections = chart.sections.flatMap((placed) => [
    "",
    ...sectionLines(chart, placed, functionsOf(chart, placed), paint),
  ]);
  return `${[...headLines(chart, paint), ...sections].map((line) => line.trimEnd()).join("\n")}\n`;
}

function headLines(chart: Chart, paint: Paint): string[] {
  const { title, by, notes, home, original, meter, tempo, feel } = chart.header;
  const facts = [
    prettyKey(home.key) + (original === undefined ? "" : `, written in ${prettyStrict(original)}`),
    meterText(meter),
    ...tempoWords(tempo),
    ...(feel === "straight" ? [] : [`${feel} feel`]),
  ];
  const form = chart.form.map(stepText).filter((text) => text !== "");
  return [
    ...heading(title ?? "A chart without a title", "═", paint),
    ...(by === undefined ? [] : [`by ${visible(by)}`]),
    `${facts.join(", ")}.`,
    ...(form.length > 0 ? [`Played: ${form.join(", ")}.`] : []),
    ...notes.map((note) => visible(note)),
  ];
}

const heading = (text: string, line: string, paint: Paint): string[] => {
  const shown = visible(text);
  return [paint.bold(shown), line.repeat([...shown].length)];
};

const tempoWords = (tempo: number | undefined): string[] =>
  tempo === undefined ? [] : [`${tempo} beats a minute`];

/** `Verse`, `Tag twice in A♭ major` */
function stepText({ section: { section }, times, moved }: FormStep): string {
  const isMoved = keyName(moved.key) !== keyName(section.start.key) || moved.halfSteps !== 0;
  return section.name === ""
    ? ""
    : `${visible(section.name)}${timesWords(times)}${isMoved ? ` in ${prettyKey(moved.key)}` : ""}`;
}

function sectionLines(
  chart: Chart,
  placed: PlacedSection,
  functions: readonly HarmonicFunction[],
  paint: Paint,
): string[] {
  const { section, path } = placed;
  const { header } = chart;
  const facts = [
    ...(keyName(section.start.key) === keyName(header.home.key)
      ? []
      : [`in ${prettyKey(section.start.key)}`]),
    ...(section.tempo === header.tempo ? [] : tempoWords(section.tempo)),
    ...(section.feel === header.feel ? [] : [`${section.feel} feel`]),
    ...(section.lands === undefined
      ? []
      : [`leads to the ${prettyNumber({ number: section.lands.degree, alter: section.lands.alter })}`]),
    ...(section.vamp ? ["repeated until cued"] : []),
    ...(path === undefined ? [] : [`from ${visible(path)}`]),
  ];
  const lines = section.name === "" ? [] : heading(section.name, "─", paint);
  if (facts.length > 0) lines.push(`${facts.join(", ")}.`);
  const bars = section.bars.flatMap((bar) => [
    "",
    ...playLines(section, bar.index),
    ...changeLines(chart, section, bar),
    ...barLines(section, bar, functions, paint),
  ]);
  const last = playLines(section, section.bars.length);
  return [...lines, ...bars, ...(last.length > 0 ? ["", ...last] : [])];
}

const playLines = (section: Section, bar: number): string[] =>
  section.plays
    .filter(({ beforeBar }) => beforeBar === bar)
    .map(({ item }) => `Here ${visible(item.name)} is played${timesWords(item.times)}.`);

/** Key and meter where they are others than in the bar before. */
function changeLines(chart: Chart, section: Section, bar: Bar): string[] {
  const before = section.bars[bar.index - 1];
  const key = before?.home.key ?? section.start.key;
  const meter = before?.meter ?? chart.header.meter;
  return [
    ...(keyName(key) === keyName(bar.home.key) ? [] : [`From here in ${prettyKey(bar.home.key)}.`]),
    ...(meterText(meter) === meterText(bar.meter) ? [] : [`From here in ${meterText(bar.meter)}.`]),
  ];
}

function barLines(
  section: Section,
  bar: Bar,
  functions: readonly HarmonicFunction[],
  paint: Paint,
): string[] {
  const say = (label: string, text: string): string => `  ${paint.dim(label.padEnd(labelWidth))}${text}`;
  const lines = (pickup: boolean): string[] => {
    const from = pickup ? minus(bar.at, barLength(bar.meter)) : bar.at;
    const beat = (at: Fraction): string => beatName(minus(at, from), bar.meter);
    const { words } = bar;
    return [
      ...chordTexts(section, bar, pickup, beat, functions).map((text, i) =>
        say(i === 0 ? "chord" : "", text),
      ),
      ...rows.flatMap((row) => {
        const text = rowText(section.rows[row].slots, bar, pickup, beat);
        return text === undefined ? [] : [say(row, text)];
      }),
      ...verses(words.filter(({ at }) => compare(at, bar.at) < 0 === pickup)).map(([verse, text]) =>
        say(hasVerses(section) ? `verse ${verse}` : "words", text),
      ),
      ...(pickup || bar.cue === undefined ? [] : [say("cue", visible(bar.cue))]),
    ];
  };
  const pickup = lines(true);
  const inside = lines(false);
  return [
    ...(pickup.length === 0 ? [] : [paint.bold(`Into bar ${bar.index + 1}`), ...pickup, ""]),
    paint.bold(`Bar ${bar.index + 1}`) + repeatWords(bar),
    ...(inside.length === 0 ? ["  nothing sounds"] : inside),
  ];
}

function repeatWords({ repeat: { start, end, times, ending } }: Bar): string {
  const words = [
    ...(start ? ["a repeat starts"] : []),
    ...(ending === undefined ? [] : [ending === 1 ? "first ending" : "second ending"]),
    ...(end ? [`then back, ${times} times in all`] : []),
  ];
  return words.map((text) => `, ${text}`).join("");
}

type Beat = (at: Fraction) => string;

/** The chords of a bar, one text each. */
function chordTexts(
  section: Section,
  bar: Bar,
  pickup: boolean,
  beat: Beat,
  functions: readonly HarmonicFunction[],
): string[] {
  const events = section.chords.filter((event) => event.bar === bar.index && event.pickup === pickup);
  const texts = events.map((event) => {
    const place = !pickup && compare(event.at, bar.at) === 0 ? "" : `${beat(event.at)}: `;
    return place + chordSummary(event, functions[event.index] as HarmonicFunction);
  });
  if (pickup || (events[0] !== undefined && compare(events[0].at, bar.at) === 0)) return texts;
  const before = section.chords.findLast((event) => !event.pickup && compare(event.at, bar.at) < 0);
  const goesOn = before !== undefined && compare(plus(before.at, before.length), bar.at) > 0;
  return goesOn ? [`${prettyChord(before.chord)} goes on`, ...texts] : texts;
}

/** What a row strikes and holds in a bar; `undefined` where it rests throughout. */
function rowText(slots: readonly SlotEvent[], bar: Bar, pickup: boolean, beat: Beat): string | undefined {
  const moments: [at: Fraction, text: string][] = [];
  let isResting = true;
  for (const slot of slots) {
    if (slot.bar !== bar.index || slot.pickup !== pickup) continue;
    const isFirst = moments.length === 0;
    const sounding = slot.struck.length > 0 || slot.held.length > 0;
    if (slot.kind === "hold" && sounding) {
      if (isFirst) moments.push([slot.at, `${notesText(slot)} on`]);
    } else if (sounding) moments.push([slot.at, notesText(slot)]);
    else if (isFirst || !isResting) moments.push([slot.at, "rest"]);
    isResting = !sounding;
  }
  if (moments.every(([, text]) => text === "rest")) return undefined;
  const [first] = moments;
  if (moments.length === 1 && first !== undefined && !pickup && compare(first[0], bar.at) === 0)
    return first[1];
  return moments.map(([at, text]) => `${beat(at)} ${text}`).join(", ");
}

/** `B3 D4 G4 (3 5 1)`; what is held from before says so. */
function notesText({ struck, held, rolled, pushed }: SlotEvent): string {
  const notes = [...held, ...struck.filter(({ grace }) => !grace)].sort(
    (a, b) => a.pitch.midi - b.pitch.midi,
  );
  const name = (note: Note): string => {
    if (held.includes(note)) return prettyPitch(note.pitch);
    const grace = struck[struck.indexOf(note) - 1];
    return `${grace?.grace ? `${prettyPitch(grace.pitch)} into ` : ""}${prettyPitch(note.pitch)}`;
  };
  const going = notes.filter((note) => held.includes(note));
  const names =
    struck.length === 0 || going.length === 0
      ? notes.map(name).join(" ")
      : `${notes
          .filter((note) => !held.includes(note))
          .map(name)
          .join(" ")}, holding ${andList(going.map(name))}`;
  const how = `${pushed ? "pushed " : ""}${rolled ? "rolled " : ""}`;
  if (struck.length === 0) return `holds ${names}`;
  const numbers = notes.filter((note) => !held.includes(note)).map(numberText);
  return `${how}${names.replace(/(, holding|$)/, ` (${numbers.join(" ")})$1`)}`;
}

/** In the hands the number in the chord, in lead and bass that in the key. */
function numberText(note: Note): string {
  const { row, chord, key, pitch } = note;
  const inKey = row === "lead" || row === "bass" || chord === undefined;
  return prettyNumber(inKey ? degreeInKey(key, pitch.fifths) : numberInChord(chord.chord, note));
}

const hasVerses = ({ bars }: Section): boolean =>
  bars.some(({ words }) => words.some(({ verse }) => verse > 1));

/** The syllables of each verse, the parts of a word joined. */
function verses(words: readonly Word[]): [verse: number, text: string][] {
  const texts = new Map<number, string>();
  for (const { verse, text } of words) {
    const before = texts.get(verse);
    texts.set(
      verse,
      before === undefined ? text : before.endsWith("-") ? before + text : `${before} ${text}`,
    );
  }
  return [...texts].map(([verse, text]) => [verse, visible(text)]);
}
