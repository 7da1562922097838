import { type Command, misuse } from "../command.js";

export const lsp: Command = {
  name: "lsp",
  usages: ["--stdio"],
  summary: "serves an editor as its language server",
  about:
    "Talks to an editor in the Language Server Protocol: problems while you type, hover, completion, moves. An editor starts it; by hand there is nothing to see.",
  options: [
    { name: "stdio", about: "over standard input and output" },
    { name: "clientProcessId", value: "ID", about: "end when the process with this number ends" },
  ],
  run({ operands, options }, io) {
    if (operands.length > 0) return misuse(io, "lsp", `It takes no charts: an editor names them.`);
    if (!options.has("stdio")) return misuse(io, "lsp", "It talks over standard input and output: --stdio.");
    io.serve();
    return 0;
  },
};
