// Bundles what ships; with `generate` writes the generated files, with `bench` bundles the bench, with `package` makes
// the extension's file.
import { spawnSync } from "node:child_process";
import { chmodSync, cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build as esbuild } from "esbuild";
import { engraverNotice, noticeOf } from "./notice.mjs";
import { pageAssets, pianoCredit } from "./page-assets.mjs";

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

/** The files that went into the bundles, for the notice of licences. */
const bundled = new Set();

async function build(options) {
  const { metafile } = await esbuild({ ...options, metafile: true });
  for (const path of Object.keys(metafile.inputs)) bundled.add(path);
}

/**
 * Leaves the pages of the checks out of a program that never shows them: an editor reads them from files beside it
 * (`dist/checks`), and they are a tenth of our own code.
 */
const withoutCheckPages = {
  name: "without check pages",
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]problems[\\/]codes[\\/][^\\/]+\.ts$/ }, ({ path }) => {
      let count = 0;
      const contents = readFileSync(path, "utf8").replace(
        /^( {2}(?:explanation|example): ?)(?:`(?:[^`\\]|\\.)*`|\s*"(?:[^"\\]|\\.)*")/gm,
        (_, name) => {
          count++;
          return `${name}""`;
        },
      );
      if (count !== 2) throw new Error(`${path} has no explanation and example as they were written so far`);
      return { contents, loader: "ts" };
    });
  },
};

const engraver = "node_modules/verovio/dist/verovio-toolkit-wasm.js";

/** What `npm run build` makes, and what the extension's file holds. */
const product = ["command", "exports", "sheets", "page", "live", "picture", "server", "pages", "client"];

const builds = {
  async command() {
    const outfile = "dist/plagal.cjs";
    await build({
      ...shared,
      entryPoints: ["server/src/main/cli.ts"],
      outfile,
      format: "cjs",
      minify: true,
      banner: { js: "#!/usr/bin/env node" },
    });
    chmodSync(`${root}/${outfile}`, 0o755);
  },
  async exports() {
    // A bundle of its own: the command loads it when something is exported.
    await build({
      ...shared,
      entryPoints: ["server/src/exports/exporters.ts"],
      outfile: "dist/exports.cjs",
      format: "cjs",
      minify: true,
    });
  },
  async sheets() {
    // Another one, since a library for PDF and a font are as large as all the rest.
    await build({
      ...shared,
      entryPoints: ["server/src/exports/sheets.ts"],
      outfile: "dist/sheets.cjs",
      format: "cjs",
      mainFields: ["module", "main"],
      minify: true,
    });
    // The font is in a source made from this package.
    bundled.add("node_modules/dejavu-fonts-ttf/package.json");
  },
  async page() {
    // The page that plays itself: its program is a script inside it, and stands in this bundle as text.
    const { json, inputs } = await pageAssets(root, shared);
    for (const path of inputs) bundled.add(path);
    await build({
      ...shared,
      entryPoints: ["server/src/exports/pages.ts"],
      outfile: "dist/page.cjs",
      format: "cjs",
      minify: true,
      define: { ...shared.define, PLAGAL_PAGE: json },
    });
  },
  async live() {
    // What the page beside the text is made from, and the page's own program with its sound.
    await build({
      ...shared,
      entryPoints: ["server/src/exports/live.ts"],
      outfile: "dist/live.cjs",
      format: "cjs",
      minify: true,
    });
    await build({
      ...shared,
      entryPoints: ["server/src/page/live.ts"],
      outfile: "dist/live-page.js",
      platform: "browser",
      target: "es2022",
      format: "iife",
      minify: true,
    });
    cpSync(`${root}/server/piano`, `${root}/dist/piano`, {
      recursive: true,
      filter: (path) => !path.endsWith(".mjs"),
    });
    // The engraver, as it is: whoever wants another version of it puts that in its place, as its licence asks.
    cpSync(`${root}/${engraver}`, `${root}/dist/verovio-toolkit-wasm.js`);
  },
  async picture() {
    // The keyboards in hovers, so that a start of the server loads nothing for them.
    await build({
      ...shared,
      entryPoints: ["server/src/exports/pictures.ts"],
      outfile: "dist/picture.cjs",
      format: "cjs",
      minify: true,
    });
  },
  async server() {
    const minified = { ...shared, minify: true, plugins: [withoutCheckPages] };
    await build({
      ...minified,
      entryPoints: ["server/src/main/lsp-node.ts"],
      outfile: "dist/server.cjs",
      format: "cjs",
    });
    await build({
      ...minified,
      entryPoints: ["server/src/main/worker.ts"],
      outfile: "dist/server-web.js",
      format: "iife",
      platform: "browser",
      target: "es2022",
    });
  },
  async pages() {
    const outfile = "dist/pages.mjs";
    await build({ ...shared, entryPoints: ["server/src/features/check-pages.ts"], outfile, format: "esm" });
    const { checkPages } = await import(pathToFileURL(`${root}/${outfile}`).href);
    rmSync(`${root}/dist/checks`, { recursive: true, force: true });
    mkdirSync(`${root}/dist/checks`, { recursive: true });
    for (const [name, text] of checkPages()) writeFileSync(`${root}/dist/checks/${name}`, text);
    rmSync(`${root}/${outfile}`);
  },
  async client() {
    const options = { ...shared, format: "cjs", external: ["vscode"], loader: { ".plagal": "text" } };
    await build({
      ...options,
      entryPoints: ["client/main.node.ts"],
      outfile: "dist/client.cjs",
      minify: true,
    });
    await build({
      ...options,
      entryPoints: ["client/main.web.ts"],
      outfile: "dist/client-web.js",
      platform: "browser",
      target: "es2022",
      minify: true,
    });
  },
  async generate() {
    for (const room of ["grammar", "client"]) {
      const outfile = `dist/generate-${room}.mjs`;
      await build({ ...shared, entryPoints: [`${room}/generate.ts`], outfile, format: "esm" });
      const { generatedFiles } = await import(pathToFileURL(`${root}/${outfile}`).href);
      for (const [path, text] of generatedFiles((path) => readFileSync(`${root}/${path}`, "utf8"))) {
        writeFileSync(`${root}/${path}`, text);
        console.log(path);
      }
    }
    await import("./print-font.mjs");
  },
  async product() {
    for (const name of product) await builds[name]();
    writeFileSync(`${root}/dist/NOTICE.txt`, noticeOf(root, bundled, [pianoCredit, engraverNotice(root)]));
  },
  async package() {
    await builds.product();
    await builds.vsix();
  },
  /** The extension's file alone, of what is built already; where to is the next word of the call. */
  async vsix() {
    const vsce = `${root}/node_modules/@vscode/vsce/vsce`;
    const options = ["--no-dependencies", "--no-rewrite-relative-links", "--allow-missing-repository"];
    const out = process.argv[3] ?? `dist/plagal-${version}.vsix`;
    const call = [vsce, "package", ...options, "--out", out];
    const { status } = spawnSync(process.execPath, call, { cwd: root, stdio: "inherit" });
    if (status !== 0) process.exitCode = 1;
  },
  async bench() {
    await build({
      ...shared,
      entryPoints: ["bench", "cold", "lsp-bench", "page-bench"].map((name) => `test/bench/${name}.ts`),
      alias: { vscode: "./test/bench/vscode-double.ts" },
      // It finds its own files beside itself.
      external: ["playwright-core"],
      outdir: "dist/bench",
      outExtension: { ".js": ".mjs" },
      format: "esm",
      // What the bench measures may come as CommonJS, which asks for `require`.
      banner: {
        js: 'import { createRequire as requireOf } from "node:module"; const require = requireOf(import.meta.url);',
      },
    });
  },
};

const wanted = process.argv[2] ?? "product";
const chosen = Object.hasOwn(builds, wanted) ? builds[wanted] : undefined;
if (chosen === undefined) {
  console.error(`There is no build “${wanted}”: ${Object.keys(builds).join(", ")}.`);
  process.exitCode = 2;
} else await chosen();
