import { sliceOf } from "../text/span.js";
import type { Tree } from "./tree.js";

/** The text that the tree was made from, put together from its tokens. */
export const print = (tree: Tree): string =>
  tree.lines.map(({ text, tokens }) => tokens.map(({ span }) => sliceOf(text, span)).join("")).join("");
