import type { IToken } from "chevrotain";
import { problem } from "../problems/problem.js";
import { run, type ToneNode } from "./line-parser.js";
import { astray, replace, type SlotReading, spanOf, type Tools, whole, wrong } from "./slot-reading.js";
import { tonesMeant } from "./tone-meant.js";
import { readToneName } from "./tone-name.js";
import type { SlotContent, ToneText } from "./tree.js";

/** Each sign at most once, but for `>` and `<`; a tone doesn't count from key and chord at once. */
const isRepeated = (signs: readonly IToken[]): boolean =>
  ["!", "~", "_"].some((sign) => signs.filter(({ image }) => image === sign).length > 1) ||
  signs.filter(({ image }) => image === "k" || image === "c").length > 1;

const isOctaveSign = ({ image }: IToken): boolean => image === ">" || image === "<";
const isStackSign = ({ image }: IToken): boolean => image === "!" || image === "~";

/** The tone, and its text with the signs in their order; `undefined` where it can't be read. */
function toneOf(node: ToneNode): { tone: ToneText; usual: string } | undefined {
  const signs = [...node.signs.filter((sign) => !isStackSign(sign)), ...(node.slip?.signs ?? [])];
  const nameToken = node.slip?.name ?? node.name;
  const name = readToneName(nameToken.image);
  const grace = node.slip === undefined ? undefined : readToneName(node.name.image);
  if (name === undefined || (node.slip !== undefined && grace === undefined)) return undefined;
  if (isRepeated(signs) || signs.some(isStackSign)) return undefined;
  const held = signs.find(({ image }) => image === "_");
  const counts = signs.find(({ image }) => image === "k" || image === "c");
  // A letter is a pitch: it counts from nothing.
  if (counts !== undefined && name.kind === "pitch") return undefined;
  const octaves = signs.filter(isOctaveSign);
  const first = octaves[0];
  const last = octaves.at(-1);
  const start = Math.min(
    node.name.startOffset,
    nameToken.startOffset,
    ...signs.map((sign) => sign.startOffset),
  );
  const written = (tokens: readonly (IToken | undefined)[]) =>
    tokens.map((token) => token?.image ?? "").join("");
  return {
    tone: {
      span: { start, end: spanOf(nameToken).end },
      held: held && spanOf(held),
      octaves: octaves.reduce((sum, { image }) => sum + (image === ">" ? 1 : -1), 0),
      octaveSigns: first && last && { start: first.startOffset, end: spanOf(last).end },
      counts: counts === undefined ? undefined : counts.image === "k" ? "key" : "chord",
      name,
      nameSpan: spanOf(nameToken),
      grace,
      graceSpan: node.slip && spanOf(node.name),
    },
    usual:
      (node.slip === undefined ? "" : `${node.name.image}~`) + written([held, ...octaves, counts, nameToken]),
  };
}

/** One problem for a stack that can't be read: what went wrong first in it. */
function unknownTone(text: string): SlotReading {
  const elsewhere = astray(text);
  if (elsewhere !== undefined) return elsewhere;
  const signed = /^([!~]+)(r|-|=|%|NC)$/.exec(text);
  if (signed !== null) {
    const sign = (signed[1] as string)[0] as string;
    const advice = `“${sign}” stands before tones. Write ${signed[2]} without it.`;
    const fixes = [replace(whole(text), signed[2] as string)];
    return wrong(problem("syntax", whole(text), { read: text, advice }, { fixes }));
  }
  if (/^\/+$/.test(text)) {
    const nearest = ["-".repeat(text.length).split("").join(" ")];
    const fixes = [replace(whole(text), nearest[0] as string)];
    return wrong(problem("unknown-tone", whole(text), { text, nearest }, { fixes }));
  }
  let at = 0;
  for (const part of text.split("+")) {
    const span = { start: at, end: at + part.length };
    at = span.end + 1;
    if (part === "") {
      const advice = "A tone is missing beside the “+”. Write it, or take the “+” away.";
      return wrong(problem("syntax", whole(text), { read: text, advice }));
    }
    const [before, core] = splitSigns(part);
    const sides = core.split("~");
    const isFine =
      sides.length <= 2 && sides.every((side) => readToneName(splitSigns(side)[1]) !== undefined);
    if (isFine && !repeats(part)) continue;
    const nearest =
      sides.length > 1 || repeats(part)
        ? []
        : tonesMeant(core, part === text && before === "").map((tone) => `${before}${tone}`);
    const fixes = nearest.map((it) => replace(span, it));
    return wrong(problem("unknown-tone", span, { text: part, nearest }, { fixes }));
  }
  return wrong(problem("unknown-tone", whole(text), { text, nearest: [] }));
}

/** The signs before a tone, and the rest. `c` and `k` are signs only where a number may follow. */
function splitSigns(part: string): [signs: string, core: string] {
  const signs = /^(?:[!~_<>]|[kc](?=[_<>0-9b♭#♯]*[0-9]))*/.exec(part)?.[0] ?? "";
  return [signs, part.slice(signs.length)];
}
const repeats = (part: string): boolean => /([!~_kc])[<>]*\1|[kc][_<>]*[kc]/.test(part);

/** The reading of a stack of tones, or of one. */
export function readStack(text: string, { parser, types }: Tools): SlotReading {
  const { node, failed } = run(parser, parser.stack, types.stackLexer.tokenize(text).tokens);
  if (failed || node === undefined) return unknownTone(text);
  const tones = node.map(toneOf);
  if (!tones.every((it) => it !== undefined)) return unknownTone(text);
  const stackSigns = node.flatMap(({ signs }) => signs.filter(isStackSign));
  if (isRepeated(stackSigns)) return unknownTone(text);
  const pushed = stackSigns.find(({ image }) => image === "!");
  const rolled = stackSigns.find(({ image }) => image === "~");
  const content: SlotContent = {
    kind: "stack",
    pushed: pushed && spanOf(pushed),
    rolled: rolled && spanOf(rolled),
    tones: tones.map(({ tone }) => tone),
  };
  const usual = (pushed?.image ?? "") + (rolled?.image ?? "") + tones.map((it) => it.usual).join("+");
  if (usual === text) return { content, problems: [] };
  const fixes = [replace(whole(text), usual, true)];
  return {
    content,
    problems: [problem("sign-order", whole(text), { wrote: text, write: usual }, { fixes })],
  };
}
