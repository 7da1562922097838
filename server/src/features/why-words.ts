import type { NoteSlot } from "../chart/located.js";
import { type Document, reachInForce } from "../document/document.js";
import { voicedRow } from "../edits/voiced-rows.js";
import { type WhyVoicing, whyVoicing } from "../edits/why-voicing.js";
import type { Hand } from "../keyboard/hand.js";
import { indexAt } from "../text/lines.js";
import { prettyChord } from "../theory/chord.js";
import { prettyPitch } from "../theory/pitch.js";
import { sumOf, type Term, type Terms } from "../voicing/costs.js";
import type { Voice, Voicing } from "../voicing/voicing.js";
import { type Block, linesOf } from "./hover-text.js";
import { againstWords, differenceWords } from "./voicing-term-words.js";

/** Why a slot that the search found is voiced as it is, and what came next; nothing for a slot of the player's own. */
export function whyBlocks(document: Document, { row, placed, event }: NoteSlot): readonly Block[] {
  const { lines, starts } = placed.section.source;
  const line = lines[indexAt(starts, row.start)];
  if (event?.kind !== "stack" || line === undefined || voicedRow(line) === undefined) return [];
  const why = whyVoicing(document, placed.offset + event.written.start, reachInForce(document));
  if (why === undefined) return [];
  const against = largestFirst(why.terms);
  return [
    ...linesOf([placeWords(why)]),
    ...(against.length === 0
      ? linesOf(["Nothing counts against it."])
      : [pointsTable(against, sumOf(why.terms))]),
    ...linesOf([otherWords(why), "The action “Try the next voicing” steps through the others."]),
  ];
}

/** `Voiced drop 2: the best of its voicings here.` */
function placeWords({ chord, voiced, served, rank, runnerUp }: WhyVoicing): string {
  const { style, everyKey } = voiced;
  const where = everyKey ? " here that can be played in every key" : " here";
  const isAsGood = rank > 1 && runnerUp?.more === 0;
  const which = rank === 1 ? "the best" : isAsGood ? "as good as any" : `number ${rank}`;
  const place = `${which} of its voicings${where}`;
  if (served === style) return `Voiced ${style}: ${place}.`;
  return `${prettyChord(chord)} can't be voiced as ${style} here, so it is voiced as ${served}: ${place}.`;
}

const pointsTable = (terms: readonly (readonly [Term, number])[], sum: number): Block => ({
  kind: "table",
  head: ["what counts against it", "points"],
  rows: [
    ...terms.map(([term, cost]) => [againstWords(term, cost), `${cost}`]),
    ...(terms.length > 1 ? [["together", `${sum}`]] : []),
  ],
});

/** The runner-up, or what is better: where it differs, and by what. */
function otherWords({ rank, voicing, runnerUp }: WhyVoicing): string | undefined {
  if (runnerUp === undefined) return "There is no other that can be played here.";
  const { more, differences } = runnerUp;
  const which = rank === 1 || more >= 0 ? "The runner-up" : "The best";
  const points = `${Math.abs(more)} ${Math.abs(more) === 1 ? "point" : "points"}`;
  const how = more === 0 ? "as good" : more > 0 ? `${points} worse` : `${points} better`;
  return `${which}, ${keysOf(runnerUp.voicing, voicing)}, is ${how} with what follows${reasonWords(differences, more < 0)}.`;
}

/** `: its voices move farther (+8); but it is fuller (−3)`, what decides first. */
function reasonWords(differences: Terms, isBetter: boolean): string {
  const all = largestFirst(differences);
  const saying = (better: boolean): string =>
    all
      .filter(([, by]) => by < 0 === better)
      .slice(0, mostReasons)
      .map(([term, by]) => `${differenceWords(term, by)} (${by > 0 ? "+" : "−"}${Math.abs(by)})`)
      .join(", ");
  const said = [saying(isBetter), saying(!isBetter)].filter((words) => words !== "").join("; but ");
  return said === "" ? "" : `: ${said}`;
}

/** Of each kind; what comes after them hardly counts. */
const mostReasons = 3;

const largestFirst = (terms: Terms): readonly (readonly [Term, number])[] =>
  (Object.entries(terms) as [Term, number][]).sort(([, a], [, b]) => Math.abs(b) - Math.abs(a));

const hands: readonly Hand[] = ["left", "right"];

/** What each hand plays in it that plays something else in the other: `left hand E♭3 B♭3, right hand F4 B♭4`. */
function keysOf(it: Voicing, other: Voicing): string {
  const names = (voices: readonly Voice[]): string => voices.map(({ pitch }) => prettyPitch(pitch)).join(" ");
  return hands
    .filter((hand) => names(it[hand]) !== names(other[hand]))
    .map((hand) => `${hand} hand ${names(it[hand]) || "silent"}`)
    .join(", ");
}
