import type { RowLine } from "../syntax/tree.js";
import type { Span } from "../text/span.js";
import type { TypingPlace } from "./completion-place.js";

/** The slot that the cursor is in, or the place of a new one. */
export interface SlotAround {
  /** In the line. */
  readonly span: Span;
  /** What stands before the cursor, and all of it. */
  readonly typed: string;
  readonly whole: string;
}

/** `undefined` where a slot written here would run into something else: a group, an ending, the colon of a repeat. */
export function slotAround({ body, at }: TypingPlace, row: RowLine): SlotAround | undefined {
  const inside = row.row === "chords" ? "(?:[^ \\t|()]|\\([^()| \\t]*\\))" : "(?:[^ \\t|()])";
  const before = body.slice(row.nameSpan.end, at);
  const found = new RegExp(`${inside}*$`).exec(before)?.[0] ?? "";
  // The colon of `|:` is the bar line's.
  const start = at - found.length;
  const typed = found.startsWith(":") && body[start - 1] === "|" ? found.slice(1) : found;
  const rest = new RegExp(`^${inside.replace("|()]", "|():]|:(?!\\|)")}*`).exec(body.slice(at))?.[0] ?? "";
  const span = { start: at - typed.length, end: at + rest.length };
  const whole = typed + rest;
  const [left = " ", right = " "] = [body[span.start - 1], body[span.end]];
  if (span.start <= row.nameSpan.end && !/[ \t|]/.test(left)) return undefined;
  if (left === ")" || right === "(" || whole.startsWith("(") || (typed.endsWith(":") && right === "|"))
    return undefined;
  if (rest === "" && typed === "" && left === ":" && right === "|") return undefined;
  if (/^(?:[12]\.|x[0-9]*)$/.test(whole)) return undefined;
  if (/from[ \t]+$/.test(body.slice(0, span.start)) || whole === "from") return undefined;
  return { span, typed, whole };
}
