import { nearest } from "../text/nearest.js";

/** An option of a command, described once: its reading and its help both come from here. */
export interface Option {
  /** Without the dashes. */
  readonly name: string;
  /** What stands for its value in the help; an option without one is a switch. */
  readonly value?: string;
  /** The only values that it takes. */
  readonly choices?: readonly string[];
  /** One line for the help. */
  readonly about: string;
}

/** What stood behind a command's name. */
export interface Call {
  readonly operands: readonly string[];
  /** Switches have the value "". */
  readonly options: ReadonlyMap<string, string>;
}

/** The arguments sorted into operands and options, or what is wrong with them. `--` ends the options. */
export function readCall(
  args: readonly string[],
  known: readonly Option[],
): Call | { readonly complaint: string } {
  const operands: string[] = [];
  const options = new Map<string, string>();
  for (let i = 0; i < args.length; i++) {
    const arg = args[i] as string;
    if (arg === "--") {
      operands.push(...args.slice(i + 1));
      break;
    }
    if (!arg.startsWith("-") || arg === "-") {
      operands.push(arg);
      continue;
    }
    const [, name = arg, joined] = /^--([^=]+)(?:=(.*))?$/s.exec(arg) ?? [];
    const option = known.find((it) => it.name === name);
    if (option === undefined) return { complaint: unknownOption(arg, name, known) };
    if (option.value === undefined) {
      if (joined !== undefined) return { complaint: `--${name} takes no value.` };
      options.set(name, "");
      continue;
    }
    const value = joined ?? args[++i];
    if (value === undefined || value === "")
      return {
        complaint: `--${name} needs ${option.value} behind it, as in --${name} ${exampleOf(option)}.`,
      };
    if (option.choices !== undefined && !option.choices.includes(value))
      return { complaint: `--${name} is ${orList(option.choices)}, not “${value}”.` };
    options.set(name, value);
  }
  return { operands, options };
}

const exampleOf = (option: Option): string => option.choices?.[0] ?? (option.value as string);

function unknownOption(arg: string, name: string, known: readonly Option[]): string {
  const near = meant(
    name,
    known.map((it) => it.name),
  );
  const advice = near === undefined ? "" : ` Did you mean --${near}?`;
  return `There is no option ${arg.startsWith("--") ? `--${name}` : arg} here.${advice}`;
}

/** `error, warning or info` */
export const orList = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;

/** The word that a slip of the fingers would turn into this one: at most two letters wrong, and less than half. */
export const meant = (word: string, words: readonly string[]): string | undefined =>
  nearest(word, words, Math.min(2, Math.floor((word.length - 1) / 2)), 1)[0];
