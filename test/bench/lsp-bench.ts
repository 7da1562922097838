import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { json, plagal } from "./lsp-documents.js";
import { type Contestant, type ServerProcess, startServer } from "./server-process.js";

/*
 * Times the language server as an editor sees it, side by side with the JSON language server on documents of the same
 * rows: a sample of one, a sample of the other, in turns, so that their ratios hold on a busy machine too.
 *
 *   start        process start to the reply to `initialize`
 *   open         didOpen to the first diagnostics, right behind `initialized` in a fresh process
 *   edit         didChange of one character to its diagnostics
 *   cpu          processor time of the whole process for that
 *   edit + hover didChange with a hover right behind it, to the hover's reply
 *   burst        1,001 changes without waiting, to the diagnostics of the last
 *   memory       the most that the process has had after all that
 */

const root = fileURLToPath(new URL("../..", import.meta.url));
const contestants: readonly [Contestant, Contestant] = [
  { name: "plagal", program: `${root}/dist/server.cjs`, languageId: "plagal", documentOf: plagal },
  {
    name: "json",
    program: `${root}/node_modules/vscode-langservers-extracted/bin/vscode-json-language-server`,
    languageId: "json",
    documentOf: json,
  },
];
const quick = process.argv.includes("--quick");
const sizes = [100, 1_000, 10_000];
const starts = quick ? 3 : 9;
const edits = quick ? 20 : 60;
const burst = 1001;

const measures = ["start", "open", "edit", "cpu", "edit + hover", "burst", "memory"] as const;
type Measure = (typeof measures)[number];
type Samples = Record<Measure, number[]>;

/** The most that ours may take of the other's, at the sizes where it is promised. */
const goals: Readonly<Record<Measure, (lines: number) => number | undefined>> = {
  start: () => 0.8,
  open: (lines) => (lines >= 1_000 ? 2 : undefined),
  edit: (lines) => (lines === 10_000 ? 0.25 : undefined),
  cpu: (lines) => (lines === 10_000 ? 0.25 : undefined),
  "edit + hover": (lines) => (lines === 10_000 ? 0.25 : undefined),
  burst: (lines) => (lines === 10_000 ? 1 : undefined),
  memory: (lines) => (lines === 10_000 ? 1 : undefined),
};
/** How often the figure at 100 lines that at 10,000 may be. */
const growth = 3;
const growing: readonly Measure[] = ["edit", "cpu", "edit + hover"];

const now = (): number => performance.now();
const median = (numbers: readonly number[]): number =>
  [...numbers].sort((a, b) => a - b)[numbers.length >> 1] ?? Number.NaN;

async function timed(work: () => Promise<unknown>): Promise<number> {
  const begun = now();
  await work();
  return now() - begun;
}

const emptySamples = (): Samples =>
  Object.fromEntries(measures.map((it) => [it, [] as number[]])) as unknown as Samples;

/** Start and open, each in a fresh process. */
async function freshSamples(contestant: Contestant, lines: number, samples: Samples): Promise<void> {
  const server = await startServer(contestant, contestant.documentOf(lines));
  samples.start.push(server.startTook);
  samples.open.push(
    await timed(async () => {
      server.open();
      await server.diagnostics();
    }),
  );
  await server.stop();
}

/** One change there and back, so that each sample starts from the same text. */
async function editSamples(server: ServerProcess, samples: Samples): Promise<void> {
  const before = server.processorTime();
  for (let i = 0; i < 2; i++) {
    samples.edit.push(
      await timed(async () => {
        server.change();
        await server.diagnostics();
      }),
    );
  }
  samples.cpu.push((server.processorTime() - before) / 2);
  for (let i = 0; i < 2; i++) {
    samples["edit + hover"].push(
      await timed(async () => {
        server.change();
        await server.hover();
      }),
    );
  }
}

async function burstSamples(server: ServerProcess, samples: Samples): Promise<void> {
  samples.burst.push(
    await timed(async () => {
      for (let i = 0; i < burst; i++) server.change();
      await server.diagnostics();
    }),
  );
  samples.memory.push(server.peakMemory());
}

async function bench(lines: number): Promise<readonly [Samples, Samples]> {
  const samples: readonly [Samples, Samples] = [emptySamples(), emptySamples()];
  const both = [0, 1] as const;
  for (let round = 0; round < starts; round++)
    for (const i of round % 2 === 0 ? both : [...both].reverse())
      await freshSamples(contestants[i as 0 | 1], lines, samples[i as 0 | 1]);
  const servers = await Promise.all(contestants.map((it) => startServer(it, it.documentOf(lines))));
  for (const server of servers) {
    server.open();
    const clean = await server.diagnostics();
    server.change();
    const typed = await server.diagnostics();
    if (clean === typed) throw new Error("what is typed raises no problem, so nothing can be told from it");
    server.change();
    // The engine gets to know the work, as it does while somebody types.
    for (let i = 0; i < 10; i++) await editSamples(server, emptySamples());
  }
  for (let round = 0; round < edits / 2; round++)
    for (const i of round % 2 === 0 ? both : [...both].reverse())
      await editSamples(servers[i] as ServerProcess, samples[i as 0 | 1]);
  for (const i of both) await burstSamples(servers[i] as ServerProcess, samples[i]);
  for (const server of servers) await server.stop();
  return samples;
}

const say = (row: readonly string[]): void => console.log(`| ${row.join(" | ")} |`);
const figure = (it: number): string => (it >= 100 ? it.toFixed(0) : it.toFixed(1));

console.log(
  `Node ${process.version}, ${availableParallelism()} processors; milliseconds, medians; memory in MiB.\n`,
);
say(["lines", "server", ...measures]);
say(["---", "---", ...measures.map(() => "---")]);
const ours = new Map<number, Samples>();
const missed: string[] = [];
for (const lines of sizes) {
  const [own, other] = await bench(lines);
  ours.set(lines, own);
  for (const [i, samples] of [own, other].entries())
    say([`${lines}`, contestants[i]?.name ?? "", ...measures.map((it) => figure(median(samples[it])))]);
  const ratios = measures.map((it) => median(own[it]) / median(other[it]));
  say([`${lines}`, "ratio", ...ratios.map((it) => it.toFixed(2))]);
  for (const [i, measure] of measures.entries()) {
    const goal = goals[measure](lines);
    const ratio = ratios[i] as number;
    if (goal !== undefined && ratio > goal)
      missed.push(`${measure} at ${lines} lines: ${ratio.toFixed(2)}, goal ≤ ${goal}`);
  }
}
const [short, long] = [ours.get(100), ours.get(10_000)];
if (short !== undefined && long !== undefined) {
  const times = growing.map((it) => median(long[it]) / median(short[it]));
  console.log(
    `\nAt 10,000 lines against 100: ${growing.map((it, i) => `${it} ${times[i]?.toFixed(1)}`).join(", ")}; goal ≤ ${growth}.`,
  );
  growing.forEach((it, i) => {
    if ((times[i] as number) > growth) missed.push(`${it} grows ${times[i]?.toFixed(1)} times`);
  });
}
console.log(missed.length === 0 ? "\nEvery goal is met." : `\nOver the goal:\n- ${missed.join("\n- ")}`);
