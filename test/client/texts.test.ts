import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { noFiles, openDocument } from "../../server/src/document/document.js";
import { plagal } from "../support/memory-io.js";
import { root } from "../support/root.js";

const read = (path: string): string => readFileSync(join(root, path), "utf8");
const manifest = JSON.parse(read("package.json"));
const said = (text: string): readonly string[] =>
  openDocument("a.plagal", text, noFiles).problems.map(({ code, message }) => `${code}: ${message}`);

describe("the snippets", () => {
  const snippets = Object.entries<{ prefix: string; body: readonly string[]; description: string }>(
    JSON.parse(read("grammar/snippets.json")),
  );
  test.each(snippets)("%s gives rows without a problem", (name, { body, description }) => {
    const text = body.join("\n").replace(/\$\{\d+:([^}]*)\}|\$\d+/g, (_, words) => words ?? "");
    expect(said(name === "Melody and words" ? `section A\n${text}` : text)).toEqual([]);
    expect(description).toMatch(/^[A-Z].*[^.]$/);
  });
});

describe("the sample chart", () => {
  const sample = read("client/sample/first-light.plagal");

  test("has the one thing to mend that the walkthrough speaks of, with its fix", () => {
    const { problems } = openDocument("a.plagal", sample, noFiles);
    expect(problems.map(({ code }) => code)).toEqual(["outside-chord"]);
    expect(problems[0]?.fixes.map(({ title }) => title)).toEqual(["Play the 4 (E♭)"]);
  });

  test("is lined up", () => {
    const { code } = plagal(["format", "--check", "a.plagal"], { files: { "a.plagal": sample } });
    expect(code).toBe(0);
  });
});

describe("the reference of settings, commands and requests", () => {
  const reference = read("client/REFERENCE.md");
  const rows = [...reference.matchAll(/^\| (?:[^|]* \| )?`(plagal\.[\w.]+)`/gm)].map(([, name]) => name);

  test("has each setting with its default, and each command by both its names", () => {
    const { configuration, commands } = manifest.contributes;
    for (const [name, { default: unsaid }] of Object.entries<{ default: unknown }>(
      configuration.properties,
    )) {
      expect(reference).toContain(`| \`${name}\` | \`${JSON.stringify(unsaid)}\` | `);
    }
    for (const { command, title } of commands) expect(reference).toContain(`| ${title} | \`${command}\` | `);
    const known = [
      ...Object.keys(configuration.properties),
      ...commands.map((it: { command: string }) => it.command),
    ];
    expect([...rows].sort()).toEqual([...known].sort());
  });

  test("has each request of the protocol with all that is asked and answered", () => {
    const protocol = read("server/src/lsp/protocol.ts");
    const declared = new Set([...protocol.matchAll(/readonly "(plagal\/\w+)":/g)].map(([, name]) => name));
    const described = [...reference.matchAll(/^\| `(plagal\/\w+)` \|/gm)].map(([, name]) => name);
    expect(new Set(described)).toEqual(declared);
    expect(declared.size).toBeGreaterThan(5);
    const options = /interface InitializationOptions \{([\s\S]*?)\n\}/.exec(protocol)?.[1] ?? "";
    for (const [, name] of options.matchAll(/readonly (\w+)\?/g))
      expect(reference).toContain(`| \`${name}\` | `);
  });
});

describe("the pages for other editors", () => {
  const pages = readdirSync(join(root, "client/editors"));

  test("are there for Neovim, Emacs, Helix and the rest", () => {
    expect(pages.sort()).toEqual(["emacs.md", "helix.md", "neovim.md", "other.md"]);
  });

  test.each(pages)("%s starts the server with a call that the command knows", (page) => {
    const text = read(`client/editors/${page}`);
    expect(text).toMatch(/"lsp",? "--stdio"|`plagal lsp --stdio`/);
    expect(plagal(["--help"]).out).toContain("plagal lsp");
  });
});

describe("the hook and the action", () => {
  const charts = { "good.plagal": "section A\nchords | 1 |\n", "bad.plagal": "section A\nchords | 1zz |\n" };

  test("the hooks call commands that are there, on charts alone", () => {
    const hooks = read(".pre-commit-hooks.yaml");
    const calls = [...hooks.matchAll(/^ {2}entry: plagal (\w+)/gm)].map(([, name]) => name);
    expect(calls).toEqual(["check", "format"]);
    for (const name of calls) expect(plagal([name as string, "--help"]).code).toBe(0);
    expect(hooks.match(/^ {2}files: \\\.plagal\$$/gm)).toHaveLength(2);
    expect(manifest.bin.plagal).toBe("dist/plagal.cjs");
    expect(manifest.scripts.prepare).toBe("node server/build.mjs");
  });

  test("the action fails where a chart has an error, and writes the SARIF that it was asked for", () => {
    const folder = mkdtempSync(join(tmpdir(), "plagal-action-"));
    try {
      for (const [name, text] of Object.entries(charts)) writeFileSync(join(folder, name), text);
      const script = join(root, ".github/actions/check-charts/check-charts.sh");
      const call = (env: Record<string, string>) =>
        spawnSync(script, { cwd: folder, encoding: "utf8", env: { ...process.env, ...env } });
      const bad = call({ SARIF: "out.sarif" });
      expect(bad.status).toBe(1);
      expect(bad.stdout).toContain("bad.plagal:2:10: error unknown-chord");
      expect(JSON.parse(readFileSync(join(folder, "out.sarif"), "utf8")).version).toBe("2.1.0");
      expect(call({ CHARTS: "good.plagal" }).status).toBe(0);
      expect(call({ CHARTS: "none/*.plagal" }).stdout).toContain("There are no charts");
      expect(call({ CHARTS: "missing.plagal" }).status).toBe(2);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  test("the action's file names the inputs that its script reads", () => {
    const action = read(".github/actions/check-charts/action.yml");
    for (const name of ["charts", "fail-on", "sarif"]) {
      expect(action).toMatch(new RegExp(`^  ${name}:$`, "m"));
      expect(action).toContain(`${name.toUpperCase().replace("-", "_")}: \${{ inputs.${name} }}`);
    }
    expect(
      execFileSync("bash", ["-n", join(root, ".github/actions/check-charts/check-charts.sh")]),
    ).toHaveLength(0);
  });
});
