import { readSigns } from "../theory/note-name.js";
import { saysNoChord } from "./chord-meant.js";
import { numberText, readToneName } from "./tone-name.js";

const isTone = (text: string): boolean => readToneName(text) !== undefined;

/** Two to five numbers without anything between them. */
const runTogether = /^(?:[b♭#♯]{1,2}1[013]|[b♭#♯]{0,2}[1-9]){2,5}$/;
/** After an accidental 11 and 13 are colour tones; without one, two numbers. */
const oneOfRun = /[b♭#♯]+(?:1[013]|[1-9])|[1-9]/g;

/** Numbers written apart, as slots of their own and as one stack; inside a stack as a part of it alone. */
function apart(text: string, isAlone: boolean): string[] {
  const tones = runTogether.test(text) ? (text.match(oneOfRun) ?? []) : [];
  if (tones.length < 2 || !tones.every(isTone)) return [];
  return isAlone ? [tones.join(" "), tones.join("+")] : [tones.join("+")];
}

function numbersMeant(signs: string, digits: string, isAlone: boolean): string[] {
  const number = Number(digits);
  if (number === 0) return ["0"];
  const sign = readSigns(signs) === undefined ? (signs[0] as string) : signs.slice(0, 2);
  if (number <= 11 || number === 13) return [`${sign}${number}`];
  if (number === 12) return [5, 11, 13].map((it) => `${sign}${it}`);
  // 14 and 15 are the 7 and the 1 an octave up.
  const simple = number <= 15 ? [`${sign}${number - 7 > 7 ? 1 : 7}`] : [];
  const colour = /^[2-9][13]$/.test(digits) ? [`${sign}1${digits[1]}`] : [];
  return [...simple, ...apart(`${sign}${digits}`, isAlone), ...colour];
}

/**
 * What a player may have meant by a tone's text without its signs, the likeliest first. `isAlone` says that it is a
 * whole slot, so that several slots may stand in its place.
 */
export function tonesMeant(text: string, isAlone: boolean): string[] {
  if (isAlone && saysNoChord(text)) return ["r"];
  if (isAlone && /^[x×X]$/.test(text)) return ["r", "-"];
  const counted = numberText.exec(text);
  if (counted !== null) return numbersMeant(counted[1] as string, counted[2] as string, isAlone);
  if (/^[a-g][b♭#♯]*[0-9]?$/.test(text)) {
    const capital = `${text[0]?.toUpperCase()}${text.slice(1)}`;
    if (isTone(capital)) return [capital];
  }
  const turned = /^([0-9]+)([b♭#♯]+)$/.exec(text);
  if (turned !== null) return [`${turned[2]}${turned[1]}`].filter(isTone);
  const sides = text.split("/");
  if (sides.length > 1 && sides.length <= 5 && sides.every(isTone)) return [sides.join("+")];
  return apart(text, isAlone);
}
