import {
  groupedSource,
  indent,
  type LineDefinition,
  lines,
  nameOf,
  type Piece,
  patternOf,
  pieceSource,
  pieces,
  type TokenName,
  type TokenUse,
  tokens,
} from "./tokens.js";

/** A rule of a TextMate grammar, as far as this one needs them. */
export interface Rule {
  readonly name?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly captures?: Readonly<Record<string, Rule>>;
  readonly beginCaptures?: Readonly<Record<string, Rule>>;
  readonly patterns?: readonly Rule[];
  readonly include?: string;
}
export interface TextMateGrammar {
  readonly name: string;
  readonly scopeName: string;
  readonly fileTypes: readonly string[];
  readonly patterns: readonly Rule[];
  readonly repository: Readonly<Record<string, Rule>>;
}

/** The scope of a token, `undefined` for one without colour. */
export const scopeOf = (name: TokenName): string | undefined =>
  tokens[name].scope === "" ? undefined : `${tokens[name].scope}.plagal`;

const named = (name: TokenName): Rule => {
  const scope = scopeOf(name);
  return scope === undefined ? {} : { name: scope };
};

const tokenRule = (use: TokenUse): Rule => ({ match: patternOf(use), ...named(nameOf(use)) });

function pieceRule(piece: Piece): Rule {
  if ("stretch" in piece) {
    return { match: pieceSource(piece), captures: { 0: { patterns: piece.inside.map(tokenRule) } } };
  }
  const { source, names } = groupedSource(piece.parts, piece.before);
  const captures: Record<string, Rule> = {};
  names.forEach((name, i) => {
    if (scopeOf(name) !== undefined) captures[i + 1] = named(name);
  });
  return { match: source, captures };
}

const lineRule = (kind: string, line: LineDefinition): Rule => ({
  begin: `^${indent.any}(${patternOf(line.word)})${line.before ?? ""}`,
  beginCaptures: { 1: named(nameOf(line.word)) },
  end: "$",
  patterns: [{ include: `#${kind}` }],
});

/** The grammar that an editor colours charts with, made from the table of tokens. */
export function textmateGrammar(): TextMateGrammar {
  const kinds = Object.entries<LineDefinition>(lines);
  const repository: Record<string, Rule> = {};
  for (const [kind, line] of kinds) {
    repository[kind] = {
      patterns: line.pieces.filter((name) => name !== "white").map((name) => ({ include: `#${name}-piece` })),
    };
  }
  for (const [name, piece] of Object.entries<Piece>(pieces)) {
    if (name !== "white") repository[`${name}-piece`] = pieceRule(piece);
  }
  return {
    name: "Plagal",
    scopeName: "source.plagal",
    fileTypes: ["plagal"],
    patterns: [
      { match: `^${indent.any}(${tokens.comment.pattern})`, captures: { 1: named("comment") } },
      ...kinds.map(([kind, line]) => lineRule(kind, line)),
    ],
    repository,
  };
}
