import type { IToken, TokenType } from "chevrotain";
import type { PieceName } from "../../../grammar/tokens.js";
import { clip } from "../problems/clip.js";
import { type Fix, type Problem, problem } from "../problems/problem.js";
import type { Span } from "../text/span.js";
import { readName, readSigns } from "../theory/note-name.js";
import { type QualityReading, readQuality } from "../theory/quality.js";
import { cut } from "./cut.js";
import { type LineParser, run, type ToneNode } from "./line-parser.js";
import { nearestQualities } from "./nearest.js";
import type { RootText, SlotContent, ToneName, ToneText } from "./tree.js";
import type { Vocabulary } from "./vocabulary.js";

/** What a slot's text says, wherever it stands; spans count from the slot's start. */
export interface SlotReading {
  readonly content: SlotContent;
  readonly problems: readonly Problem[];
}

const unread: SlotContent = { kind: "unread" };
const spanOf = (token: IToken): Span => ({
  start: token.startOffset,
  end: token.startOffset + token.image.length,
});
const whole = (text: string): Span => ({ start: 0, end: text.length });

const replace = (span: Span, text: string, silent = false): Fix => ({
  title: `Write ${clip(text)}`,
  edits: [{ span, text }],
  silent,
});

const wrong = (...problems: Problem[]): SlotReading => ({ content: unread, problems });

const endingAstray = /^[0-9]+\.$/;

/** What went astray in any row: an ending, a repeat count or a comment that stands where a slot should. */
function astray(text: string): SlotReading | undefined {
  if (endingAstray.test(text)) {
    const advice = /^[12]\.$/.test(text)
      ? `The ending “${text}” stands right after a bar line.`
      : `Endings are 1. and 2. only: “${clip(text)}” can't be played.`;
    return wrong(problem("syntax", whole(text), { read: text, advice }));
  }
  const glued = text.indexOf(";");
  if (glued > 0) {
    const advice = "A comment needs a space before its “;”. Write the space, or take the “;” away.";
    const span = { start: glued, end: text.length };
    const fixes: Fix[] = [
      {
        title: "Put a space before the comment",
        edits: [{ span: { start: glued, end: glued }, text: " " }],
        silent: false,
      },
    ];
    return wrong(problem("syntax", span, { read: text.slice(glued), advice }, { fixes }));
  }
  if (/^x[0-9]+$/.test(text)) {
    const advice = `How often a repeat is played stands right after its “:|”: write :| ${clip(text)}.`;
    return wrong(problem("syntax", whole(text), { read: text, advice }));
  }
  return undefined;
}

// --- tones --------------------------------------------------------------------------------------------------------

const numberText = /^([b♭#♯]*)([0-9]+)$/;
const pitchText = /^([A-G][b♭#♯x]*)([0-9]*)$/;
/** More accidentals than these no chart that was moved can need. */
const mostAccidentals = 7;

/** `undefined` for a number that no tone has, or an octave beyond any instrument. */
export function readToneName(text: string): ToneName | undefined {
  const counted = numberText.exec(text);
  if (counted !== null) {
    const number = Number(counted[2]);
    const alter = readSigns(counted[1] as string);
    if (alter === undefined || Math.abs(alter) > 2 || (number === 0 && alter !== 0)) return undefined;
    return number <= 11 || number === 13 ? { kind: "number", number, alter } : undefined;
  }
  const named = pitchText.exec(text);
  const fifths = readName(named?.[1] ?? "");
  if (named === null || fifths === undefined || (named[1] as string).length > mostAccidentals + 1)
    return undefined;
  const octave = named[2] as string;
  return octave.length > 1
    ? undefined
    : { kind: "pitch", fifths, octave: octave === "" ? undefined : Number(octave) };
}

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

/** What a player may have meant by a tone's text without its signs. */
function nearestTones(text: string): string[] {
  const counted = numberText.exec(text);
  if (counted !== null) {
    const signs = counted[1] as string;
    const number = Number(counted[2]);
    if (number === 0) return ["0"];
    if (number > 100) return [];
    const sign = readSigns(signs) === undefined ? (signs[0] as string) : signs.slice(0, 2);
    const numbers = [((number - 1) % 7) + 1, ...[11, 13].filter((it) => Math.abs(it - number) <= 1)];
    return (number <= 11 || number === 13 ? [number] : numbers).map((it) => `${sign}${it}`);
  }
  if (/^[a-g][b♭#♯]*[0-9]?$/.test(text)) return [text[0]?.toUpperCase() + text.slice(1)];
  const turned = /^([0-9]+)([b♭#♯]+)$/.exec(text);
  if (turned === null) return [];
  return [`${turned[2]}${turned[1]}`].filter((it) => readToneName(it) !== undefined);
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
      sides.length > 1 || repeats(part) ? [] : nearestTones(core).map((tone) => `${before}${tone}`);
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

// --- chords -------------------------------------------------------------------------------------------------------

const mostDegreeSigns = 2;

function rootOf(token: IToken): RootText | undefined {
  const span = spanOf(token);
  const text = token.image;
  if (/^[A-G]/.test(text)) {
    const fifths = readName(text);
    return fifths === undefined || text.length > mostAccidentals + 1
      ? undefined
      : { kind: "letter", fifths, span };
  }
  const alter = readSigns(text.slice(0, -1));
  if (alter === undefined || Math.abs(alter) > mostDegreeSigns) return undefined;
  return { kind: "degree", degree: Number(text.at(-1)), alter, span };
}

/** The numbers that may follow a degree without a colon, as far as they can be read. */
const joined = /^(?:(?:6\/9|69|6|7|9|11|13)(?![0-9])|[b♭#♯])/;
const wantsColon = (quality: string): boolean => /^[0-9b♭#♯]/.test(quality);

/** A chord written anew with another quality. */
function chordText(root: string, isDegree: boolean, quality: string, bass: string): string {
  return `${root}${isDegree && wantsColon(quality) ? ":" : ""}${quality}${bass}`;
}

function unknownChord(text: string, meant: readonly string[]): SlotReading {
  const fixes = meant.map((it) => replace(whole(text), it));
  return wrong(problem("unknown-chord", whole(text), { text, nearest: meant }, { fixes }));
}

/** What a player may have meant by a text that has not the shape of a chord. */
function nearestShapes(text: string): string[] {
  if (/^[a-g]/.test(text)) {
    const capital = (text[0] as string).toUpperCase() + text.slice(1);
    const found = /^([A-G][b♭#♯x]*):?([^:/]*)(?:\/[A-G][b♭#♯x]*)?$/.exec(capital);
    return found !== null && readQuality(found[2] as string) !== undefined ? [capital] : [];
  }
  const trailing = /^(.*[^:/])[:/]+$/.exec(text);
  if (trailing !== null && /^(?:[b♭#♯]?[1-7]|[A-G][b♭#♯]?)[^:/]*$/.test(trailing[1] as string)) {
    return [trailing[1] as string];
  }
  const ninth = /^([b♭#♯]?[1-7]|[A-G][b♭#♯]?)\/9$/.exec(text);
  if (ninth !== null) return /^[A-G]/.test(text) ? [`${ninth[1]}add9`] : [`${ninth[1]}/2`, `${ninth[1]}add9`];
  return [];
}

function readChord(text: string, context: Reader): SlotReading {
  const { root: rootToken, colon, quality: qualityToken, bass: bassToken } = context.chord("chord", text);
  if (rootToken === undefined) return unknownChord(text, []);
  const root = rootOf(rootToken);
  const bass = bassToken && rootOf(bassToken);
  if (root === undefined || (bassToken !== undefined && bass === undefined)) return unknownChord(text, []);
  const quality = qualityToken?.image ?? "";
  const bassText = bassToken === undefined ? "" : `/${bassToken.image}`;
  const isDegree = root.kind === "degree";
  const isBare = isDegree && colon === undefined && wantsColon(quality);
  const apart = `${rootToken.image}:${quality}${bassText}`;
  // Between parentheses a player may leave a space after the comma.
  const read: QualityReading | undefined = readQuality(quality.replace(/[ \t]+/g, ""));
  const reading = read && { ...read, text: quality };
  if (reading === undefined || (isBare && !joined.test(quality))) {
    const elsewhere = astray(text);
    if (elsewhere !== undefined) return elsewhere;
    if (!isBare) {
      const meant = nearestQualities(quality).map((it) => chordText(rootToken.image, isDegree, it, bassText));
      return unknownChord(text, meant);
    }
    const digits = `${rootToken.image}${quality}`;
    const spaced = /^[1-7]{2,8}$/.test(digits) ? [[...digits].join(" ") + bassText] : [];
    return unknownChord(text, [...(reading === undefined ? [] : [apart]), ...spaced]);
  }
  const problems: Problem[] = [];
  if (isBare) {
    const fixes = [replace(whole(text), apart, true)];
    problems.push(problem("run-together", whole(text), { wrote: text, write: apart }, { fixes }));
  }
  if (bass !== undefined && bass.kind !== root.kind) {
    const [chordIs, bassIs] = isDegree ? ["number", "letter"] : ["letter", "number"];
    const facts = {
      wrote: text,
      write: "both as numbers or both as letters",
      why: `its chord is a ${chordIs} and its bass a ${bassIs}`,
    };
    problems.push(problem("spelling", whole(text), facts));
  }
  const end = spanOf(colon ?? rootToken).end;
  const content: SlotContent = {
    kind: "chord",
    root,
    colon: colon !== undefined,
    quality: reading,
    qualitySpan: qualityToken === undefined ? { start: end, end } : spanOf(qualityToken),
    bass,
  };
  return { content, problems };
}

function unknownShape(text: string): SlotReading {
  const elsewhere = astray(text);
  if (elsewhere !== undefined) return elsewhere;
  if (text === "from") {
    const advice =
      "“from” starts the home octave of a row of notes. Write it after lead, right, left or bass.";
    return wrong(problem("syntax", whole(text), { read: text, advice }));
  }
  return unknownChord(text, nearestShapes(text));
}

function againInChords(text: string): SlotReading {
  const advice = "“=” repeats tones, not chords. Write the chord again, or / to let it go on.";
  return wrong(problem("syntax", whole(text), { read: text, advice }));
}

// --- both ---------------------------------------------------------------------------------------------------------

const fixed = (content: SlotContent): SlotReading => ({ content, problems: [] });
const hold = fixed({ kind: "hold" });
const again = fixed({ kind: "again" });
const sameBar = fixed({ kind: "sameBar" });
const rest = fixed({ kind: "rest" });
const noChord = fixed({ kind: "noChord" });

/** Reads the inside of slots. */
export class Reader {
  private readonly parser: LineParser;
  private readonly types: Vocabulary;

  constructor(parser: LineParser, types: Vocabulary) {
    this.parser = parser;
    this.types = types;
  }

  /** The reading of a piece of a row of chords or of notes. */
  read(piece: TokenType, text: string, inChords: boolean): SlotReading {
    const { pieces } = this.types;
    switch (piece) {
      case pieces.hold:
      case pieces.slashes:
        return hold;
      case pieces.again:
        return inChords ? againInChords(text) : again;
      case pieces.sameBar:
        return sameBar;
      case pieces.rest:
        return rest;
      case pieces.noChord:
        return inChords ? noChord : rest;
      case pieces.chord:
        return readChord(text, this);
      case pieces.bassAlone:
        return this.bassAlone(text);
      case pieces.stack:
        return this.stack(text);
      case pieces.word:
        return fixed({ kind: "word", text });
      default:
        return unknownShape(text);
    }
  }

  /** A piece's tokens as the parser takes them. */
  private tokensOf(piece: PieceName, text: string): IToken[] {
    return cut(piece, text).map(({ name, start, text: image }) => {
      const tokenType = this.types.tokens[name];
      return { image, startOffset: start, tokenType, tokenTypeIdx: tokenType.tokenTypeIdx as number };
    });
  }

  chord(piece: PieceName, text: string) {
    const { node, failed } = run(this.parser, this.parser.chord, this.tokensOf(piece, text));
    return failed || node === undefined
      ? { root: undefined, colon: undefined, quality: undefined, bass: undefined }
      : node;
  }

  private bassAlone(text: string): SlotReading {
    const { node } = run(this.parser, this.parser.bass, this.tokensOf("bassAlone", text));
    const bass = node && rootOf(node);
    return bass === undefined ? unknownChord(text, []) : { content: { kind: "bass", bass }, problems: [] };
  }

  private stack(text: string): SlotReading {
    const { node, failed } = run(this.parser, this.parser.stack, this.types.stackLexer.tokenize(text).tokens);
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
}
