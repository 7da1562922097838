import type { ExtensionContext } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";

/** What every command is given: the way to the language server, and the extension that it runs in. */
export interface Session {
  readonly context: ExtensionContext;
  readonly client: BaseLanguageClient;
  /** Ends the language server and starts a new one. */
  restart(): Promise<void>;
}
