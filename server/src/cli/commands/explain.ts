import { defaultSettings, noFiles, openDocument } from "../../document/document.js";
import { type Code, catalogue } from "../../problems/catalogue.js";
import { type Command, complain, misuse } from "../command.js";
import { drawProblem } from "../draw.js";
import { wrap } from "../help.js";
import type { ExitCode, Io } from "../io.js";
import { meant } from "../options.js";
import { paintFor } from "../paint.js";

const codes = Object.keys(catalogue) as Code[];

export const explain: Command = {
  name: "explain",
  usages: ["[CODE]"],
  summary: "the page of a check; without CODE the list",
  about: "Says what a check means for the music and what to do about it, with a chart that raises it.",
  options: [],
  run({ operands }, io) {
    const [code, ...more] = operands;
    if (more.length > 0) return misuse(io, "explain", "One code at a time.");
    if (code === undefined) return list(io);
    const written = code.toLowerCase();
    const known = codes.find((it) => it === written);
    if (known !== undefined) return page(known, io);
    const near = meant(written, codes);
    const advice = near === undefined ? "`plagal explain` lists them all." : `Did you mean ${near}?`;
    return complain(io, `there is no check “${code}”. ${advice}`);
  },
};

function list(io: Io): ExitCode {
  const paint = paintFor(io);
  const width = Math.max(...codes.map(({ length }) => length));
  for (const code of codes) {
    const { severity, summary } = catalogue[code];
    io.out(`${paint.bold(code.padEnd(width))}  ${severity.padEnd(7)}  ${summary}\n`);
  }
  io.out("\n`plagal explain CODE` opens the page of one.\n");
  return 0;
}

function page(code: Code, io: Io): ExitCode {
  const paint = paintFor(io);
  const { severity, explanation, example } = catalogue[code];
  const kind = severity === "off" ? "off unless a setting asks for it" : severity;
  io.out(`${paint.bold(code)} (${kind})\n\n${reflow(explanation)}\n\n${paint.bold("Example")}\n\n`);
  const text = example.endsWith("\n") ? example : `${example}\n`;
  io.out(`${text.replace(/^(?=[^\r\n])/gm, "    ")}\n`);
  const document = openDocument("example", text, noFiles, {
    ...defaultSettings,
    severities: severity === "off" ? { [code]: "info" } : {},
  });
  for (const problem of document.problems)
    io.out(`${drawProblem({ path: "example", text, starts: document.tree.starts }, problem, paint)}\n\n`);
  return 0;
}

/** Markdown with its paragraphs broken into lines for a terminal; samples, lists and headings stay as they are. */
function reflow(markdown: string): string {
  let inSample = false;
  return markdown
    .trim()
    .split(/\n{2,}/)
    .map((block) => {
      const fences = block.split("\n").filter((line) => line.startsWith("```")).length;
      const isProse = !inSample && fences === 0 && !/^(?: {4}|[-*#|>] ?|\d+\. )/.test(block);
      if (fences % 2 === 1) inSample = !inSample;
      return isProse ? wrap(block.replaceAll("\n", " "), 80).join("\n") : block;
    })
    .join("\n\n");
}
