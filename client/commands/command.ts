import type { Session } from "../session.js";

/** A command of the editor: its name in the manifest, and what it does. */
export interface Command {
  readonly name: `plagal.${string}`;
  run(session: Session, ...args: readonly unknown[]): Promise<void>;
}
