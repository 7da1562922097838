import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { inflateSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { generatedFiles } from "../../client/generate.js";
import { defaultServerSettings, readSettings } from "../../server/src/lsp/settings.js";
import { plagal } from "../support/memory-io.js";
import { root } from "../support/root.js";

const read = (path: string): string => readFileSync(join(root, path), "utf8");
const manifest = JSON.parse(read("package.json"));
const { contributes } = manifest;

interface ManifestCommand {
  readonly command: string;
  readonly title: string;
  readonly category: string;
  readonly icon?: string;
}
const commands: readonly ManifestCommand[] = contributes.commands;
const names = new Set(commands.map(({ command }) => command));

describe("the commands", () => {
  test("stand in one category, with a verb first, in title case and plain words", () => {
    for (const { title, category } of commands) {
      expect(category).toBe("Plagal");
      expect(title).toMatch(
        /^(?:Move|Write|Voice|Try|Revoice|Practise|Play|Set|Export|Start|Open|Fix|Explain|Read|Restart|Show) [\x20-\x7e]+…?$/,
      );
      expect(title.length).toBeLessThanOrEqual(40);
    }
  });

  test("are all that a menu or a walkthrough names of ours", () => {
    const text = JSON.stringify([contributes.menus, contributes.walkthroughs, contributes.keybindings ?? []]);
    const used = [
      ...text.matchAll(/"command":"([^"]+)"|command:(plagal\.[A-Za-z]+)|onCommand:(plagal\.\w+)/g),
    ];
    for (const [, menu, link, event] of used) expect(names).toContain(menu ?? link ?? event);
    expect(used.length).toBeGreaterThan(10);
  });

  test("are offered for the open chart only where they need one", () => {
    const palette = new Map<string, string>(
      contributes.menus.commandPalette.map((it: { command: string; when: string }) => [it.command, it.when]),
    );
    const free = ["moveAll", "newChart", "openSample", "explain", "readLanguage", "restart", "showLog"];
    for (const { command } of commands) {
      const needsNone = free.includes(command.replace("plagal.", ""));
      expect(palette.get(command) ?? "", command).toMatch(needsNone ? /^$/ : /^editorLangId == plagal/);
    }
  });

  test("take one icon above the text and one submenu in its menu, on charts alone", () => {
    expect(contributes.menus["editor/title"]).toEqual([
      { command: "plagal.move", when: "resourceLangId == plagal", group: "navigation" },
    ]);
    expect(contributes.menus["editor/context"]).toHaveLength(1);
    expect(contributes.menus["editor/context"][0].when).toBe("editorLangId == plagal");
  });

  test("take no keys that write letters on some keyboards", () => {
    for (const { key } of contributes.keybindings ?? []) expect(key).not.toMatch(/ctrl\+alt/);
  });
});

interface Setting {
  readonly default: unknown;
  readonly scope: string;
  readonly order: number;
  readonly markdownDescription: string;
  readonly type: string | readonly string[];
}
const settings = Object.entries<Setting>(contributes.configuration.properties);

/** The section `plagal` as the editor sends it, of settings by their full names. */
function sectionWith(values: ReadonlyMap<string, unknown>): Record<string, unknown> {
  const section: Record<string, unknown> = {};
  for (const [name, value] of values) {
    const path = name.split(".").slice(1);
    let at = section;
    for (const step of path.slice(0, -1)) {
      const inner = (at[step] ?? {}) as Record<string, unknown>;
      at[step] = inner;
      at = inner;
    }
    at[path.at(-1) as string] = value;
  }
  return section;
}

describe("the settings", () => {
  test("are at most fifteen, each with a scope, a description, an order and a default", () => {
    expect(settings.length).toBeLessThanOrEqual(15);
    settings.forEach(([name, setting], i) => {
      expect(name).toMatch(/^plagal\./);
      expect(["resource", "window", "language-overridable"]).toContain(setting.scope);
      expect(setting.markdownDescription).toMatch(/^[A-Z].*\.$/);
      expect(setting.order).toBe(i + 1);
      expect(setting).toHaveProperty("default");
    });
  });

  test("have the defaults that the server has where nobody says anything", () => {
    const defaults = sectionWith(new Map(settings.map(([name, it]) => [name, it.default])));
    expect(readSettings(defaults)).toEqual(defaultServerSettings);
    expect(readSettings(null)).toEqual(defaultServerSettings);
  });

  test.each([
    ["plagal.reach.left", 8],
    ["plagal.reach.right", 8],
    ["plagal.severities", { jump: "off" }],
    ["plagal.hover.scales", false],
    ["plagal.hover.picture", false],
    ["plagal.inlayHints.notes", true],
    ["plagal.inlayHints.letters", true],
    ["plagal.inlayHints.fingering", true],
    ["plagal.symbols.max", 7],
  ])("reach the server: %s", (name, value) => {
    expect(settings.map(([it]) => it)).toContain(name);
    expect(readSettings(sectionWith(new Map([[name, value]])))).not.toEqual(defaultServerSettings);
  });

  test("are all known to the server, but the one that the client reads itself", () => {
    const known = /^plagal\.(?:reach|severities|hover|inlayHints|symbols)\b/;
    const others = settings.map(([name]) => name).filter((name) => !known.test(name));
    expect(others).toEqual(["plagal.trace.server"]);
  });
});

describe("what is made by npm run generate", () => {
  test.each([...generatedFiles(read)])("%s is not stale", (path, text) => {
    expect(JSON.parse(read(path))).toEqual(JSON.parse(text));
  });
});

describe("the manifest", () => {
  test("names files that are there", () => {
    const paths = [...JSON.stringify(manifest).matchAll(/"(\.?\/?(?:client|grammar)\/[^"*]+\.[a-z]+)"/gi)];
    expect(paths.length).toBeGreaterThan(10);
    for (const [, path] of paths) expect(existsSync(join(root, path as string)), path).toBe(true);
  });

  test("has a language that wakes the extension: one with a configuration file", () => {
    const [language] = contributes.languages;
    expect(language).toMatchObject({ id: "plagal", extensions: [".plagal"] });
    expect(JSON.parse(read(language.configuration)).comments.lineComment).toBe(";");
  });

  test("wakes the extension for a page that was left from before too", () => {
    const panel = read("client/page-panel.ts");
    const [, type] = /export const pageType = "([^"]+)"/.exec(panel) ?? [];
    expect(manifest.activationEvents).toEqual([`onWebviewPanel:${type}`]);
  });

  test("works in a folder that nobody trusts and in one that is on no disk", () => {
    expect(manifest.capabilities).toEqual({
      untrustedWorkspaces: { supported: true },
      virtualWorkspaces: true,
    });
  });

  test("keeps the editor from boxing ♭ and ♯, and names the formatter", () => {
    const defaults = contributes.configurationDefaults["[plagal]"];
    expect(defaults["editor.unicodeHighlight.ambiguousCharacters"]).toBe(false);
    expect(defaults["editor.unicodeHighlight.nonBasicASCII"]).toBe(false);
    expect(defaults["editor.defaultFormatter"]).toBe(`${manifest.publisher}.${manifest.name}`);
    expect(defaults).not.toHaveProperty("editor.formatOnSave");
  });

  test("has an icon of our own drawing, 128 pixels wide at least", async () => {
    const { icon, pixels, size } = await import(join(root, "client/media/draw-icon.mjs"));
    const rows = (png: Buffer) => {
      const start = png.indexOf("IDAT", 0, "latin1");
      return inflateSync(png.subarray(start + 4, start + 4 + png.readUInt32BE(start - 4)));
    };
    const committed = readFileSync(join(root, manifest.icon));
    expect(committed.readUInt32BE(16)).toBe(size);
    expect(size).toBeGreaterThanOrEqual(128);
    expect(rows(committed).equals(rows(icon()))).toBe(true);
    expect(pixels()).toHaveLength(size * size * 4);
  });
});

describe("the walkthrough", () => {
  const [walkthrough] = contributes.walkthroughs;

  test("ends with a moved chart", () => {
    const last = walkthrough.steps.at(-1);
    expect(last.description).toContain("(command:plagal.move)");
    expect(last.completionEvents).toEqual(["onContext:plagal.moved"]);
  });

  test("says each step with a verb, and shows it in the theme's own colours", async () => {
    const { pictures } = await import(join(root, "client/media/draw-walkthrough.mjs"));
    expect(walkthrough.steps.length).toBe(pictures.size);
    for (const { title, media } of walkthrough.steps) {
      expect(title).toMatch(/^(?:Open|Point|Mend|Type|Move) /);
      expect(media.altText).toMatch(/^[A-Z].*\.$/);
      const text = read(media.svg);
      expect(text).toBe(pictures.get(media.svg.replace("client/media/", "")));
      for (const [, colour] of text.matchAll(/(?:fill|stroke)="([^"]+)"/g)) {
        expect(colour).toMatch(/^(?:none|var\(--vscode-)/);
      }
    }
  });
});

describe("the problem matchers", () => {
  const chart = "key C major\n\nsection A\nchords | 67 |\nright | Eb+7+9 r |\nleft | C2+Eb2 |\n\nform A B\n";
  const { out } = plagal(["check", "set/a.plagal"], { files: { "set/a.plagal": chart } });
  const matchers = contributes.problemMatchers.map((it: { pattern: { regexp: string } }) => it.pattern);

  test("find every problem that the command prints, with its place, severity, code and words", () => {
    const { out: json } = plagal(["check", "--json", "set/a.plagal"], { files: { "set/a.plagal": chart } });
    const wanted = [...json.matchAll(/"code": "([^"]+)"/g)].map(([, code]) => code).sort();
    const found = out.split("\n").flatMap((line) =>
      matchers.flatMap((pattern: Record<string, number> & { regexp: string }) => {
        const match = new RegExp(pattern.regexp).exec(line);
        if (match === null) return [];
        expect(match[pattern.file as number]).toBe("set/a.plagal");
        expect(Number(match[pattern.line as number])).toBeGreaterThan(0);
        expect(match[pattern.message as number]).toMatch(/[.?]$/);
        return [match[pattern.code as number]];
      }),
    );
    expect(found.sort()).toEqual(wanted);
    expect(found.length).toBeGreaterThan(3);
  });
});
