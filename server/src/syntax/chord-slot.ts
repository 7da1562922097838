import type { IToken } from "chevrotain";
import type { PieceName } from "../../../grammar/tokens.js";
import type { FactsOf } from "../problems/catalogue.js";
import { clip } from "../problems/clip.js";
import { type Fix, type Problem, problem } from "../problems/problem.js";
import type { Span } from "../text/span.js";
import { readName, readSigns } from "../theory/note-name.js";
import { type QualityReading, readQuality } from "../theory/quality.js";
import { neverOpened } from "./balance.js";
import { balanced, nearestQualities, nearestShapes } from "./chord-meant.js";
import { cut } from "./cut.js";
import { run } from "./line-parser.js";
import { astray, replace, type SlotReading, spanOf, type Tools, whole, wrong } from "./slot-reading.js";
import { mostAccidentals } from "./tone-name.js";
import type { RootText, SlotContent } from "./tree.js";

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

/** The reading of what has the shape of a chord. */
export function readChord(text: string, tools: Tools): SlotReading {
  const { node } = run(tools.parser, tools.parser.chord, tokensOf("chord", text, tools));
  if (node === undefined) return unknownChord(text, []);
  const { root: rootToken, colon, quality: qualityToken, bass: bassToken } = node;
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

/** What stands in a chord's place and has not its shape. */
export function unknownShape(text: string, tools: Tools): SlotReading {
  const elsewhere = astray(text);
  if (elsewhere !== undefined) return elsewhere;
  if (text === "from") {
    const advice =
      "“from” starts the home octave of a row of notes. Write it after lead, right, left or bass.";
    return wrong(problem("syntax", whole(text), { read: text, advice }));
  }
  const unbalanced =
    text.length <= longestUnbalanced && /[()]/.test(text) ? readUnbalanced(text, tools) : undefined;
  if (unbalanced !== undefined) return unbalanced;
  const meant = nearestShapes(text, (it) => meantBy(it, tools));
  return unknownChord(text, meant);
}

const isShaped = (text: string): boolean => cut("chord", text).every(({ name }) => name !== "unread");

/** A text with the shape of a chord where it is one; else the chords that it may mean. */
function meantBy(text: string, tools: Tools): readonly string[] {
  if (!isShaped(text)) return [];
  const { content, problems } = readChord(text, tools);
  if (content.kind === "chord") return [text];
  return problems.flatMap(({ code, facts }) =>
    code === "unknown-chord" ? (facts as FactsOf<"unknown-chord">).nearest : [],
  );
}

/** What is longer is no chord with a parenthesis too few. */
const longestUnbalanced = 40;

const withoutIt = (span: Span, read: string): Fix => ({
  title: `Take “${clip(read)}” away`,
  edits: [{ span, text: "" }],
  silent: false,
});

/** A chord with a parenthesis that lacks its other half; `undefined` where it is nothing of the kind. */
function readUnbalanced(text: string, tools: Tools): SlotReading | undefined {
  const reads = (it: string): boolean => isShaped(it) && readChord(it, tools).content.kind === "chord";
  const meant = balanced(text, reads);
  const [, chord, read] = /^([^()]+)(\)+)$/.exec(text) ?? [];
  // With no colour to put into parentheses it is the end of a group that was never opened.
  if (chord !== undefined && read !== undefined && reads(chord) && !meant.some((it) => it.includes("("))) {
    const span = { start: chord.length, end: text.length };
    return wrong(problem("syntax", span, { read, advice: neverOpened }, { fixes: [withoutIt(span, read)] }));
  }
  return meant.length === 0 ? undefined : unknownChord(text, meant);
}

export function againInChords(text: string): SlotReading {
  const advice = "“=” repeats tones, not chords. Write the chord again, or / to let it go on.";
  return wrong(problem("syntax", whole(text), { read: text, advice }));
}

/** The reading of a bass alone: `/7`. */
export function readBassAlone(text: string, tools: Tools): SlotReading {
  const { node } = run(tools.parser, tools.parser.bass, tokensOf("bassAlone", text, tools));
  const bass = node && rootOf(node);
  return bass === undefined ? unknownChord(text, []) : { content: { kind: "bass", bass }, problems: [] };
}

/** A piece's tokens as the parser takes them. */
const tokensOf = (piece: PieceName, text: string, { types }: Tools): IToken[] =>
  cut(piece, text).map(({ name, start, text: image }) => {
    const tokenType = types.tokens[name];
    return { image, startOffset: start, tokenType, tokenTypeIdx: tokenType.tokenTypeIdx as number };
  });
