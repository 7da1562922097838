// What `npm start` shows: the built command checks a sample chart, shows it, explains a check and moves the chart; then
// what two hands can't play and in which keys, its chord row voiced anew, and the
// files that are handed out.
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const program = `${root}/dist/plagal.cjs`;
const chart = "test/charts/harbour-evening.plagal";
const tenths = "test/charts/hands/slow-ferry.plagal";

/** Runs one command of the program, which ends with this status, and prints its command line first. */
function ends(expected, ...args) {
  console.log(`\n$ plagal ${args.join(" ")}\n`);
  const { status } = spawnSync(process.execPath, [program, ...args], { cwd: root, stdio: "inherit" });
  if (status !== expected) process.exitCode = 1;
}
const show = (...args) => ends(0, ...args);

/** Runs a command that gives a chart back, and prints the lines that it changes, old above new. */
function change(command, file, ...more) {
  const args = [command, file, ...more];
  console.log(`\n$ plagal ${args.join(" ")}        (the lines that change)\n`);
  const { stdout, status } = spawnSync(process.execPath, [program, ...args], { cwd: root, encoding: "utf8" });
  if (status !== 0) process.exitCode = 1;
  const before = readFileSync(`${root}/${file}`, "utf8").split("\n");
  stdout.split("\n").forEach((line, i) => {
    if (line !== before[i]) console.log(`- ${before[i] ?? ""}\n+ ${line}`);
  });
}

show("check", chart);
show("show", chart);
show("explain", "low-interval");
change("transpose", chart, "Ab");
// A hand that reaches a tenth holds these, but not in every key; one that reaches a ninth doesn't hold them here.
show("check", tenths);
ends(1, "check", tenths, "--reach", "left=9");
// Its chords again, both hands found for it, so that they lie well in every key at the usual reach.
change("voice", tenths, "--row", "both", "--style", "two-hand", "--every-key", "--all", "--reach", "9");
// Files for the band and the students, in a folder of their own.
const folder = "dist/handout";
mkdirSync(`${root}/${folder}`, { recursive: true });
for (const [kind, ending] of Object.entries({ midi: "mid", musicxml: "musicxml", pdf: "pdf", page: "html" }))
  show("export", chart, "--to", kind, "--out", `${folder}/harbour-evening.${ending}`, "--force");
