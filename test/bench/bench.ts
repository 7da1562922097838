import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { serverArguments } from "../../client/server-arguments.node.js";
import { outline } from "../../server/src/chart/outline.js";
import {
  type Document,
  defaultSettings,
  openDocument,
  type Settings,
} from "../../server/src/document/document.js";
import { format } from "../../server/src/edits/format.js";
import { transposeChart } from "../../server/src/edits/transpose.js";
import { parse } from "../../server/src/syntax/parse.js";
import { applyEdits } from "../../server/src/text/edits.js";
import { measureExports } from "./exports-bench.js";
import { measureHands } from "./hands-bench.js";
import { measureHovers } from "./hover-bench.js";
import { measureLive } from "./live-bench.js";
import { distinctShare, realisticChart } from "./realistic-chart.js";
import { measureSheets } from "./sheets-bench.js";
import { measureVoicing } from "./voicing-bench.js";

/** Milliseconds of each round. */
type Times = readonly number[];

const now = (): number => performance.now();

function timed<T>(work: () => T): { readonly value: T; readonly took: number } {
  const start = now();
  const value = work();
  return { value, took: now() - start };
}

const sorted = (times: Times): number[] => [...times].sort((a, b) => a - b);
const median = (times: Times): number => sorted(times)[times.length >> 1] ?? Number.NaN;

/**
 * Work of a fixed size and of the same kind (small objects, strings, look-ups), so that figures of different
 * machines can be compared.
 */
function referenceLoop(): number {
  const words = new Map<string, { readonly count: number; readonly places: readonly number[] }>();
  let hash = 1;
  for (let i = 0; i < 100_000; i++) {
    hash = (hash * 48_271) % 2_147_483_647;
    const word = `word ${hash & 1023}`;
    const known = words.get(word);
    words.set(word, {
      count: (known?.count ?? 0) + 1,
      places: [...(known?.places.slice(-3) ?? []), i],
    });
  }
  return hash + words.size;
}

/** Also keeps the engine from leaving work out whose result nobody asks for. */
let sum = 0;
const reference = Array.from({ length: 15 }, () => {
  const { value, took } = timed(referenceLoop);
  sum += value;
  return took;
});
const unit = median(reference);

function say(name: string, times: Times, goal?: number, unitName: "ms" | "µs" = "ms"): void {
  const all = sorted(times);
  const middle = median(times);
  const [least = 0, most = 0] = [all[0], all[all.length - 1]];
  const verdict = goal === undefined ? "" : `  goal < ${goal} ${unitName}${middle < goal ? "" : "  OVER"}`;
  const spread = `(${least.toFixed(2)} to ${most.toFixed(2)})`;
  const loops = unitName === "ms" ? middle / unit : middle / unit / 1_000;
  const ratio = `${loops.toFixed(loops < 0.01 ? 5 : 2)} loops`;
  console.log(
    `${name.padEnd(44)}${middle.toFixed(2).padStart(9)} ${unitName} ${spread.padEnd(22)}${ratio.padStart(14)}${verdict}`,
  );
}

const open = (text: string, previous?: Document, settings?: Settings): Document =>
  openDocument("bench.plagal", text, undefined, settings, previous);

/** Everything that an editor asks for first. */
function answer(document: Document): Document {
  sum += document.problems.length;
  return document;
}

/** Milliseconds to a chart's problems in a process of its own, which has run nothing before. */
function coldly(text: string, given: readonly string[]): number {
  const program = fileURLToPath(new URL("cold.mjs", import.meta.url));
  const { stdout, status } = spawnSync(process.execPath, [...given, program], {
    input: text,
    encoding: "utf8",
  });
  if (status !== 0) throw new Error(`${program} ended with ${status}`);
  const [took, problems] = stdout.split(" ").map(Number) as [number, number];
  sum += problems;
  return took;
}

/** The text with one tone changed in its k-th row of the right hand. */
function typed(text: string, k: number): string {
  const rows = [...text.matchAll(/^right .*$/gm)];
  const row = rows[(k * 7919) % rows.length] as RegExpExecArray;
  const at = row.index + row[0].search(/[35]/);
  // As an editor would hand it over: in one piece.
  return [text.slice(0, at), text[at] === "3" ? "5" : "3", text.slice(at + 1)].join("");
}

function keystrokes(text: string, settings?: Settings): Times {
  let document = answer(open(text, undefined, settings));
  const times: number[] = [];
  for (let k = 0; k < 60; k++) {
    const next = typed(document.text, k);
    const { value, took } = timed(() => answer(open(next, document, settings)));
    document = value;
    // The first few find a cold engine.
    if (k >= 10) times.push(took);
  }
  return times;
}

const lines = 10_000;
const rounds = Array.from({ length: 9 }, (_, i) => i);
const first = realisticChart(lines, 1);

console.log(`Node ${process.version}, ${process.platform} ${process.arch}`);
console.log(
  `A realistic chart of ${first.split("\n").length - 1} lines, ${Math.round(first.length / 1024)} KiB; ${Math.round(
    100 * distinctShare(first),
  )} % of its lines are one of a kind.\n`,
);
say("the reference loop", reference);

const texts = rounds.map((i) => realisticChart(lines, 100 + i));
// An engine that has run nothing, started as the extension starts its server; and as Node starts it by itself.
const cold = (given: readonly string[]): Times => texts.map((text) => coldly(text, given));
say("text to problems, cold engine", cold(serverArguments()), 500);
say("  the same with Node's own helper threads", cold([]));
say(
  "text to problems, warm, memos empty",
  texts.map((text) => timed(() => answer(open(text))).took),
  500,
);

const stages = rounds.map((i) => {
  const text = realisticChart(lines, 200 + i);
  const tree = timed(() => parse(text));
  const outlined = timed(() => outline(tree.value));
  sum += outlined.value.sections.length;
  const document = open(text);
  const chart = timed(() => document.chart);
  const problems = timed(() => document.problems);
  return { parse: tree.took, outline: outlined.took, resolve: chart.took, check: problems.took };
});
for (const stage of ["parse", "outline", "resolve", "check"] as const) {
  say(
    `  of it: ${stage}`,
    stages.map((it) => it[stage]),
  );
}

const long = keystrokes(first);
// Sections differ in size, and a short chart has few of them: several charts even that out.
const short = rounds.flatMap((i) => keystrokes(realisticChart(100, 300 + i)));
say("one character typed, snapshot to problems", long, 5);
say("  the same at 100 lines", short);
const times = median(long) / median(short);
console.log(`  that is ${times.toFixed(2)} times as long  goal ≤ 3${times <= 3 ? "" : "  OVER"}`);

/** A tenth, which falls otherwise in each key, is at home in many of its grips. */
const reach = { left: 10, right: 10 };
const withOtherKeys: Settings = { ...defaultSettings, reach };
const withoutOtherKeys: Settings = { ...withOtherKeys, severities: { "other-keys": "off" } };
/** The two by turns, so that neither gains by a warmer engine. */
const opened = rounds.map((i) => {
  const took = (seed: number, settings: Settings): number => {
    const text = realisticChart(lines, seed);
    return timed(() => answer(open(text, undefined, settings))).took;
  };
  const without = took(400 + i, withoutOtherKeys);
  return { without, with: took(500 + i, withOtherKeys) };
});
const typedInto = { without: keystrokes(first, withoutOtherKeys), with: keystrokes(first, withOtherKeys) };
for (const [name, without, including, most] of [
  ["text to problems", opened.map((it) => it.without), opened.map((it) => it.with), 4 / 3],
  ["one character typed", typedInto.without, typedInto.with, 1.1],
] as const) {
  say(`${name}, reach 10, without other-keys`, without);
  say("  with other-keys", including);
  const ratio = median(including) / median(without);
  console.log(
    `  that is ${ratio.toFixed(2)} times as long  goal ≤ ${most.toFixed(2)}${ratio <= most ? "" : "  OVER"}`,
  );
}

const document = answer(open(first));
const targets = [-4, 1, 2, -1, 3, -5, 5, -2, 4];
say(
  "moving to another key",
  targets.map((tonic) => {
    const moved = timed(() => {
      const result = transposeChart(document, { tonic, mode: undefined });
      return "edits" in result ? applyEdits(first, result.edits) : "";
    });
    sum += moved.value.length;
    return moved.took;
  }),
  150,
);
say(
  "formatting",
  texts.map((text) => {
    const tree = parse(text);
    const formatted = timed(() => applyEdits(text, format(tree)));
    sum += formatted.value.length;
    return formatted.took;
  }),
  200,
);

const hands = measureHands();
sum += hands.sum;
for (const { name, microseconds, goal } of hands.rows) say(name, microseconds, goal, "µs");

const voiced = measureVoicing();
sum += voiced.sum;
for (const { name, milliseconds, goal } of voiced.rows) say(name, milliseconds, goal);

const hovered = measureHovers();
sum += hovered.sum;
for (const { name, milliseconds, goal } of hovered.rows) say(name, milliseconds, goal);

const exported = measureExports();
sum += exported.sum;
for (const { name, milliseconds, goal } of exported.rows) say(name, milliseconds, goal);

const printed = await measureSheets();
sum += printed.sum;
for (const { name, milliseconds, goal } of printed.rows) say(name, milliseconds, goal);

const lively = measureLive();
sum += lively.sum;
for (const { name, milliseconds, goal } of lively.rows) say(name, milliseconds, goal);

const collect = (globalThis as { gc?: () => void }).gc;
if (collect === undefined) console.log("memory is measured with node --expose-gc only");
else {
  const used = (): number => {
    collect();
    collect();
    return process.memoryUsage().heapUsed / 1024 / 1024;
  };
  const sizes = rounds.slice(0, 3).map((i) => {
    const text = realisticChart(lines, 300 + i);
    const before = used();
    const kept = answer(open(text));
    const size = used() - before;
    sum += kept.problems.length;
    return size;
  });
  const size = median(sizes);
  console.log(
    `memory for the snapshot: ${size.toFixed(1)} MiB (${sorted(sizes)
      .map((it) => it.toFixed(1))
      .join(", ")})  goal < 60 MiB${size < 60 ? "" : "  OVER"}`,
  );
}
console.log(`\n${document.problems.length} problems in the chart; checksum ${Math.round(sum)}`);
