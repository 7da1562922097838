import type { ExtensionContext } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import type { Pages } from "./pages.js";

/** The way to the language server, and the extension that it runs in. */
export interface Connected {
  readonly context: ExtensionContext;
  readonly client: BaseLanguageClient;
}

/** What every command is given. */
export interface Session extends Connected {
  /** The pages beside the text. */
  readonly pages: Pages;
  /** Ends the language server and starts a new one. */
  restart(): Promise<void>;
}
