// One opening in an engine that has run nothing before: takes a chart on standard input, prints the milliseconds from
// its text to its problems, and how many there are.
import { readFileSync } from "node:fs";
import { openDocument } from "../../server/src/document/document.js";

const text = readFileSync(0, "utf8");
const start = performance.now();
const { length } = openDocument("bench.plagal", text).problems;
console.log(performance.now() - start, length);
