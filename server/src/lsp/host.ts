import type { BundleName } from "../exports/export-file.js";

/** What came of reading a file. */
export type FileRead =
  | { readonly kind: "text"; readonly text: string }
  /** `outside`: a link leads out of the folders that may be read. */
  | { readonly kind: "missing" | "unreadable" | "outside" };

/** All that the server asks of the machine it runs on. */
export interface Host {
  readonly version: string;
  /** The folder of the check pages as a URI that ends in `/`, where the client names none. */
  readonly pages: string | undefined;
  /** Reads a file that lies in one of these folders (URIs). */
  readonly read: (uri: string, folders: readonly string[]) => Promise<FileRead>;
  /** The URIs of all charts below these folders. */
  readonly charts: (folders: readonly string[]) => Promise<readonly string[]>;
  /**
   * What a bundle beside the server's holds, loaded once. A host that can't load it by itself is given its program by
   * `script`.
   */
  readonly bundle: (name: BundleName, script: (name: BundleName) => Promise<string>) => Promise<unknown>;
  /** Runs something after so many milliseconds; what it gives takes that back. */
  readonly later: (milliseconds: number, run: () => void) => () => void;
  /** Runs something when nothing that has come in waits any more; what it gives takes that back. */
  readonly whenIdle: (run: () => void) => () => void;
}
