import type { Document } from "../document/document.js";
import type { LeafSlot, Line, RowLine, Slot, SlotContent, Statement, Token } from "../syntax/tree.js";
import { indexAt } from "../text/lines.js";
import { type Span, shift } from "../text/span.js";

/** Types and modifiers of the Language Server Protocol, which every theme knows; a place in the list is its number. */
export const tokenTypes = [
  "comment",
  "keyword",
  "string",
  "number",
  "operator",
  "namespace",
  "function",
  "type",
  "variable",
  "enumMember",
] as const;
export const tokenModifiers = ["declaration", "readonly"] as const;
export type TokenType = (typeof tokenTypes)[number];
export type TokenModifier = (typeof tokenModifiers)[number];

/** A token with what it is. */
export interface SemanticToken {
  readonly span: Span;
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

/**
 * The tokens of the lines that a range touches (else of all), in order and apart, each on one line. Beyond what
 * patterns can tell they part a chord's root from its bass, and numbers that count from the chord from those that
 * count from the key.
 */
export function semanticTokens({ tree }: Document, range?: Span): readonly SemanticToken[] {
  const { lines, starts } = tree;
  const first = range === undefined ? 0 : indexAt(starts, range.start);
  const last = range === undefined ? lines.length - 1 : indexAt(starts, Math.max(range.start, range.end - 1));
  const found: SemanticToken[] = [];
  for (let i = first; i <= last; i++) {
    const start = starts[i] as number;
    for (const { span, type, modifiers } of lineTokens(lines[i] as Line)) {
      found.push({ span: shift(span, start), type, modifiers });
    }
  }
  return found;
}

const known = new WeakMap<Line, readonly SemanticToken[]>();

/** The tokens of one line, counted from its start: equal lines are one object, and are looked at once. */
export function lineTokens(line: Line): readonly SemanticToken[] {
  const before = known.get(line);
  if (before !== undefined) return before;
  const found = readLine(line);
  known.set(line, found);
  return found;
}

interface Meaning {
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

const meaning = (type: TokenType, ...modifiers: readonly TokenModifier[]): Meaning => ({ type, modifiers });

const comment = meaning("comment");
const keyword = meaning("keyword");
const printed = meaning("string");
const number = meaning("number");
const operator = meaning("operator");
const opened = meaning("namespace", "declaration");
const played = meaning("namespace");
const root = meaning("function");
const bass = meaning("variable");
const quality = meaning("type");
const fromKey = meaning("variable");
const letter = meaning("variable", "readonly");
const constant = meaning("enumMember");

/** Where a token means the same wherever it stands; without an entry it is left to the colours of the patterns. */
const plain: Readonly<Partial<Record<Token["kind"], Meaning>>> = {
  comment,
  headerWord: keyword,
  sectionWord: keyword,
  rowWord: keyword,
  text: printed,
  word: printed,
  sectionName: opened,
  sectionUse: played,
  tonic: letter,
  mode: constant,
  original: keyword,
  number,
  feelWord: constant,
  hand: keyword,
  times: number,
  moveWord: keyword,
  step: constant,
  from: keyword,
  ending: keyword,
  hold: operator,
  again: operator,
  sameBar: operator,
  rest: keyword,
  noChord: keyword,
  quality,
  slash: operator,
  push: operator,
  roll: operator,
  held: operator,
  octaveUp: operator,
  octaveDown: operator,
  counts: operator,
  pitch: letter,
  plus: operator,
};

const quotedIn: Readonly<Partial<Record<Statement["kind"], Meaning>>> = {
  section: opened,
  form: played,
  play: played,
  use: printed,
};

function readLine(line: Line): readonly SemanticToken[] {
  const { statement, text, problems } = line;
  // A row that can be read is put together from its slots, whose texts are few; the lexer reads every character.
  if (statement.kind === "row" && problems.length === 0 && !text.includes(";")) {
    return readRow(statement, line);
  }
  return lexed(line);
}

/** The tokens of a line as the lexer cuts it. */
export function lexed({ tokens, text, statement }: Line): readonly SemanticToken[] {
  const found: SemanticToken[] = [];
  tokens.forEach((token, i) => {
    const it = meaningOf(token, i, tokens, text, statement);
    if (it !== undefined) found.push({ span: token.span, ...it });
  });
  return found;
}

function readRow(row: RowLine, line: Line): readonly SemanticToken[] {
  const found: SemanticToken[] = [{ span: row.nameSpan, ...keyword }];
  let cut: readonly SemanticToken[] | undefined;
  const cutOnce = (): readonly SemanticToken[] => {
    cut ??= lexed(line);
    return cut;
  };
  const { from } = row;
  if (from !== undefined) {
    found.push({ span: { start: from.span.start, end: from.span.start + 4 }, ...keyword });
    found.push({ span: from.pitch.span, ...letter });
  }
  const inSlots = (slots: readonly Slot[]): void => {
    for (const slot of slots) {
      if (slot.kind === "group") {
        for (let at = slot.signs.start; at < slot.signs.end; at++)
          found.push({ span: { start: at, end: at + 1 }, ...operator });
        inSlots(slot.slots);
      } else if (isSign(slot)) found.push({ span: slot.span, ...signs[slot.content.kind] });
      else
        for (const it of slotTokens(slot, row, cutOnce))
          found.push({ ...it, span: shift(it.span, slot.span.start) });
    }
  };
  inSlots(row.pickup);
  row.bars.forEach(({ ending, slots, close }) => {
    if (ending !== undefined) found.push({ span: ending.span, ...keyword });
    inSlots(slots);
    if (close?.timesSpan !== undefined) found.push({ span: close.timesSpan, ...number });
  });
  return found;
}

/** The slots that are one token. */
const signs = {
  hold: operator,
  again: operator,
  sameBar: operator,
  rest: keyword,
  noChord: keyword,
  word: printed,
};
type SignSlot = LeafSlot & { readonly content: { readonly kind: keyof typeof signs } };
const isSign = (slot: LeafSlot): slot is SignSlot => slot.content.kind in signs;

/** By the content that equal slots share: counted from the slot's start, in rows whose numbers count from the key and in others. */
const knownSlots = {
  fromKey: new WeakMap<SlotContent, readonly SemanticToken[]>(),
  fromChord: new WeakMap<SlotContent, readonly SemanticToken[]>(),
};

function slotTokens(
  slot: LeafSlot,
  row: RowLine,
  lineCut: () => readonly SemanticToken[],
): readonly SemanticToken[] {
  const byContent = countsByKey(row) ? knownSlots.fromKey : knownSlots.fromChord;
  const before = byContent.get(slot.content);
  if (before !== undefined) return before;
  const { start, end } = slot.span;
  const own = lineCut()
    .filter(({ span }) => start <= span.start && span.end <= end)
    .map((it) => ({ ...it, span: shift(it.span, -start) }));
  byContent.set(slot.content, own);
  return own;
}

const countsByKey = ({ row }: RowLine): boolean => row === "lead" || row === "bass";

function meaningOf(
  { kind, span }: Token,
  index: number,
  tokens: readonly Token[],
  text: string,
  statement: Statement,
): Meaning | undefined {
  switch (kind) {
    case "quoted":
      return quotedIn[statement.kind];
    case "degree":
    case "letter":
      return tokens[index - 1]?.kind === "slash" ? bass : root;
    case "toneNumber": {
      const isBass = text.slice(span.start, span.end) === "0";
      return !isBass && countsFromKey(index, tokens, text, statement) ? fromKey : number;
    }
    default:
      return plain[kind];
  }
}

/** Signs that may stand between a grace note or a tone's sign and its number. */
const beforeNumber: ReadonlySet<Token["kind"]> = new Set(["roll", "held", "octaveUp", "octaveDown"]);

/** Whether a number counts from the key: by its sign, which a grace number takes from its tone, or by its row. */
function countsFromKey(index: number, tokens: readonly Token[], text: string, statement: Statement): boolean {
  const before = tokens[index - 1];
  let sign = before?.kind === "counts" ? before : undefined;
  if (sign === undefined && tokens[index + 1]?.kind === "roll") {
    let next = index + 1;
    while (beforeNumber.has(tokens[next]?.kind ?? "white")) next++;
    if (tokens[next]?.kind === "counts") sign = tokens[next];
  }
  if (sign !== undefined) return text[sign.span.start] === "k";
  return statement.kind === "row" && countsByKey(statement);
}
