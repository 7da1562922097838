import { type HandGrip, handGrip } from "../chart/hand-grips.js";
import { heldAtOnce } from "../chart/held-keys.js";
import type { Note, PlacedSection, SlotEvent } from "../chart/model.js";
import { twelveTonics } from "../chart/twelve-tonics.js";
import { gripReason } from "../checks/grip-reason.js";
import { type Document, reachInForce } from "../document/document.js";
import { mostKeys } from "../keyboard/fingerings.js";
import { movedGrip } from "../keyboard/grip.js";
import { type Hand, usualReach } from "../keyboard/hand.js";
import { type Strain, twelveKeys } from "../keyboard/twelve-keys.js";
import { shortReason } from "../problems/hand-words.js";
import { intervalOfWhiteKeys } from "../theory/interval-name.js";
import type { Key } from "../theory/key.js";
import { prettyName } from "../theory/note-name.js";
import { fingeringOf } from "./fingering.js";
import { type Block, linesOf } from "./hover-text.js";

/** How a slot lies under its hand: the fingering, and the twelve keys; nothing where no hand plays it. */
export function handBlocks(
  document: Document,
  { section }: PlacedSection,
  slot: SlotEvent,
  note?: Note,
): readonly Block[] {
  const { hand } = slot;
  const strikes = slot.kind === "stack" && slot.struck.some(({ grace }) => !grace);
  if (hand === undefined || !strikes) return [];
  const reach = reachInForce(document)[hand] ?? usualReach;
  const grip = handGrip(slot);
  const fingers = fingeringOf(section, hand, reach).get(slot);
  const strains = strainsOf(heldAtOnce(grip), hand, reach);
  const [first] = strains ?? [];
  const isAlike = strains?.every((it) => it === first) === true;
  const lies = isAlike && first !== undefined ? everywhere[first] : "";
  const said = fingers && fingerWords(fingers, note === undefined ? -1 : grip.notes.indexOf(note));
  return [
    ...linesOf(
      [[said, lies].filter(Boolean).join("; "), unheldWords(grip, hand, reach, isAlike)].map(sentence),
    ),
    ...(strains === undefined ? [] : keyBlocks(strains, isAlike, hand, reach, section.start.key)),
  ];
}

const everywhere: Readonly<Record<Strain, string>> = {
  easy: "easy in all twelve keys",
  stretch: "a stretch in all twelve keys",
  // Told with its reason.
  no: "",
};

const sentence = (text: string): string =>
  text === "" ? "" : `${text.slice(0, 1).toUpperCase()}${text.slice(1)}.`;

/** `Fingers 1 3 5, from the lowest key up`, and which of them plays the key at `at`. */
function fingerWords(fingers: readonly number[], at: number): string {
  if (fingers.length === 1) return `Finger ${fingers[0]}`;
  const all = `${fingers.join(" ")}, from the lowest key up`;
  return at < 0 ? `Fingers ${all}` : `Finger ${fingers[at]} of ${all}`;
}

/** Why the hand can't hold it where it is written; nothing where it can. */
function unheldWords(grip: HandGrip, hand: Hand, reach: number, isAlike: boolean): string {
  for (const keys of heldAtOnce(grip)) {
    const it = movedGrip(keys, 0, hand, reach);
    if (it.holds) continue;
    const notes = grip.notes.filter(({ pitch }) => keys.includes(pitch.midi));
    const why = gripReason({ hand, notes, reasons: it.reasons });
    const words =
      why === undefined
        ? `these are ${keys.length} keys, and a hand holds ${mostKeys} at most`
        : shortReason(why, intervalOfWhiteKeys(reach));
    return `the ${hand} hand can't hold it ${isAlike ? "in any key" : "here"}: ${words}`;
  }
  return "";
}

/** In each of the twelve keys the hardest that the hand must hold; `undefined` where that is one key at a time. */
function strainsOf(
  held: readonly (readonly number[])[],
  hand: Hand,
  reach: number,
): readonly Strain[] | undefined {
  const many = held.filter(({ length }) => length > 1).map((keys) => twelveKeys(keys, hand, reach));
  if (many.length === 0) return undefined;
  return Array.from({ length: 12 }, (_, by) =>
    many.reduce<Strain>((hardest, strains) => harder(hardest, strains[by] as Strain), "easy"),
  );
}

const order: readonly Strain[] = ["easy", "stretch", "no"];
const strainWords: Readonly<Record<Strain, string>> = {
  easy: "easy",
  stretch: "a stretch",
  no: "can't be held",
};
const harder = (a: Strain, b: Strain): Strain => (order.indexOf(a) > order.indexOf(b) ? a : b);

const larger = (hand: Hand, reach: number): string =>
  reach >= mostReach
    ? ""
    : ` If your own hand reaches further, write “reach ${hand} ${reach + 1}” at the top, or say so with the setting plagal.reach.${hand}.`;
/** White keys: no reach that can be said goes further. */
const mostReach = 15;

function keyBlocks(
  strains: readonly Strain[],
  isAlike: boolean,
  hand: Hand,
  reach: number,
  key: Key,
): readonly Block[] {
  const keys = twelveTonics(key);
  const has = (strain: Strain): boolean => strains.includes(strain);
  const namesOf = (strain: Strain): string =>
    keys.flatMap(({ by, tonic }) => (strains[by] === strain ? [prettyName(tonic)] : [])).join(" ");
  const table: Block = {
    kind: "table",
    head: [`${hand} hand, reach of ${intervalOfWhiteKeys(reach)}`, "in these keys"],
    rows: order.flatMap((strain) => (has(strain) ? [[strainWords[strain], namesOf(strain)]] : [])),
  };
  return [
    ...(isAlike ? [] : [table]),
    ...linesOf([
      has("stretch")
        ? `A stretch can be held and is not easy: warm up, and stop if it hurts. If your hand is smaller, say so with the setting plagal.reach.${hand}.`
        : undefined,
      has("no")
        ? `${isAlike ? "Roll" : "Where it can't be held, roll"} it (~), or leave a tone out.${larger(hand, reach)}`
        : undefined,
    ]),
  ];
}
