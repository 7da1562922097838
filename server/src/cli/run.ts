import { type Command, complain } from "./command.js";
import { check } from "./commands/check.js";
import { explain } from "./commands/explain.js";
import { exportChart } from "./commands/export.js";
import { format } from "./commands/format.js";
import { lsp } from "./commands/lsp.js";
import { revoice } from "./commands/revoice.js";
import { rewrite } from "./commands/rewrite.js";
import { show } from "./commands/show.js";
import { transpose } from "./commands/transpose.js";
import { voice } from "./commands/voice.js";
import { helpOn, overview } from "./help.js";
import type { ExitCode, Io } from "./io.js";
import { meant, readCall } from "./options.js";

/** Every command, in the order of the help. */
export const commands: readonly Command[] = [
  check,
  show,
  transpose,
  rewrite,
  voice,
  revoice,
  format,
  exportChart,
  explain,
  lsp,
];

const asksForHelp = (args: readonly string[]): boolean => {
  const end = args.indexOf("--");
  return args.slice(0, end < 0 ? undefined : end).some((arg) => arg === "--help" || arg === "-h");
};

/** Does what the arguments (without the program's name) ask for. */
export function run(args: readonly string[], io: Io): ExitCode {
  const [word, ...rest] = args;
  if (word === undefined) {
    io.err(overview(commands));
    return 2;
  }
  if (word === "--version" || word === "version") return say(io, `plagal ${io.version}\n`);
  if (word === "--help" || word === "-h" || word === "help") {
    const about = rest[0];
    return about === undefined
      ? say(io, overview(commands))
      : onCommand(about, io, ({ name }) => help(name, io));
  }
  return onCommand(word, io, (command) => {
    if (asksForHelp(rest)) return help(command.name, io);
    const call = readCall(rest, command.options);
    if ("complaint" in call)
      return complain(io, `${call.complaint} \`plagal ${word} --help\` shows all options.`);
    return command.run(call, io);
  });
}

function say(io: Io, text: string): 0 {
  io.out(text);
  return 0;
}

const help = (name: string, io: Io): ExitCode => onCommand(name, io, (command) => say(io, helpOn(command)));

function onCommand(name: string, io: Io, then: (command: Command) => ExitCode): ExitCode {
  const command = commands.find((it) => it.name === name);
  if (command !== undefined) return then(command);
  const near = meant(
    name,
    commands.map((it) => it.name),
  );
  const advice = near === undefined ? "`plagal --help` lists them." : `Did you mean ${near}?`;
  return complain(io, `there is no command “${name}”. ${advice}`);
}
