import type { Command } from "./command.js";

/** Shows the extension's log. */
export const showLog: Command = {
  name: "plagal.showLog",
  async run({ client }) {
    client.outputChannel.show();
  },
};
