import type { IToken } from "chevrotain";
import { clip } from "../problems/clip.js";
import { type Fix, type Problem, problem } from "../problems/problem.js";
import type { Span } from "../text/span.js";
import type { LineParser } from "./line-parser.js";
import type { SlotContent } from "./tree.js";
import type { Vocabulary } from "./vocabulary.js";

/** What a slot's text says, wherever it stands; spans count from the slot's start. */
export interface SlotReading {
  readonly content: SlotContent;
  readonly problems: readonly Problem[];
  /** What mends it makes a comment of all that follows. */
  readonly hidesRest?: true;
}

/** What reading takes. */
export interface Tools {
  readonly types: Vocabulary;
  readonly parser: LineParser;
}

export const unread: SlotContent = { kind: "unread" };
export const spanOf = (token: IToken): Span => ({
  start: token.startOffset,
  end: token.startOffset + token.image.length,
});
export const whole = (text: string): Span => ({ start: 0, end: text.length });

export const replace = (span: Span, text: string, silent = false): Fix => ({
  title: `Write ${clip(text)}`,
  edits: [{ span, text }],
  silent,
});

export const wrong = (...problems: Problem[]): SlotReading => ({ content: unread, problems });

const endingAstray = /^[0-9]+\.$/;

/** What went astray in any row: an ending, a repeat count or a comment that stands where a slot should. */
export function astray(text: string): SlotReading | undefined {
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
    const glue = problem("syntax", span, { read: text.slice(glued), advice }, { fixes });
    return { content: unread, problems: [glue], hidesRest: true };
  }
  if (/^x[0-9]+$/.test(text)) {
    const advice = `How often a repeat is played stands right after its “:|”: write :| ${clip(text)}.`;
    return wrong(problem("syntax", whole(text), { read: text, advice }));
  }
  return undefined;
}
