// Bundles the command; with `generate` writes the generated files of grammar/, with `bench` bundles the bench.
import { chmodSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("..", import.meta.url));
const { version } = JSON.parse(readFileSync(`${root}/package.json`, "utf8"));

const shared = {
  absWorkingDir: root,
  bundle: true,
  platform: "node",
  target: "node20",
  define: { PLAGAL_VERSION: JSON.stringify(version) },
  logLevel: "warning",
};

const builds = {
  async command() {
    const outfile = "dist/plagal.cjs";
    await build({
      ...shared,
      entryPoints: ["server/src/main/cli.ts"],
      outfile,
      format: "cjs",
      banner: { js: "#!/usr/bin/env node" },
    });
    chmodSync(`${root}/${outfile}`, 0o755);
  },
  async generate() {
    const outfile = "dist/generate.mjs";
    await build({ ...shared, entryPoints: ["grammar/generate.ts"], outfile, format: "esm" });
    const { generatedFiles } = await import(pathToFileURL(`${root}/${outfile}`).href);
    for (const [path, text] of generatedFiles()) {
      writeFileSync(`${root}/${path}`, text);
      console.log(path);
    }
  },
  async bench() {
    await build({
      ...shared,
      entryPoints: ["test/bench/bench.ts"],
      outfile: "dist/bench.mjs",
      format: "esm",
      // What the bench measures may come as CommonJS, which asks for `require`.
      banner: {
        js: 'import { createRequire } from "node:module"; const require = createRequire(import.meta.url);',
      },
    });
  },
};

const wanted = process.argv[2] ?? "command";
const chosen = Object.hasOwn(builds, wanted) ? builds[wanted] : undefined;
if (chosen === undefined) {
  console.error(`There is no build “${wanted}”: ${Object.keys(builds).join(", ")}.`);
  process.exitCode = 2;
} else await chosen();
