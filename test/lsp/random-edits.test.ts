import fc from "fast-check";
import { expect, test } from "vitest";
import type { Diagnostic } from "vscode-languageserver";
import { openDocument } from "../../server/src/document/document.js";
import { positionAt } from "../../server/src/text/lines.js";
import { anyChart } from "../support/generate-chart.js";
import { anyLine } from "../support/lines-arbitrary.js";
import { positionIn, startClient } from "../support/lsp-client.js";

const seed = Number(process.env.PLAGAL_SEED ?? 20_270_314);
const edits = 20_000;
/** After so many edits the answers are compared; a chart that has grown too long begins anew. */
const block = 250;
const longest = 2500;

/** A stream of numbers from 0 up to 1 (Park and Miller's minimal standard generator, 1988). */
function numbersFrom(start: number): () => number {
  let state = (start % 2_147_483_646) + 1;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

const pieces = "1 3 b 7 | - = % ( ) > < _ ~ ! / r NC |: :| 1. 2. ; # C F4 + k c 0 x3 🎵 é ♭".split(" ");
const breaks = [" ", "\n", "\r\n", "\r", "\n\n", "section Tag\n", "key F\n", "time 3/4\n", "form Tag A\n"];

/** What a message says, without the answer's own form. */
const plain = ({ range, code, message }: Diagnostic) => ({ range, code, message });

test(`after ${edits} random edits the diagnostics are those of a fresh server`, async () => {
  console.log(`seed ${seed}, ${edits} edits`);
  const [client, random] = [await startClient(), numbersFrom(seed)];
  const pick = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)] as T;
  const lines = fc.sample(anyLine, { seed, numRuns: 400 });
  const charts = fc.sample(anyChart(), { seed, numRuns: 60 }).map((it) => it.slice(0, longest));
  const uri = "file:///charts/random.plagal";
  let text = pick(charts);
  let version = 1;
  client.open(uri, text);

  /** Sends one change of a stretch, and makes it here. */
  const change = (from: number, to: number, piece: string): void => {
    const range = { start: positionIn(text, from), end: positionIn(text, to) };
    // A place inside CR LF has no position of its own.
    const inside = (at: number): boolean => text[at - 1] === "\r" && text[at] === "\n";
    if (inside(from) || inside(to)) return;
    text = text.slice(0, from) + piece + text.slice(to);
    client.change(uri, ++version, [{ range, text: piece }]);
  };

  for (let done = 0; done < edits; ) {
    for (let i = 0; i < block; i++, done++) {
      const at = Math.floor(random() * (text.length + 1));
      const kind = random();
      if (text.length > longest) change(at, Math.min(text.length, at + 400), "");
      else if (kind < 0.4) change(at, at, pick(pieces));
      else if (kind < 0.5) change(at, at, pick(breaks));
      else if (kind < 0.85) change(at, Math.min(text.length, at + Math.floor(random() * 8)), "");
      else if (kind < 0.97) change(at, at, `\n${pick(lines)}\n`);
      else if (kind < 0.99) change(0, text.length, pick(charts));
      else {
        text = pick(charts);
        client.change(uri, ++version, [{ text }]);
      }
    }
    // White space ends a word: nothing is held back after it.
    change(text.length, text.length, "\n");
    const found = await client.diagnostics(uri, version);
    const { problems, tree } = openDocument(uri, text);
    const place = (offset: number) => {
      const { line, column } = positionAt(tree.starts, offset);
      return { line, character: column };
    };
    expect(found.map(plain), `after ${done} edits`).toEqual(
      problems.map(({ span, code, message }) => ({
        range: { start: place(span.start), end: place(span.end) },
        code,
        message,
      })),
    );
  }
  const fresh = await startClient();
  fresh.open(uri, text, version);
  expect(await client.diagnostics(uri, version)).toEqual(await fresh.diagnostics(uri, version));
  await Promise.all([client.stop(), fresh.stop()]);
});
