import type { LocatedAs, Where } from "../chart/located.js";
import type { PlacedSection } from "../chart/model.js";
import type { PitchedRow, RowName, Statement } from "../syntax/tree.js";
import { prettyKey } from "../theory/key.js";
import { pitchClass, plainFifths } from "../theory/note-name.js";
import { prettyPitch } from "../theory/pitch.js";
import { fifthsAbove, readNumber, type ToneNumber } from "../theory/tone-number.js";
import { type HoverText, saying } from "./hover-text.js";
import { rowHome } from "./row-home.js";

/** What each first word of a line means, in a title and sentences below it. Completion documents its words with these. */
export const wordMeanings: Readonly<Record<string, readonly [title: string, ...more: string[]]>> = {
  title: ["title: the name of the song", "Printed above the chart."],
  by: ["by: who wrote it", "Printed above the chart."],
  note: ["note: a word to the player", "Printed above the chart. There may be several."],
  key: [
    "key: which note is the 1",
    "In the head it is the chart's key. Inside a section it holds from there to the section's end.",
    "Change it with a move, and every hand goes along.",
  ],
  time: [
    "time: how many beats a bar has",
    "Inside a section it holds from there to the section's end. 4/4 where nobody says.",
  ],
  tempo: ["tempo: beats a minute", "Inside a section it holds from there to the section's end."],
  feel: [
    "feel: how the half-beats fall",
    "straight: even. swing: long and short. shuffle: exactly two to one.",
  ],
  reach: [
    "reach: the widest stretch that a hand can hold down",
    "In white keys: 8 is an octave, 9 a ninth, 10 a tenth. Write left and right where they differ. A ninth where nobody says.",
    "Write your true reach: a small hand is no fault. Stop at pain.",
  ],
  form: [
    "form: the playing order",
    "Names of sections. After a name may stand x2, in a key, up half, up whole, down half or down whole.",
    "Without a form the sections are played as they stand, once each.",
  ],
  use: [
    "use: brings in the sections of another chart",
    "They sound as if they stood in this one: in its key, home octaves and tempo.",
  ],
  section: [
    "section: opens a part of the song",
    "It starts in the chart's key, meter, tempo and feel, or in its own lines for them. Nothing is carried in from the section before.",
  ],
  lands: [
    "lands: the chord that this section leads into",
    "Its number is counted in the key of what follows.",
  ],
  vamp: ["vamp: repeat this section until the cue"],
  play: [
    "play: puts another section in here",
    "With the same words after its name as in form: x2, in a key, up half and their kin.",
  ],
  chords: [
    "chords: the row of chords",
    "Numbers of the key (5:7/2) or letters (G7/D). The chords of a bar share it evenly; / is one more beat of the same chord.",
    "The numbers in right and left count from the chord that sounds.",
  ],
  lead: [
    "lead: the melody",
    "Its numbers count from the key. The right hand plays it where there is no right row; else somebody sings it.",
  ],
  right: [
    "right: the right hand",
    "Its numbers count from the chord that sounds. + joins the tones of a stack, lowest first.",
  ],
  left: ["left: the left hand", "Its numbers count from the chord that sounds; 0 is the chord's bass."],
  bass: [
    "bass: the bass line",
    "Its numbers count from the key; 0 is the chord's bass. The left hand plays it where there is no left row.",
  ],
  words: [
    "words: the song's words",
    "In each bar the syllables go to the notes of the lead. - parts a word, _ runs over one more note. Several rows are the verses.",
  ],
  cue: ["cue: a word to the player over a bar", "It changes no sound: hold, slower, soft."],
};

const pitched: readonly RowName[] = ["lead", "right", "left", "bass"];

/** The first word of a line. */
export function wordWords({ text, statement, placed, lineIndex }: LocatedAs<"word">): HoverText | undefined {
  const meaning = wordMeanings[text];
  if (meaning === undefined) return undefined;
  return saying(...meaning, homeWords(statement, placed, lineIndex) ?? "");
}

/** Where a row is at home: `At home from E♭4 to D5 in E♭ major.` */
function homeWords(
  statement: Statement,
  placed: PlacedSection | undefined,
  lineIndex: Where["lineIndex"],
): string | undefined {
  if (statement.kind !== "row" || placed === undefined || !pitched.includes(statement.row)) return undefined;
  const row = statement.row as PitchedRow;
  const { section, firstLine } = placed;
  const start = section.source.starts[lineIndex - firstLine] ?? 0;
  const system = section.systems.find(({ rows }) => rows.some((it) => it.start === start));
  if (system === undefined) return undefined;
  const { lowest, isSaid } = rowHome(placed, system, row, start);
  const { key } = system.home;
  const name = (midi: number): string =>
    prettyPitch({ fifths: plainest(key.tonic + aboveOne(midi - pitchClass(key.tonic))), midi });
  return `At home from ${name(lowest)} to ${name(lowest + 11)}${isSaid ? "" : ` in ${prettyKey(key)}`}: > lifts an octave, < drops one.`;
}

/** The names of the twelve keys above a 1, as the table of home octaves in the language reference has them. */
const numbers = "1 b2 2 b3 3 4 #4 5 b6 6 b7 7".split(" ").map((text) => readNumber(text) as ToneNumber);

/** The natural on the same key, where there is one: the lowest note of the right hand in A♭ is B3, not C♭4. */
const plainest = (fifths: number): number =>
  naturals.find((it) => pitchClass(it) === pitchClass(fifths)) ?? plainFifths(fifths);

const naturals: readonly number[] = [-1, 0, 1, 2, 3, 4, 5];

const aboveOne = (halfSteps: number): number =>
  fifthsAbove(numbers[((halfSteps % 12) + 12) % 12] as ToneNumber);
