import { clip } from "../problems/clip.js";
import { nearest } from "../text/nearest.js";
import { keyMeant } from "./key-meant.js";
import type { Meant } from "./meant.js";

const half = /^(?:half(?:[- ]?(?:steps?|tones?))?|semi-?tones?)$/i;
const whole = /^(?:whole(?:[- ]?(?:steps?|tones?))?|tones?)$/i;
const open = /^(?:steps?|keys?|[0-9]+|two|three|four|five|six|seven)$/i;
const farther = /^(?:second|third|fourth|fifth|sixth|seventh|octave|[2-8](?:nd|rd|th))s?$/i;
const article = /^(?:a|an|one|1|by|the)$/i;
const slips = ["half", "whole"] as const;

/** How far a section moves by this word: `undefined` for a word that says nothing of it, both where it isn't clear. */
function stepsOf(word: string): readonly string[] | undefined {
  if (half.test(word)) return ["half"];
  if (whole.test(word)) return ["whole"];
  if (farther.test(word)) return [];
  if (open.test(word)) return slips;
  const slip = /^[a-z]{3,6}$/.test(word) ? nearest(word, slips, 1, 1) : [];
  return slip.length > 0 ? slip : undefined;
}

/** The words that name a step, after `up` or `down`: `a half`, `half-step`, `haf`. */
function stepMeant(sign: string, words: readonly string[]): Meant | undefined {
  let at = 0;
  while (at < 2 && article.test(words[at] ?? "")) at++;
  const word = words[at];
  // “up 1” is a half step: the article is the step itself.
  if (word === undefined || stepsOf(word) === undefined) {
    if (words[0] !== "1" && words[0] !== "one") return undefined;
    return { count: 1, wrong: 0, texts: [`${sign} half`], why: whyOf(sign, ["half"]) };
  }
  const steps = stepsOf(word) as readonly string[];
  const tail = /^(?:half|whole)$/i.test(word) && /^(?:steps?|tones?)$/i.test(words[at + 1] ?? "") ? 1 : 0;
  const wrong = at > 0 || tail === 0 ? 0 : 1;
  return { count: at + 1 + tail, wrong, texts: steps.map((it) => `${sign} ${it}`), why: whyOf(sign, steps) };
}

const whyOf = (sign: string, steps: readonly string[]): string =>
  steps.length === 0
    ? `“${sign}” is followed by half or whole. To move farther, name the key: in Db.`
    : `“${sign}” is followed by half or whole. Write ${steps.map((it) => `${sign} ${it}`).join(" or ")}.`;

/** One letter or so, that stands where a key should. */
const likeKey = /^(?:[0-9]+|[A-Za-z](?:[b♭#♯]|flat|sharp)*m?)$/;

/**
 * What was meant after `in`, `up` or `down` by words that are no key and no step; `undefined` where they look like
 * neither, so that they may name a section.
 */
export function moveMeant(sign: string, words: readonly string[]): Meant | undefined {
  if (sign !== "in") return stepMeant(sign, words);
  const key = keyMeant(words);
  if (key !== undefined) return { ...key, texts: key.texts.map((it) => `in ${it}`) };
  const word = words[0];
  if (word === undefined || !likeKey.test(word)) return undefined;
  const why = `“${clip(word)}” is not a key. A key is a letter from A to G, with b or # after it: in Db.`;
  return { count: 1, wrong: 0, texts: [], why };
}
