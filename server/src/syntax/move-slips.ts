import type { IToken } from "chevrotain";
import { clip } from "../problems/clip.js";
import type { Span } from "../text/span.js";
import type { PlayNode } from "./line-parser.js";
import { moveMeant } from "./move-meant.js";
import type { Vocabulary } from "./vocabulary.js";

type PlayItem = Extract<PlayNode, { name: IToken }>;

/** Words of `form` or `play` that can't be read, told of once. */
interface Slip {
  readonly span: Span;
  readonly advice: string;
  /** What any of the texts is written for. */
  readonly place: Span;
  readonly texts: readonly string[];
}

interface Played {
  readonly item: PlayItem;
  /** A moving word after the name alone, with nothing that it could go with. */
  readonly stray: IToken | undefined;
}

const spanOf = (token: IToken): Span => ({
  start: token.startOffset,
  end: token.startOffset + token.image.length,
});

/** As many words as a step or a key can be spoken in. */
const mostWords = 4;

/** The sections that a line plays, with what was said wrongly of a move taken out: `up a half`, `in H`. */
export function moveSlips(
  nodes: readonly PlayNode[],
  types: Vocabulary,
): { items: readonly Played[]; slips: readonly Slip[] } {
  const items: Played[] = [];
  const slips: Slip[] = [];
  for (let at = 0; at < nodes.length; at++) {
    const node = nodes[at] as PlayNode;
    if ("name" in node) {
      items.push({ item: node, stray: undefined });
      continue;
    }
    const { stray } = node;
    const isMove = stray.tokenType === types.pieces.moveWord;
    const last = nodes[at - 1];
    const following = isMove ? bareNames(nodes, at + 1, types) : [];
    const meant = isMove
      ? moveMeant(
          stray.image,
          following.map(({ name }) => name.image),
        )
      : undefined;
    if (meant !== undefined && last !== undefined) {
      const end = following[meant.count - 1] as PlayItem;
      const place = { start: stray.startOffset, end: spanOf(end.name).end };
      const wrong = following[meant.wrong] as PlayItem;
      slips.push({ span: spanOf(wrong.name), advice: meant.why, place, texts: meant.texts });
      const moved = items.pop();
      if (moved !== undefined) {
        const words = [...moved.item.words, ...end.words];
        items.push({ ...moved, item: { ...moved.item, words } });
      }
      at += meant.count;
    } else if (isMove && last !== undefined && "name" in last && last.words.length === 0) {
      const { item } = items.pop() as Played;
      items.push({ item, stray });
    } else {
      slips.push({ span: spanOf(stray), advice: strayAdvice(stray.image), place: spanOf(stray), texts: [] });
    }
  }
  return { items, slips };
}

/** The names without quotes from a place on, as far as only the last has words of its own. */
function bareNames(nodes: readonly PlayNode[], from: number, types: Vocabulary): PlayItem[] {
  const names: PlayItem[] = [];
  for (const node of nodes.slice(from, from + mostWords)) {
    if (!("name" in node) || node.name.tokenType !== types.pieces.sectionUse) break;
    names.push(node);
    if (node.words.length > 0) break;
  }
  return names;
}

/** What is wrong with a word of `form` or `play` that follows no name. */
export const strayAdvice = (image: string): string => {
  if (image.startsWith('"')) return "These quotes are not closed. Put a quotation mark after the name.";
  if (image === "in") return "“in” is followed by a key: in Db.";
  if (image === "up" || image === "down") return `“${image}” is followed by half or whole.`;
  return `“${clip(image)}” belongs after a section's name.`;
};
