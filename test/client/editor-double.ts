import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { root } from "../support/root.js";

/** What a bundle of the extension did when it was started with an editor that only listens. */
export interface Started {
  /** The commands that it registered, in order. */
  readonly commands: readonly string[];
  /** The modules that it asked for. */
  readonly required: readonly string[];
}

const realRequire = createRequire(import.meta.url);

/** Anything at all: a class, a function, a namespace; what is asked of it is anything again. */
function anything(): unknown {
  class Anything {}
  return new Proxy(Anything, {
    get: (target, name) => {
      if (name === "prototype" || name in target) return Reflect.get(target, name);
      // Not a promise, and no text but this.
      if (name === "then") return undefined;
      if (name === Symbol.toPrimitive) return () => "";
      return anything();
    },
    apply: () => anything(),
  });
}

/** Starts a bundle with a double of the editor, as far as it gets before it needs a server. */
export async function startBundle(bundle: string): Promise<Started> {
  const commands: string[] = [];
  const required: string[] = [];
  const editor: Record<string, unknown> = {
    commands: {
      registerCommand: (name: string) => {
        commands.push(name);
        return { dispose() {} };
      },
    },
    env: { appName: "double", language: "en" },
    version: "1.100.0",
    EventEmitter: class {
      event = () => ({ dispose() {} });
      fire() {}
      dispose() {}
    },
    extensions: { getExtension: () => undefined },
  };
  const vscode = new Proxy(editor, {
    get: (known, name: string) => {
      if (!(name in known)) known[name] = anything();
      return known[name];
    },
  });
  const require = (name: string): unknown => {
    required.push(name);
    if (name === "vscode") return vscode;
    // No server is started here.
    if (/^(?:node:)?child_process$/.test(name)) return anything();
    return realRequire(name);
  };
  const module = { exports: {} as { activate?: (context: unknown) => Promise<void> } };
  const text = readFileSync(join(root, bundle), "utf8");
  new Function("module", "exports", "require", text)(module, module.exports, require);
  const context = { subscriptions: [], extensionUri: anything(), asAbsolutePath: (path: string) => path };
  // It ends where the server should answer; by then the commands are there.
  await Promise.race([
    Promise.resolve(module.exports.activate?.(context)).catch(() => undefined),
    new Promise((resolve) => setTimeout(resolve, 2000)),
  ]);
  return { commands, required };
}
