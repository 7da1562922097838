import type { Command } from "./command.js";
import type { Option } from "./options.js";

const gap = 2;

/** Two columns, the right one broken into lines of at most 80 columns in all. */
function columns(rows: readonly (readonly [left: string, right: string])[]): string {
  const width = Math.max(...rows.map(([left]) => left.length)) + gap;
  return rows
    .map(([left, right]) => {
      const [first = "", ...rest] = wrap(right, 80 - gap - width);
      return [
        `  ${left.padEnd(width)}${first}`.trimEnd(),
        ...rest.map((line) => " ".repeat(gap + width) + line),
      ].join("\n");
    })
    .join("\n");
}

/** Breaks a text at its spaces into lines of at most `width` columns, where words allow it. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line !== "" && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return [...lines, line];
}

const written = ({ name, value, choices }: Option): string =>
  `--${name}${value === undefined ? "" : ` ${choices?.join("|") ?? value}`}`;

/** The help of the whole program. */
export function overview(commands: readonly Command[]): string {
  const rows = commands.flatMap(({ name, usages, summary }) =>
    usages.map((usage, i): [string, string] => [`plagal ${name} ${usage}`.trimEnd(), i === 0 ? summary : ""]),
  );
  return `plagal reads, checks, explains and moves keyboard charts.

${columns([
  ...rows,
  ["plagal COMMAND --help", "how to call a command"],
  ["plagal --version", "which version this is"],
])}

A FILE may be - for standard input. Nothing is written but where an option says so.
Exit status: 0 done, 1 errors found (or what --fail-on names),
2 wrong use or a file that can't be read.
`;
}

/** The help of one command. */
export function helpOn({ name, usages, about, options }: Command): string {
  const calls = usages.map((usage) => `plagal ${name} ${usage}`.trimEnd()).join("\n");
  const rows = [...options.map((option): [string, string] => [written(option), option.about])];
  const table = columns([...rows, ["--help", "this page"]]);
  return `${calls}\n\n${wrap(about, 80).join("\n")}\n\n${table}\n`;
}
