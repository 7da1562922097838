import { createToken, Lexer, type TokenType } from "chevrotain";
import {
  indent,
  type LineDefinition,
  type LineKind,
  lines,
  nameOf,
  type Piece,
  type PieceName,
  patternOf,
  pieceSource,
  pieces,
  type TokenName,
  tokens,
} from "../../../grammar/tokens.js";

/** The lexers, made from the table of tokens, and the types of what they find. */
export interface Vocabulary {
  /** Cuts one line, without its line end, into its first word and pieces; white space and comments are left out. */
  readonly lineLexer: Lexer;
  /** Cuts the inside of a stack into tokens. */
  readonly stackLexer: Lexer;
  readonly words: Readonly<Record<LineKind, TokenType>>;
  readonly pieces: Readonly<Record<PieceName, TokenType>>;
  /** The tokens that a slot consists of. */
  readonly tokens: Readonly<Record<TokenName, TokenType>>;
  /** Any piece that fills a slot or several. */
  readonly leaf: TokenType;
  /** Stands for parentheses that can't be read. */
  readonly stray: TokenType;
  /** What token each first word is. */
  readonly wordTokens: ReadonlyMap<TokenType, TokenName>;
  /** The kind of line that each first word opens. */
  readonly kindOf: ReadonlyMap<TokenType, LineKind>;
  readonly all: readonly TokenType[];
}

const leafPieces: ReadonlySet<PieceName> = new Set<PieceName>([
  "slashes",
  "hold",
  "again",
  "sameBar",
  "rest",
  "noChord",
  "chord",
  "bassAlone",
  "noShape",
  "stack",
  "words",
  "other",
]);

/**
 * The characters that a complement set can start with; chevrotain can't see them by itself and would then try every
 * token at every place. Above 255 it keeps one bucket for every 255 codes.
 */
function startsOf(source: string): number[] | undefined {
  if (!/^(?:\(\?:)?\[\^/.test(source)) return undefined;
  const matcher = new RegExp(`^${source}`);
  const codes: number[] = [];
  for (let code = 0; code < 256; code++) if (matcher.test(String.fromCharCode(code))) codes.push(code);
  for (let code = 256; code < 65_536; code += 255) codes.push(code);
  codes.push(65_535);
  return codes;
}

function typeOf(
  name: string,
  source: string,
  more: { push_mode?: string; group?: string; categories?: TokenType[] },
) {
  const starts = startsOf(source);
  return createToken({
    name,
    pattern: new RegExp(source),
    ...more,
    ...(starts === undefined ? {} : { start_chars_hint: starts }),
  });
}

const entriesOf = <K extends string, V>(record: Readonly<Record<K, V>>): [K, V][] =>
  Object.entries(record) as [K, V][];
const fromEntries = <K extends string, V>(entries: readonly (readonly [K, V])[]): Record<K, V> =>
  Object.fromEntries(entries) as Record<K, V>;

/** `validate` asks chevrotain to look for mistakes in the tokens themselves; a test does. */
export function makeVocabulary(validate: boolean): Vocabulary {
  const leaf = createToken({ name: "leaf", pattern: Lexer.NA });
  const stray = createToken({ name: "stray", pattern: Lexer.NA, categories: [leaf] });
  const skipped: ReadonlySet<PieceName> = new Set<PieceName>(["white", "comment"]);
  const pieceTypes = fromEntries(
    entriesOf<PieceName, Piece>(pieces).map(([name, piece]) => [
      name,
      typeOf(name, pieceSource(piece), {
        ...(skipped.has(name) ? { group: Lexer.SKIPPED } : {}),
        ...(leafPieces.has(name) ? { categories: [leaf] } : {}),
      }),
    ]),
  );
  const words = fromEntries(
    entriesOf<LineKind, LineDefinition>(lines).map(([kind, line]) => [
      kind,
      typeOf(`${kind} line`, patternOf(line.word) + (line.before ?? ""), { push_mode: kind }),
    ]),
  );
  const start = [
    createToken({ name: "indent", pattern: new RegExp(indent.some), group: Lexer.SKIPPED }),
    createToken({ name: "lineComment", pattern: new RegExp(tokens.comment.pattern), group: Lexer.SKIPPED }),
    ...Object.values(words),
  ];
  const modes: Record<string, TokenType[]> = { start };
  for (const [kind, line] of entriesOf<LineKind, LineDefinition>(lines)) {
    modes[kind] = line.pieces.map((name) => pieceTypes[name]);
  }
  const inside = pieces.stack.inside.map(
    (use) => [nameOf(use), typeOf(`${nameOf(use)} token`, patternOf(use), {})] as const,
  );
  const tokenTypes = {
    ...fromEntries(
      entriesOf(tokens).map(([name]) => [name, createToken({ name: `${name} token`, pattern: Lexer.NA })]),
    ),
    ...fromEntries(inside),
  };
  const options = {
    positionTracking: "onlyOffset",
    skipValidations: !validate,
    ensureOptimizations: true,
  } as const;
  return {
    lineLexer: new Lexer({ modes, defaultMode: "start" }, options),
    stackLexer: new Lexer(
      inside.map(([, type]) => type),
      options,
    ),
    words,
    pieces: pieceTypes,
    tokens: tokenTypes,
    leaf,
    stray,
    wordTokens: new Map(entriesOf(words).map(([kind, type]) => [type, nameOf(lines[kind].word)])),
    kindOf: new Map(entriesOf(words).map(([kind, type]) => [type, kind])),
    all: [leaf, stray, ...Object.values(pieceTypes), ...Object.values(words), ...Object.values(tokenTypes)],
  };
}

let made: Vocabulary | undefined;

/** Made at first use, since it takes some milliseconds that a start should not pay. */
export function vocabulary(): Vocabulary {
  made ??= makeVocabulary(false);
  return made;
}
