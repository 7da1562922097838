import { printNumber, type ToneNumber } from "./tone-number.js";

/**
 * From tones to the one symbol for them. A base from the list below is taken and what differs is said after it, so
 * that every set of tones has a symbol and reading it gives the same tones; the base that leaves least to say wins,
 * the earlier one on a tie.
 */
interface Base {
  readonly symbol: string;
  readonly isSus: boolean;
  readonly hasSeventh: boolean;
  readonly tones: readonly string[];
}

const bases: readonly Base[] = (
  [
    ["", "1 3 5"],
    ["m", "1 b3 5"],
    ["dim", "1 b3 b5"],
    ["aug", "1 3 #5"],
    ["5", "1 5"],
    ["sus", "1 4 5"],
    ["sus2", "1 2 5"],
    ["sus24", "1 2 4 5"],
    ["6", "1 3 5 6"],
    ["m6", "1 b3 5 6"],
    ["69", "1 3 5 6 9"],
    ["m69", "1 b3 5 6 9"],
    ["7", "1 3 5 b7"],
    ["maj7", "1 3 5 7"],
    ["m7", "1 b3 5 b7"],
    ["m(maj7)", "1 b3 5 7"],
    ["m7b5", "1 b3 b5 b7"],
    ["dim7", "1 b3 b5 bb7"],
    ["dim(maj7)", "1 b3 b5 7"],
    ["9", "1 3 5 b7 9"],
    ["maj9", "1 3 5 7 9"],
    ["m9", "1 b3 5 b7 9"],
    ["m(maj9)", "1 b3 5 7 9"],
    ["13", "1 3 5 b7 9 13"],
    ["maj13", "1 3 5 7 9 13"],
    ["m13", "1 b3 5 b7 9 11 13"],
    ["m(maj13)", "1 b3 5 7 9 11 13"],
    ["11", "1 3 5 b7 9 11"],
    ["maj11", "1 3 5 7 9 11"],
    ["m11", "1 b3 5 b7 9 11"],
    ["m(maj11)", "1 b3 5 7 9 11"],
    ["7sus", "1 4 5 b7"],
    ["9sus", "1 4 5 b7 9"],
    ["13sus", "1 4 5 b7 9 13"],
    ["maj7sus", "1 4 5 7"],
    ["maj9sus", "1 4 5 7 9"],
    ["maj13sus", "1 4 5 7 9 13"],
    ["7sus2", "1 2 5 b7"],
    ["maj7sus2", "1 2 5 7"],
    ["7alt", "1 3 b5 #5 b7 b9 #9"],
  ] as const
).map(([symbol, tones]) => ({
  symbol,
  isSus: symbol.includes("sus"),
  hasSeventh: tones.includes("7"),
  tones: tones.split(" "),
}));

const numberIn = (tone: string): string => tone.replace(/^[b#]+/, "");

/** Alterations that stand right after the number; anything else is added by name. */
const usualMarks: ReadonlySet<string> = new Set(["b5", "#5", "b9", "#9", "#11", "b13"]);

interface Change {
  readonly altered: string;
  readonly added: string;
  readonly omitted: string;
  readonly cost: number;
}

/** What must be said after the base to get exactly these tones; `undefined` where the base can't be used. */
function changeTo(base: Base, tones: readonly string[]): Change | undefined {
  const missing = base.tones.filter((tone) => !tones.includes(tone));
  const extra = tones.filter((tone) => !base.tones.includes(tone));
  if (base.symbol === "7alt" && missing.length + extra.length > 0) return undefined;
  let altered = "";
  let added = "";
  let omitted = "";
  const replaced = new Set<string>();
  for (const tone of extra) {
    const number = numberIn(tone);
    const isNatural = number === tone;
    const takesPlace = !tones.includes(number) && (number === "5" ? missing.includes("5") : true);
    // A b13 in the place of the 13 that the base is named for would read badly: m11b13, not m13b13.
    const isUsual = usualMarks.has(tone) && !(tone === "b13" && base.tones.includes("13"));
    if (!isNatural && isUsual && takesPlace && (number === "5" || base.hasSeventh)) {
      altered += tone;
      replaced.add(number);
    } else {
      added += `add${tone}`;
    }
  }
  for (const tone of missing) {
    const number = numberIn(tone);
    if (replaced.has(number)) continue;
    // Only these are left out by name; a chord without its seventh is said from another base.
    if (!["3", "5", "9", "11", "13"].includes(number)) return undefined;
    if (number === "3" && tones.some((other) => numberIn(other) === "3")) return undefined;
    omitted += `no${number}`;
  }
  if (base.symbol === "5" && altered + added + omitted !== "") return undefined;
  // A written seventh is worth saying first: 7add6, not 6addb7.
  if (!base.hasSeventh && (tones.includes("7") || tones.includes("b7"))) return undefined;
  const count = (text: string, word: RegExp): number => text.match(word)?.length ?? 0;
  const cost = count(altered, /[0-9]+/g) + 2 * count(added, /add/g) + 3 * count(omitted, /no/g);
  return { altered, added, omitted, cost };
}

function write(base: Base, { altered, added, omitted }: Change): string {
  const [stem, sus] = base.isSus ? splitSus(base.symbol) : [base.symbol, ""];
  const start = stem === "" && altered !== "" ? "maj" : stem;
  return start + altered + sus + added + omitted;
}

const splitSus = (symbol: string): [string, string] => {
  const at = symbol.indexOf("sus");
  return [symbol.slice(0, at), symbol.slice(at)];
};

/** The canonical symbol of sorted tones, as it stands after a letter root. */
export function symbolOf(tones: readonly ToneNumber[]): string {
  const wanted = tones.map(printNumber);
  let best: { readonly base: Base; readonly change: Change } | undefined;
  for (const base of bases) {
    const change = changeTo(base, wanted);
    if (change !== undefined && (best === undefined || change.cost < best.change.cost))
      best = { base, change };
    if (change?.cost === 0) break;
  }
  return best === undefined ? "" : write(best.base, best.change);
}
