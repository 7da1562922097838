import { browserMissing } from "../page/bare-browser.js";
import type { ExportRow } from "./exports-bench.js";
import { measurePanel } from "./panel-bench.js";
import { measureShown } from "./shown-bench.js";

/*
 * Times the page beside the text: what a keystroke costs on the side of the editor, with a double in the editor's
 * place, and how soon it is seen, in a real browser.
 */

const figure = (it: number): string => it.toFixed(it >= 100 ? 0 : 1);

function say({ name, milliseconds, goal }: ExportRow): void {
  const all = [...milliseconds].sort((a, b) => a - b);
  const middle = all[all.length >> 1] ?? Number.NaN;
  const spread = `(${figure(all[0] ?? Number.NaN)} to ${figure(all.at(-1) ?? Number.NaN)})`;
  const verdict = goal === undefined ? "" : `goal < ${goal} ms${middle < goal ? "" : "  OVER"}`;
  console.log(`${name.padEnd(44)}${figure(middle).padStart(9)} ms ${spread.padEnd(18)}${verdict}`);
}

for (const row of await measurePanel()) say(row);
if (browserMissing() === undefined) for (const row of await measureShown()) say(row);
