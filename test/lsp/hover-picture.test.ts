import { afterEach, describe, expect, test } from "vitest";
import type { ClientCapabilities, Hover, MarkupContent } from "vscode-languageserver";
import { openDocument } from "../../server/src/document/document.js";
import { groundOf, type PictureTheme } from "../../server/src/exports/keyboard-picture.js";
import { pictures } from "../../server/src/exports/pictures.js";
import { picturedMoment } from "../../server/src/features/pictured-moment.js";
import { bytesOfBase64 } from "../../server/src/text/base64.js";
import { type ClientOptions, type LspClient, positionIn } from "../support/lsp-client.js";
import { type World, worlds } from "../support/lsp-worlds.js";

const chart = `title Lamp in the Window
key F minor

section Verse
chords | 1m7        | 4m7 |
right  | b7+b3+5    | b3+5+b7 |
left   | 1+>b3      | 1+b7 |
`;
const inMarkdown: ClientCapabilities = {
  textDocument: { hover: { contentFormat: ["markdown", "plaintext"] } },
};
const showing = (pictures: unknown): ClientOptions => ({
  capabilities: inMarkdown,
  initializationOptions: { pictures },
});
const words =
  "Fm7. Left hand: F2 (1, finger 5), A♭3 (♭3, finger 1). Right hand: E♭4 (♭7, finger 1), A♭4 (♭3, finger 3), C5 (5, finger 5).";

/** Every picture as CommonMark has it: its words, and its address without blanks. */
const pictured = /!\[([^\]]*)\]\(([^)\s]*)\)/g;

interface Shown {
  readonly words: string;
  readonly svg: string;
}

/** What is shown below the words of a hover; `undefined` where that is nothing. */
function shownIn({ value }: MarkupContent): Shown | undefined {
  const [first, ...others] = value.matchAll(pictured);
  expect(others).toEqual([]);
  if (first === undefined) return undefined;
  // Behind the title and the line that says what it shows.
  expect(value.split("\n\n").indexOf(first[0])).toBe(2);
  const [, words = "", address = ""] = first;
  const [kind, data = ""] = address.split(",");
  expect(kind).toBe("data:image/svg+xml;base64");
  return { words, svg: new TextDecoder("utf-8", { fatal: true }).decode(bytesOfBase64(data)) };
}

/** The themes in which the picture on the first chord looks so: one, since they all differ. */
function themesOf(shown: Shown | undefined): readonly PictureTheme[] {
  const moment = picturedMoment(openDocument("song.plagal", chart), chart.indexOf("1m7"));
  if (moment === undefined) throw new Error("nothing sounds there");
  const { keys, chord, hands } = moment;
  return (Object.keys(groundOf) as PictureTheme[]).filter(
    (theme) => pictures.keyboard(keys, chord, hands, theme).svg === shown?.svg,
  );
}

describe.each(worlds)("%s", (_, makeWorld) => {
  let world: World;
  let client: LspClient;
  async function started(options: ClientOptions, text = chart): Promise<void> {
    world = makeWorld({ "song.plagal": text });
    client = await world.start(options);
    client.open(world.uri("song.plagal"), text, 1);
  }
  afterEach(async () => {
    await client.stop();
    world.leave();
  });
  async function hoverOn(part: string, text = chart): Promise<MarkupContent> {
    const { contents } = await client.request<Hover>("textDocument/hover", {
      textDocument: { uri: world.uri("song.plagal") },
      position: positionIn(text, text.indexOf(part)),
    });
    return contents as MarkupContent;
  }

  test("a client that shows pictures sees the keys below the words, on a chord, a stack and a tone", async () => {
    await started(showing("dark"));
    for (const part of ["1m7", "b7+b3", "+b3+5", "1+>b3"]) {
      const contents = await hoverOn(part);
      expect(contents.kind).toBe("markdown");
      const shown = shownIn(contents);
      expect(shown?.words).toBe(words);
      expect(shown?.svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" .*<\/svg>$/);
      expect(contents.value.indexOf("!["), part).toBeGreaterThan(contents.value.indexOf("Fm7"));
    }
    expect(shownIn(await hoverOn("Verse"))).toBe(undefined);
    expect(shownIn(await hoverOn("F minor"))).toBe(undefined);
  });

  test("every other client gets the words alone, and the same ones", async () => {
    await started(showing("light"));
    const { value } = await hoverOn("1m7");
    const alone = value.replace(/\n\nLeft hand: F2 A♭3\. Right hand: E♭4 A♭4 C5\.\n\n!\[.*/, "");
    expect(alone.length).toBeLessThan(1000);
    await client.stop();
    world.leave();
    for (const options of [
      { capabilities: inMarkdown },
      showing(undefined),
      showing(true),
      showing("mauve"),
    ]) {
      await started(options);
      expect(await hoverOn("1m7")).toEqual({ kind: "markdown", value: alone });
      await client.stop();
      world.leave();
    }
    // One that shows no Markdown can't show a picture either, whatever it says.
    await started({ initializationOptions: { pictures: "dark" } });
    const plain = await hoverOn("1m7");
    expect(plain.kind).toBe("plaintext");
    expect(plain.value).not.toMatch(/data:|!\[/);
  });

  test("it is drawn for the theme that the client said last", async () => {
    await started(showing("light"));
    const themes = async () => themesOf(shownIn(await hoverOn("1m7")));
    expect(await themes()).toEqual(["light"]);
    for (const [theme, drawn] of [
      ["dark", "dark"],
      ["high contrast", "high contrast"],
      ["high contrast light", "print"],
      ["light", "light"],
    ] as const) {
      client.notify("plagal/theme", { theme });
      expect(await themes()).toEqual([drawn]);
    }
    for (const nonsense of [{ theme: "mauve" }, { theme: 7 }, {}, null, { theme: "constructor" }]) {
      client.notify("plagal/theme", nonsense);
      expect(await themes()).toEqual(["light"]);
    }
  });

  test("a client that showed none at the start isn't shown any for telling its theme", async () => {
    await started({ capabilities: inMarkdown });
    client.notify("plagal/theme", { theme: "dark" });
    expect(shownIn(await hoverOn("1m7"))).toBe(undefined);
  });

  test("the setting plagal.hover.picture leaves it out, and brings it back", async () => {
    let picture = false;
    await started({ ...showing("dark"), settings: () => ({ hover: { picture } }) });
    await client.diagnostics(world.uri("song.plagal"), 1);
    expect(shownIn(await hoverOn("1m7"))).toBe(undefined);
    picture = true;
    client.notify("workspace/didChangeConfiguration", { settings: null });
    await expect.poll(async () => shownIn(await hoverOn("1m7"))?.words).toBe(words);
  });

  test("what doesn't fit 20 KB with its words has the words alone", async () => {
    const names = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"];
    const all = Array.from({ length: 88 }, (_, i) => `${names[(i + 9) % 12]}${Math.floor((i + 9) / 12)}`);
    const text = (count: number) =>
      `key C\nchords | 1 |\nright | ${all.slice(-count).join("+")} |\nleft | ${all.slice(0, count).join("+")} |\n`;
    for (const [count, isShown] of [
      [5, true],
      [44, false],
      [88, false],
    ] as const) {
      await started(showing("dark"), text(count));
      const contents = await hoverOn("1 |", text(count));
      expect(shownIn(contents) !== undefined, `${count} keys a hand`).toBe(isShown);
      expect(Buffer.byteLength(contents.value)).toBeLessThan(20_000);
      if (count === 88) return;
      await client.stop();
      world.leave();
    }
  });

  test("no words of a chart can be more than words, in the picture or beside it", async () => {
    const hostile = "![x](javascript:a) <img src=x onerror=alert(1)> ](https://a.example/b) \"'`";
    const text = `title ${hostile}\nkey C\nsection ${hostile}\nchords | C7${"(#11)".repeat(40)} | ${hostile} |\nright | 3+5 | ${hostile} 3 |\nwords | ${hostile} |\n`;
    await started(showing("high contrast"), text);
    for (let at = 0; at < text.length; at += 1) {
      const found = await client.request<Hover | null>("textDocument/hover", {
        textDocument: { uri: world.uri("song.plagal") },
        position: positionIn(text, at),
      });
      if (found === null) continue;
      const contents = found.contents as MarkupContent;
      const own = contents.value.replace(/\\[\s\S]/g, "");
      expect(own).not.toMatch(/<[a-z]/i);
      for (const [, address] of own.matchAll(/\]\(([^)]*)/g)) expect(address).toMatch(/^data:image\/svg/);
      const shown = shownIn(contents);
      if (shown === undefined) continue;
      expect(shown.svg).not.toMatch(/<(?!\/?(?:svg|title|path|ellipse|circle|g|text|tspan)\b)/);
      expect(shown.svg).not.toMatch(/\son[a-z]+=|javascript:|href/);
    }
  });
});
