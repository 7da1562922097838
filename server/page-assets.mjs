// What every page that plays itself carries: its program and the sound of a piano.
import { readdirSync, readFileSync } from "node:fs";
import { build } from "esbuild";

export const pianoCredit =
  "Piano: Salamander Grand Piano V3 by Alexander Holm, licensed under CC BY 3.0 (creativecommons.org/licenses/by/3.0); some of its notes, shortened, in one channel.";

/** `PLAGAL_PAGE` as JSON, and the files that went into it. */
export async function pageAssets(root, shared) {
  const { outputFiles, metafile } = await build({
    ...shared,
    entryPoints: ["server/src/page/page.ts"],
    platform: "browser",
    target: "es2022",
    format: "iife",
    minify: true,
    write: false,
    metafile: true,
    // No `</script` may end the script before its time.
    supported: { "inline-script": false },
  });
  const [{ text: script }] = outputFiles;
  const notes = readdirSync(`${root}/server/piano`).filter((name) => name.endsWith(".mp3"));
  const piano = Object.fromEntries(
    notes.map((name) => [
      name.replace(".mp3", ""),
      readFileSync(`${root}/server/piano/${name}`).toString("base64"),
    ]),
  );
  return {
    json: JSON.stringify({ script: script.trim(), piano, credit: pianoCredit }),
    inputs: Object.keys(metafile.inputs),
  };
}
