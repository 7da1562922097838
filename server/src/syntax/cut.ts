import {
  groupedSource,
  nameOf,
  type Piece,
  type PieceName,
  patternOf,
  pieces,
  type TokenName,
} from "../../../grammar/tokens.js";

/** A token with its text; `start` counts from the piece's start. */
export interface Cut {
  readonly name: TokenName;
  readonly start: number;
  readonly text: string;
}

interface Cutter {
  readonly pattern: RegExp;
  readonly names: readonly TokenName[];
  /** Whether one match is the whole piece, or one token of it. */
  readonly whole: boolean;
}

const cutters = new Map<PieceName, Cutter>();

function cutterOf(name: PieceName): Cutter {
  const known = cutters.get(name);
  if (known !== undefined) return known;
  const piece: Piece = pieces[name];
  const made: Cutter =
    "stretch" in piece
      ? {
          pattern: new RegExp(piece.inside.map((use) => `(${patternOf(use)})`).join("|"), "y"),
          names: piece.inside.map(nameOf),
          whole: false,
        }
      : {
          pattern: new RegExp(groupedSource(piece.parts).source, "y"),
          names: groupedSource(piece.parts).names,
          whole: true,
        };
  cutters.set(name, made);
  return made;
}

/** The tokens of a piece; together they are its whole text. */
export function cut(name: PieceName, text: string): Cut[] {
  const { pattern, names, whole } = cutterOf(name);
  if (whole && names.length === 1) return [{ name: names[0] as TokenName, start: 0, text }];
  const cuts: Cut[] = [];
  let at = 0;
  do {
    pattern.lastIndex = at;
    const found = pattern.exec(text);
    if (found === null) break;
    for (let i = 0; i < names.length; i++) {
      const part = found[i + 1];
      if (part === undefined || part === "") continue;
      cuts.push({ name: names[i] as TokenName, start: at, text: part });
      at += part.length;
    }
  } while (!whole && at < text.length);
  if (at < text.length) cuts.push({ name: "unread", start: at, text: text.slice(at) });
  return cuts;
}
