/**
 * The single table of tokens. The server's lexer and the editor's colouring grammar are both made from it, so a
 * pattern uses explicit character classes and look-ahead only: what JavaScript and the editor's engine read alike.
 */
export interface TokenDefinition {
  /** The source of a regular expression without capturing groups. */
  readonly pattern: string;
  /** The TextMate scope, without the closing `.plagal`; empty for what has no colour. */
  readonly scope: string;
  readonly meaning: string;
  readonly example: string;
}

/** Nothing, white space or a line end comes next. */
const wordEnd = "(?![^ \\t\\r\\n])";
/** As `wordEnd`; a bar line may come next too. */
const firstEnd = "(?![^ \\t\\r\\n|])";
/** As `firstEnd`; a parenthesis or `:|` may come next too. */
const slotEnd = "(?![^ \\t\\r\\n|():]|:(?!\\|))";
/** As `wordEnd`; a parenthesis may come next too. */
const keyEnd = "(?![^ \\t\\r\\n()])";
const accidentals = "(?:[b♭]+|[#♯]+)";
/** After a letter a double sharp may be `x`, as the trade writes it. */
const letterAccidentals = "(?:[b♭]+|[#♯x]+)";
/** Between the parentheses of a quality anything may stand; a colon and a slash have their own meaning. */
const qualityText = "(?:[^ \\t\\r\\n|():/]|\\([^()|\\r\\n]*\\))";
/** A slash that no bass can follow belongs to the quality: `6/9`, `m/maj7`, `7b9/#9`. */
const afterSlash = "9(?![0-9])|1[13](?![0-9])|[b♭#♯](?:9|1[13])|m[aA]|[M^Δ]";

export const tokens = {
  white: {
    pattern: "[ \\t]+",
    scope: "",
    meaning: "white space between words",
    example: " ",
  },
  lineEnd: { pattern: "(?:\\r\\n|\\n|\\r)", scope: "", meaning: "the end of a line", example: "\n" },
  comment: {
    pattern: ";[^\\r\\n]*",
    scope: "comment.line.semicolon",
    meaning: "words for the reader, to the end of the line",
    example: "; slow the last time",
  },
  headerWord: {
    pattern: "(?:title|by|note|key|time|tempo|feel|reach|form|use)",
    scope: "keyword.control.header",
    meaning: "what a line says of the whole chart",
    example: "key",
  },
  sectionWord: {
    pattern: "(?:section|lands|vamp|play)",
    scope: "keyword.control.section",
    meaning: "opens a section or says something of it",
    example: "section",
  },
  rowWord: {
    pattern: "(?:chords|lead|right|left|bass|words|cue)",
    scope: "storage.type.row",
    meaning: "whose row it is",
    example: "right",
  },
  text: {
    pattern: "[^ \\t\\r\\n]+(?:[ \\t]+[^ \\t\\r\\n;][^ \\t\\r\\n]*)*",
    scope: "string.unquoted",
    meaning: "words that are printed",
    example: "Harbour Evening",
  },
  sectionName: {
    pattern: "[^ \\t\\r\\n]+(?:[ \\t]+[^ \\t\\r\\n;][^ \\t\\r\\n]*)*",
    scope: "entity.name.section",
    meaning: "the name of a section where it opens",
    example: "Verse",
  },
  sectionUse: {
    pattern: '[^ \\t\\r\\n"]+',
    scope: "entity.name.function",
    meaning: "a section that is played here",
    example: "Verse",
  },
  quoted: {
    pattern: '"[^"\\r\\n]*"',
    scope: "string.quoted.double",
    meaning: "a name of several words, or a path",
    example: '"Last Verse"',
  },
  tonic: {
    pattern: `[A-G]${letterAccidentals}?`,
    scope: "constant.language.key",
    meaning: "the 1 of a key",
    example: "Eb",
  },
  mode: {
    pattern:
      "(?:[Mm]ajor|[Mm]inor|[Ii]onian|[Dd]orian|[Pp]hrygian|[Ll]ydian|[Mm]ixolydian|[Aa]eolian|[Ll]ocrian|maj|min|M|m)",
    scope: "constant.language.mode",
    meaning: "the scale on the tonic",
    example: "minor",
  },
  original: {
    pattern: "original",
    scope: "keyword.other.original",
    meaning: "the key in which a moved chart was written",
    example: "original",
  },
  parenthesis: {
    pattern: "[()]",
    scope: "punctuation.section.parens",
    meaning: "around the words of a key",
    example: "(",
  },
  number: { pattern: "[0-9]+", scope: "constant.numeric", meaning: "a count", example: "72" },
  feelWord: {
    pattern: "(?:straight|swing|shuffle)",
    scope: "constant.language.feel",
    meaning: "how the half-beats fall",
    example: "swing",
  },
  hand: {
    pattern: "(?:left|right)",
    scope: "variable.language.hand",
    meaning: "one of the hands",
    example: "left",
  },
  times: {
    pattern: "x[0-9]+",
    scope: "constant.numeric.times",
    meaning: "how often it is played in all",
    example: "x2",
  },
  moveWord: {
    pattern: "(?:in|up|down)",
    scope: "keyword.operator.move",
    meaning: "moves a section to another key",
    example: "up",
  },
  step: {
    pattern: "(?:half|whole)",
    scope: "constant.language.step",
    meaning: "how far a section moves: a half or a whole step",
    example: "half",
  },
  from: {
    pattern: "from",
    scope: "keyword.other.from",
    meaning: "starts the row's home octave at a pitch",
    example: "from",
  },
  barLine: {
    pattern: ":?\\|+:?",
    scope: "punctuation.separator.bar",
    meaning: "a bar line, with a colon a repeat",
    example: "|",
  },
  ending: {
    pattern: "[12]\\.",
    scope: "keyword.other.ending",
    meaning: "the first or second ending of a repeat",
    example: "1.",
  },
  groupOpen: {
    pattern: "\\(",
    scope: "punctuation.section.group.begin",
    meaning: "several slots in the time of one",
    example: "(",
  },
  groupClose: {
    pattern: "\\)",
    scope: "punctuation.section.group.end",
    meaning: "the end of a group",
    example: ")",
  },
  hold: {
    pattern: "[-/]",
    scope: "keyword.operator.hold",
    meaning: "the one before goes on for one more slot",
    example: "-",
  },
  again: {
    pattern: "=",
    scope: "keyword.operator.again",
    meaning: "the slot before, struck again",
    example: "=",
  },
  sameBar: {
    pattern: "%",
    scope: "keyword.operator.same",
    meaning: "the bar before once more",
    example: "%",
  },
  rest: { pattern: "r", scope: "constant.language.rest", meaning: "a rest", example: "r" },
  noChord: { pattern: "NC", scope: "constant.language.none", meaning: "no chord", example: "NC" },
  degree: {
    pattern: `${accidentals}?[1-7]`,
    scope: "constant.numeric.degree",
    meaning: "a degree of the key",
    example: "b7",
  },
  letter: {
    pattern: `[A-G]${letterAccidentals}?`,
    scope: "constant.language.letter",
    meaning: "a chord's root or bass as a letter",
    example: "Bb",
  },
  colon: {
    pattern: ":(?!\\|)",
    scope: "punctuation.separator.quality",
    meaning: "parts the root from the quality",
    example: ":",
  },
  quality: {
    pattern: `${qualityText}(?:${qualityText}|/(?=${afterSlash}))*`,
    scope: "support.type.quality",
    meaning: "what kind of chord it is",
    example: "maj7",
  },
  slash: {
    pattern: "/",
    scope: "keyword.operator.slash",
    meaning: "before a chord's bass, or between the numbers of a meter",
    example: "/",
  },
  push: {
    pattern: "!",
    scope: "keyword.operator.push",
    meaning: "played early, with the next chord",
    example: "!",
  },
  roll: {
    pattern: "~",
    scope: "keyword.operator.roll",
    meaning: "rolls a stack from the bottom up; between two tones it slips from one into the other",
    example: "~",
  },
  held: {
    pattern: "_",
    scope: "keyword.operator.held",
    meaning: "holds this tone from before",
    example: "_",
  },
  octaveUp: { pattern: ">", scope: "keyword.operator.octave.up", meaning: "an octave higher", example: ">" },
  octaveDown: {
    pattern: "<",
    scope: "keyword.operator.octave.down",
    meaning: "an octave lower",
    example: "<",
  },
  counts: {
    pattern: "[kc](?=[_<>0-9b♭#♯])",
    scope: "keyword.operator.counts",
    meaning: "counts from the key (k) or from the chord (c)",
    example: "k",
  },
  toneNumber: {
    pattern: `${accidentals}?[0-9]+`,
    scope: "constant.numeric.tone",
    meaning: "a tone by its number",
    example: "b7",
  },
  pitch: {
    pattern: `[A-G]${letterAccidentals}?[0-9]*`,
    scope: "constant.language.pitch",
    meaning: "a tone by its letter, exact with an octave",
    example: "F#4",
  },
  plus: {
    pattern: "\\+",
    scope: "keyword.operator.plus",
    meaning: "joins the tones of a stack",
    example: "+",
  },
  word: {
    pattern: "(?:[^ \\t\\r\\n|:]|:(?!\\|))+",
    scope: "string.unquoted.word",
    meaning: "a syllable of the song or a word of a cue",
    example: "Har-bour",
  },
  unread: {
    pattern: "(?:[^ \\t\\r\\n|]+|\\|+)",
    scope: "invalid.illegal",
    meaning: "what can't be read",
    example: "?",
  },
} as const satisfies Record<string, TokenDefinition>;

export type TokenName = keyof typeof tokens;

/** A token by its own pattern or by a narrower one. */
export type TokenUse = TokenName | readonly [token: TokenName, pattern: string];
/** A token, parts that come together or not at all, or the first of several runs of parts that fits. */
export type Part =
  | TokenUse
  | { readonly maybe: readonly Part[] }
  | { readonly oneOf: readonly (readonly Part[])[] };

/** What a lexer takes in one go; every piece of a line starts where the one before ended. */
export type Piece =
  /** Tokens in a row, and the look-ahead that must hold after them. */
  | { readonly parts: readonly Part[]; readonly before?: string }
  /** A stretch of text, cut into the tokens that may stand inside: the first that fits is taken. */
  | { readonly stretch: string; readonly inside: readonly TokenUse[] };

const keyParts: readonly Part[] = ["tonic", { maybe: [{ maybe: ["white"] }, "mode"] }];
const originalParts: readonly Part[] = [
  { maybe: ["white"] },
  ["parenthesis", "\\("],
  { maybe: ["white"] },
  "original",
  "white",
  "tonic",
  { maybe: ["white"] },
  ["parenthesis", "\\)"],
];
const rootParts: readonly Part[] = [{ oneOf: [["degree"], ["letter"]] }];
const slotText = "(?:[^ \\t\\r\\n|():]|:(?!\\|))";
const signs: readonly TokenUse[] = ["push", "roll", "held", "octaveUp", "octaveDown"];

export const pieces = {
  white: { parts: ["white"] },
  /** A comment that is not the whole line has white space before it. */
  comment: { parts: ["white", "comment"] },
  text: { parts: ["text"] },
  sectionName: { parts: ["sectionName"] },
  sectionUse: { parts: ["sectionUse"] },
  quoted: { parts: ["quoted"], before: wordEnd },
  openQuote: { parts: [["unread", '"[^"\\r\\n]*"?']] },
  key: { parts: [...keyParts, { maybe: originalParts }], before: keyEnd },
  meter: {
    parts: ["number", { maybe: ["white"] }, "slash", { maybe: ["white"] }, "number"],
    before: wordEnd,
  },
  number: { parts: ["number"], before: wordEnd },
  feelWord: { parts: ["feelWord"], before: wordEnd },
  hand: { parts: ["hand"], before: wordEnd },
  times: { parts: ["times"], before: wordEnd },
  moveIn: { parts: [["moveWord", "in"], "white", ...keyParts, { maybe: originalParts }], before: keyEnd },
  moveBy: { parts: [["moveWord", "(?:up|down)"], "white", "step"], before: wordEnd },
  /** One of the moving words without what belongs to it. */
  moveWord: { parts: ["moveWord"], before: wordEnd },
  degree: { parts: ["degree"], before: wordEnd },
  other: { parts: [["unread", "[^ \\t\\r\\n]+"]] },
  unread: { parts: ["unread"] },
  barLine: {
    parts: [
      {
        oneOf: [
          [["barLine", ":\\|+:?"], { maybe: [{ maybe: ["white"] }, ["times", `x[0-9]+${firstEnd}`]] }],
          [["barLine", "\\|+:?"]],
        ],
      },
      { maybe: [{ maybe: ["white"] }, ["ending", `[12]\\.${firstEnd}`]] },
    ],
  },
  from: { parts: ["from", { maybe: ["white", "pitch"] }], before: slotEnd },
  groupOpen: { stretch: "[!~_<>]*\\(", inside: [...signs, "groupOpen"] },
  groupClose: { parts: ["groupClose"] },
  /** In a chord row a run of slashes is as many slots. */
  slashes: { stretch: `/+${slotEnd}`, inside: [["hold", "/"]] },
  hold: { parts: [["hold", "-"]], before: slotEnd },
  again: { parts: ["again"], before: slotEnd },
  sameBar: { parts: ["sameBar"], before: slotEnd },
  rest: { parts: ["rest"], before: slotEnd },
  noChord: { parts: ["noChord"], before: slotEnd },
  chord: {
    parts: [...rootParts, { maybe: [{ maybe: ["colon"] }, "quality"] }, { maybe: ["slash", ...rootParts] }],
    before: slotEnd,
  },
  bassAlone: { parts: ["slash", ...rootParts], before: slotEnd },
  /** What stands in the place of a chord and has not its shape. */
  noShape: { parts: [["unread", `${slotText}(?:${slotText}|\\([^()|\\r\\n]*\\))*`]] },
  stack: {
    stretch: `${slotText}+`,
    inside: [
      ...signs,
      "plus",
      "counts",
      "toneNumber",
      "pitch",
      ["unread", "(?:[^ \\t\\r\\n|()!~_<>+0-9A-Gb♭#♯kc]+|[b♭#♯kc])"],
    ],
  },
  /** All the words between two bar lines: a long chart is half words, and few of them are ever asked for one by one. */
  words: {
    stretch: `${tokens.word.pattern}(?:[ \\t]+(?!;)${tokens.word.pattern})*`,
    inside: ["white", "word"],
  },
} as const satisfies Record<string, Piece>;

export type PieceName = keyof typeof pieces;

/** How a kind of line is told by its first word, and the pieces that the rest of it is cut into: the first that fits is taken. */
export interface LineDefinition {
  readonly word: TokenUse;
  readonly before?: string;
  readonly pieces: readonly PieceName[];
}

const row = (names: string, ...own: PieceName[]): LineDefinition => ({
  word: ["rowWord", names],
  before: firstEnd,
  pieces: ["comment", "white", "barLine", ...own],
});
const header = (names: string, ...own: PieceName[]): LineDefinition => ({
  word: ["headerWord", names],
  before: firstEnd,
  pieces: ["comment", "white", ...own],
});
const inSection = (names: string, ...own: PieceName[]): LineDefinition => ({
  ...header("", ...own),
  word: ["sectionWord", names],
});
const playing: PieceName[] = ["moveIn", "moveBy", "moveWord", "times", "quoted", "openQuote", "sectionUse"];

/** The kinds of lines. A line has the first kind whose word it starts with; before that only white space may stand. */
export const lines = {
  text: header("(?:title|by|note)", "text"),
  key: header("key", "key", "other"),
  time: header("time", "meter", "other"),
  tempo: header("tempo", "number", "other"),
  feel: header("feel", "feelWord", "other"),
  reach: header("reach", "number", "hand", "other"),
  form: header("form", ...playing),
  use: header("use", "quoted", "openQuote", "other"),
  section: inSection("section", "quoted", "sectionName"),
  lands: inSection("lands", "degree", "other"),
  vamp: inSection("vamp", "other"),
  play: inSection("play", ...playing),
  chords: row(
    "chords",
    "groupOpen",
    "groupClose",
    "slashes",
    "hold",
    "again",
    "sameBar",
    "rest",
    "noChord",
    "chord",
    "bassAlone",
    "noShape",
    "other",
  ),
  notes: row(
    "(?:lead|right|left|bass)",
    "from",
    "groupOpen",
    "groupClose",
    "hold",
    "again",
    "sameBar",
    "rest",
    "noChord",
    "stack",
    "other",
  ),
  words: row("(?:words|cue)", "words"),
  unread: {
    word: ["unread", "(?:[^\uFEFF \\t\\r\\n|][^ \\t\\r\\n|]*|\\|+)"],
    pieces: ["comment", "white", "unread"],
  },
} as const satisfies Record<string, LineDefinition>;

export type LineKind = keyof typeof lines;

/** What may stand before a line's first word: white space, and the mark that some editors put before a text. */
export const indent = { any: "[\uFEFF \\t]*", some: "[\uFEFF \\t]+" } as const;

/** The pattern of a token as it is used here. */
export const patternOf = (use: TokenUse): string => (typeof use === "string" ? tokens[use].pattern : use[1]);
export const nameOf = (use: TokenUse): TokenName => (typeof use === "string" ? use : use[0]);

const isUse = (part: Part): part is TokenUse => typeof part === "string" || Array.isArray(part);

/** The regular expression of parts; `wrap` is given each token's pattern and name, to make a group of it or not. */
export function partsSource(
  parts: readonly Part[],
  wrap: (pattern: string, name: TokenName) => string,
): string {
  return parts
    .map((part) => {
      if (isUse(part)) return wrap(patternOf(part), nameOf(part));
      if ("maybe" in part) return `(?:${partsSource(part.maybe, wrap)})?`;
      return `(?:${part.oneOf.map((run) => partsSource(run, wrap)).join("|")})`;
    })
    .join("");
}

/** The regular expression that takes a whole piece, without groups. */
export const pieceSource = (piece: Piece): string =>
  "stretch" in piece ? piece.stretch : partsSource(piece.parts, (pattern) => pattern) + (piece.before ?? "");

/** The regular expression with a group for each token, and the tokens' names in the order of the groups. */
export function groupedSource(
  parts: readonly Part[],
  before = "",
): { source: string; names: readonly TokenName[] } {
  const names: TokenName[] = [];
  const source = partsSource(parts, (pattern, name) => {
    names.push(name);
    return `(${pattern})`;
  });
  return { source: source + before, names };
}
