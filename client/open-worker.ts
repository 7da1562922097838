import { type Uri, workspace } from "vscode";

/**
 * A worker with this script. An editor that runs extensions from a remote machine in the browser opens no worker at
 * the extension's own address; there the script is read and opened at an address of the browser's.
 */
export async function openWorker(script: Uri): Promise<Worker> {
  try {
    return new Worker(script.toString(true));
  } catch {
    const text = new Uint8Array(await workspace.fs.readFile(script));
    const address = URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
    try {
      return new Worker(address);
    } finally {
      URL.revokeObjectURL(address);
    }
  }
}
