import type { Third } from "./quality.js";
import { readNumber, type ToneNumber } from "./tone-number.js";

/**
 * The grammar of chord qualities: a word for the kind, a main number, then marks in any order. It is hand-made since
 * players' spellings overlap (`ma` and `madd9`, `-5` and `-7`), so a head is tried and given up again.
 */
type Head = "" | "dominant" | "major" | "delta" | "minor" | "diminished" | "half-diminished" | "augmented";

const cased = (word: string): string[] => [
  word,
  (word[0] as string).toUpperCase() + word.slice(1),
  word.toUpperCase(),
];

const headOf = (words: string, head: Head): (readonly [string, Head])[] =>
  words
    .split(" ")
    .flatMap((word) => (word.length > 1 ? cased(word) : [word]).map((it) => [it, head] as const));

/** Words for the kind of chord, right after the root, the longer first; no word is the last to try. */
const heads: readonly (readonly [word: string, head: Head])[] = [
  ...headOf("major maj ma M", "major"),
  ...headOf("^", "delta"),
  ...headOf("minor min mi m -", "minor"),
  ...headOf("diminished dim ° o", "diminished"),
  ...headOf("half-diminished hdim ø h", "half-diminished"),
  ...headOf("augmented aug +", "augmented"),
  ...headOf("dominant dom", "dominant"),
  ["", "" as const] as const,
].sort(([a], [b]) => b.length - a.length);

/** Signs that look or mean alike are made one before reading. */
const alike: readonly (readonly [RegExp, string])[] = [
  [/♭/g, "b"],
  [/♯/g, "#"],
  [/𝄫/g, "bb"],
  [/𝄪/g, "##"],
  [/[−–]/g, "-"],
  [/[º˚]/g, "°"],
  [/[Δ∆△]/g, "^"],
  [/Ø/g, "ø"],
];

const mainNumber = /^(?:769|6\/9|69|13|11|2|4|5|6|7|9)/;
const majorSeventhWord = /^\/?\(?(?:major|Major|MAJOR|maj|Maj|MAJ|Ma|MA|ma|M|\^)(7|9|11|13)?\)?/;
const alteration = /^(b+|#+|-|\+)(13|11|9|7|6|5|4)/;

/** A quality half read. Filled from left to right, then finished by what follows from the whole. */
interface Draft {
  third: Third | "none" | undefined;
  fifths: number[];
  /** The seventh's alteration: 0 major, -1 minor, -2 diminished. */
  seventh: number | undefined;
  sixth: boolean;
  /** The natural 9, 11, 13 that the main number brings. */
  stack: number[];
  suspended: number[];
  altered: ToneNumber[];
  added: ToneNumber[];
  omitted: number[];
}

const natural = (number: number): ToneNumber => ({ number, alter: 0 });

/** What 9, 11 and 13 bring beside the seventh. A 13 over a major third leaves the 11 out (see `disputed.ts`). */
function stackOf(number: number, third: Draft["third"]): number[] {
  if (number === 9) return [9];
  if (number === 11) return [9, 11];
  if (number === 13) return third === "minor" ? [9, 11, 13] : [9, 13];
  return [];
}

const headSevenths: Readonly<Record<Head, number>> = {
  "": -1,
  dominant: -1,
  major: 0,
  delta: 0,
  minor: -1,
  diminished: -2,
  "half-diminished": -1,
  augmented: -1,
};

const headThirds: Readonly<Record<Head, Third | undefined>> = {
  "": undefined,
  dominant: "major",
  major: "major",
  delta: "major",
  minor: "minor",
  diminished: "minor",
  "half-diminished": "minor",
  augmented: "major",
};

const impliesSeventh = (head: Head): boolean =>
  head === "half-diminished" || head === "delta" || head === "dominant";

const startOf = (head: Head): Draft => ({
  third: headThirds[head],
  fifths: head === "diminished" || head === "half-diminished" ? [-1] : head === "augmented" ? [1] : [],
  seventh: impliesSeventh(head) ? headSevenths[head] : undefined,
  sixth: false,
  stack: [],
  suspended: [],
  altered: [],
  added: [],
  omitted: [],
});

/** The main number straight after the head; `false` where the two make no chord. */
function takeMain(draft: Draft, head: Head, text: string): boolean {
  switch (text) {
    case "":
      return true;
    case "2":
      draft.added.push(natural(2));
      return !impliesSeventh(head);
    case "4":
      // A fourth alone is a suspension; beside a said third it is an added tone.
      if (head === "") draft.suspended.push(4);
      else draft.added.push(natural(4));
      return head === "" || head === "major" || head === "minor";
    case "5":
      draft.third = "none";
      return head === "";
    case "6":
    case "69":
    case "6/9":
      draft.sixth = true;
      if (text !== "6") draft.stack = [9];
      return head === "" || head === "major" || head === "minor";
    case "769":
      draft.third = "major";
      draft.sixth = true;
      draft.seventh = -1;
      draft.stack = [9];
      return head === "";
    default:
      draft.third ??= "major";
      draft.seventh = headSevenths[head];
      draft.stack = stackOf(Number(text), draft.third);
      return true;
  }
}

const setMajorSeventh = (draft: Draft, number: string | undefined): void => {
  draft.seventh = 0;
  draft.stack = [...new Set([...draft.stack, ...stackOf(Number(number ?? 7), draft.third)])];
};

/** `b5`, `#9`, `-9`, `+5` and their kin; `false` for one that is none of the usual alterations. */
function takeAlteration(draft: Draft, sign: string, number: number): boolean {
  const alter = sign === "-" ? -1 : sign === "+" ? 1 : sign[0] === "b" ? -sign.length : sign.length;
  if (number === 7) {
    // In minor, a sharp 7 is the raised one: the natural 7 of the major scale.
    draft.seventh = Math.min(alter, 0);
    return alter >= -2 && alter <= 1;
  }
  if (Math.abs(alter) !== 1) return false;
  if (number === 4) return takeAlteration(draft, sign, 11);
  if (number === 5) draft.fifths.push(alter);
  else if (number === 6) draft.added.push({ number, alter });
  else draft.altered.push({ number, alter });
  const known = number === 6 ? alter < 0 : number === 11 ? alter > 0 : number === 13 ? alter < 0 : true;
  return known;
}

type Take = (draft: Draft, found: RegExpExecArray, head: Head) => boolean;

function takeAddition(draft: Draft, found: RegExpExecArray): boolean {
  const added = readNumber(found[1] ?? found[2] ?? "");
  if (added !== undefined) draft.added.push(added);
  return added !== undefined;
}

/** `sus`, `sus2`, `sus4`, `sus24`, and one with its main number late: `sus9` is `9sus`. */
function takeSuspension(draft: Draft, found: RegExpExecArray, head: Head): boolean {
  if (head === "diminished" || head === "half-diminished") return false;
  const which = found[1] ?? "4";
  if (which.includes("2")) draft.suspended.push(2);
  if (which.includes("4")) draft.suspended.push(4);
  if (found[2] === undefined) return true;
  if (draft.seventh !== undefined || draft.sixth) return false;
  draft.seventh = head === "major" ? 0 : -1;
  draft.stack = stackOf(Number(found[2]), "none");
  return true;
}

function takeMajorSeventh(draft: Draft, found: RegExpExecArray): boolean {
  if (draft.seventh !== undefined) return false;
  setMajorSeventh(draft, found[1]);
  return true;
}

/** What may follow the main number, in any order; the first pattern that fits is taken. */
const marks: readonly (readonly [pattern: RegExp, take: Take])[] = [
  [alteration, (draft, found) => takeAlteration(draft, found[1] as string, Number(found[2]))],
  [/^add(?:\(([b#]*(?:1[0-3]|[2-9]))\)|([b#]*(?:1[0-3]|[2-9])))/, takeAddition],
  [
    /^(?:no|omit)(?:\((?:3|5|7|9|11|13)(?:rd|th)?\)|(?:3|5|7|9|11|13)(?:rd|th)?)/,
    (draft, found) => draft.omitted.push(Number(/[0-9]+/.exec(found[0])?.[0])) > 0,
  ],
  [/^sus(?:pended)?(2\/?4|4\/?2|2sus4|4sus2|2|4)?(13|11|9|7)?/, takeSuspension],
  [/^(?:aug|\+)(?=$|[()b#a-z])/, (draft) => draft.fifths.push(1) > 0],
  [/^(?:major|Major|MAJOR|maj|Maj|MAJ|Ma|MA|ma|M|\^)(7|9|11|13)/, takeMajorSeventh],
];

const bareNumber = /^(?:13|11|9|7|6|4|2)/;

/** Everything after the main number; `undefined` where some of it can't be read. */
function takeRest(draft: Draft, head: Head, from: string): Draft | undefined {
  let rest = from;
  let depth = 0;
  // A bare number adds its tone only after an alteration or in parentheses: `b711`, `(9)`; else it is a slip.
  let mayBeBare = false;
  while (rest !== "") {
    const sign = rest[0];
    const joins = (sign === "," && depth > 0) || (sign === "/" && /^\/(?:[b#^M]|13|11|9|m[aA])/.test(rest));
    if (sign === "(" || sign === ")" || joins) {
      depth += sign === "(" ? 1 : sign === ")" ? -1 : 0;
      if (depth < 0) return undefined;
      rest = rest.slice(1);
      mayBeBare = sign !== ")";
      continue;
    }
    const length = takeMark(draft, head, rest) ?? (mayBeBare ? takeBare(draft, head, rest) : undefined);
    if (length === undefined) return undefined;
    mayBeBare = alteration.test(rest);
    rest = rest.slice(length);
  }
  return depth === 0 ? draft : undefined;
}

/** The length of the mark taken, `undefined` where none fits. */
function takeMark(draft: Draft, head: Head, rest: string): number | undefined {
  for (const [pattern, take] of marks) {
    const found = pattern.exec(rest);
    if (found !== null) return take(draft, found, head) ? found[0].length : undefined;
  }
  return undefined;
}

function takeBare(draft: Draft, head: Head, rest: string): number | undefined {
  const found = bareNumber.exec(rest);
  if (found === null) return undefined;
  if (found[0] === "7") {
    // The seventh that the kind of chord has: `m(7)` is `m7`.
    if (draft.seventh !== undefined) return undefined;
    draft.third ??= "major";
    draft.seventh = headSevenths[head];
  } else {
    draft.added.push(natural(Number(found[0])));
  }
  return found[0].length;
}

/** All tones of what was read, with this third. */
function tonesOf(draft: Draft, third: Third | "none"): ToneNumber[] {
  const { altered: marked, omitted } = draft;
  const isAltered = (number: number): boolean => marked.some((n) => n.number === number);
  const tones: ToneNumber[] = [natural(1)];
  if (third !== "none" && !omitted.includes(3)) tones.push({ number: 3, alter: third === "minor" ? -1 : 0 });
  for (const number of draft.suspended) tones.push(natural(number));
  if (!omitted.includes(5)) {
    if (draft.fifths.length === 0) tones.push(natural(5));
    for (const alter of draft.fifths) tones.push({ number: 5, alter });
  }
  if (draft.sixth) tones.push(natural(6));
  if (draft.seventh !== undefined && !omitted.includes(7)) tones.push({ number: 7, alter: draft.seventh });
  for (const number of draft.stack) {
    if (isAltered(number) || omitted.includes(number)) continue;
    if (number === 11 && draft.suspended.includes(4)) continue;
    tones.push(natural(number));
  }
  tones.push(...marked, ...draft.added);
  return tones;
}

/** The first head with which the whole text can be read: `madd9` is no `ma`. */
function draftOf(normal: string): Draft | undefined {
  for (const [word, head] of heads) {
    if (!normal.startsWith(word)) continue;
    let rest = normal.slice(word.length);
    // `-5` is a flat fifth: a minor chord needs no 5 said. `+5` is the augmented chord either way.
    if (word === "-" && rest.startsWith("5")) continue;
    if (word === "+" && rest.startsWith("5")) rest = rest.slice(1);
    const draft = startOf(head);
    const seventh =
      head === "minor" || head === "diminished" || head === "augmented" ? majorSeventhWord.exec(rest) : null;
    if (
      seventh !== null &&
      (seventh[1] !== undefined || seventh[0].endsWith("^")) &&
      isBalanced(seventh[0])
    ) {
      rest = rest.slice(seventh[0].length);
      setMajorSeventh(draft, seventh[1]);
    } else if (head === "minor" && /^\+7/.test(rest)) {
      rest = rest.slice(2);
      setMajorSeventh(draft, undefined);
    } else {
      const main = mainNumber.exec(rest)?.[0] ?? "";
      if (!takeMain(draft, head, main)) continue;
      rest = rest.slice(main.length);
      const after = main === "" ? null : /^(?:maj|Maj|M|\^)(?![0-9a-z])/.exec(rest);
      if (after !== null && draft.seventh === -1) {
        draft.seventh = 0;
        rest = rest.slice(after[0].length);
      }
    }
    const whole = takeRest(draft, head, rest);
    if (whole === undefined) continue;
    finish(whole, head);
    return whole;
  }
  return undefined;
}

const isBalanced = (text: string): boolean => text.includes("(") === text.includes(")");

/** What follows from the whole: suspensions and omissions take the third away, lone ninths imply the seventh. */
function finish(draft: Draft, head: Head): void {
  const implied = draft.altered.some((n) => n.number === 9 || n.number === 13);
  if (implied && draft.seventh === undefined && !draft.sixth && head !== "major" && head !== "diminished") {
    draft.seventh = -1;
    if (head === "" && draft.third === undefined) draft.third = "major";
  }
  if (draft.suspended.length > 0 || draft.omitted.includes(3)) draft.third = "none";
}

/** The altered scale's own tones, spelled as the symbol's readers do: both fifths and both ninths. */
const alteredTones: readonly ToneNumber[] = [
  natural(1),
  natural(3),
  { number: 5, alter: -1 },
  { number: 5, alter: 1 },
  { number: 7, alter: -1 },
  { number: 9, alter: -1 },
  { number: 9, alter: 1 },
];

/** A text as the grammar takes it apart: whether it says the third, and its tones with either third. */
export interface ParsedQuality {
  readonly third: Third | "none" | undefined;
  readonly tones: (third: Third) => ToneNumber[];
}

/** Reads a quality's text, not empty; `undefined` where it is none. */
export function parseQuality(text: string): ParsedQuality | undefined {
  const normal = alike.reduce((sofar, [signs, sign]) => sofar.replace(signs, sign), text);
  if (/^(?:7?alt|alt7)$/.test(normal)) return { third: "major", tones: () => [...alteredTones] };
  const draft = draftOf(normal);
  return draft && { third: draft.third, tones: (third) => tonesOf(draft, draft.third ?? third) };
}
