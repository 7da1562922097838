// What `npm start` shows: the built command checks a sample chart, shows it, explains a check and moves the chart.
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const program = `${root}/dist/plagal.cjs`;
const chart = "test/charts/harbour-evening.plagal";

/** Runs one command of the program and prints its command line first. */
function show(...args) {
  console.log(`\n$ plagal ${args.join(" ")}\n`);
  const { status } = spawnSync(process.execPath, [program, ...args], { cwd: root, stdio: "inherit" });
  if (status !== 0) process.exitCode = 1;
}

/** Moves the chart and prints the lines that change, old above new. */
function move(key) {
  const args = ["transpose", chart, key];
  console.log(`\n$ plagal ${args.join(" ")}        (the lines that change)\n`);
  const { stdout, status } = spawnSync(process.execPath, [program, ...args], { cwd: root, encoding: "utf8" });
  if (status !== 0) process.exitCode = 1;
  const before = readFileSync(`${root}/${chart}`, "utf8").split("\n");
  stdout.split("\n").forEach((line, i) => {
    if (line !== before[i]) console.log(`- ${before[i] ?? ""}\n+ ${line}`);
  });
}

show("check", chart);
show("show", chart);
show("explain", "low-interval");
move("Ab");
