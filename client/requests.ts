// TEMPORARY until server/src/lsp/protocol.ts stands: the shapes of the custom requests.
import type { Range, WorkspaceEdit } from "vscode-languageserver-protocol";

export interface TextDocumentIdentifier {
  readonly uri: string;
}
export interface Place {
  readonly textDocument: TextDocumentIdentifier;
  readonly range?: Range;
  readonly section?: boolean;
}
export interface KeyChoice {
  readonly key: string;
  readonly name: string;
  readonly signature: string;
  readonly interval: string;
  readonly lowest?: string;
  readonly highest?: string;
  readonly present: boolean;
}
export interface EditAnswer {
  readonly edit?: WorkspaceEdit;
  readonly notes: readonly string[];
  readonly refused?: string;
}
export interface MoveAllAnswer {
  readonly charts: readonly (EditAnswer & { readonly uri: string })[];
}
export interface NewChartAnswer {
  readonly text: string;
}
export interface StatusAnswer {
  readonly key: string;
  readonly tempo: string;
  readonly errors: number;
  readonly warnings: number;
  readonly others: number;
}
