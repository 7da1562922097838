import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { memoryPages, validateXML } from "xmllint-wasm";
import { openDocument } from "../../server/src/document/document.js";
import { sheets } from "../../server/src/exports/sheets.js";
import { hostileCharts } from "../support/hostile-charts.js";

const pictureOf = (text: string, section?: string): string | undefined =>
  sheets.svg(openDocument("a.plagal", text).chart, section);

const chart = "key G\nsection Verse\nchords | 1 4/5 |\nright | 3+5 |\nsection Last Tag\nchords | b7:9 |\n";
const textsOf = (picture = ""): readonly string[] =>
  [...picture.matchAll(/<text[^>]*>(.*?)<\/text>/g)].map(([, text = ""]) => text.replace(/<[^>]+>/g, ""));

describe("the picture of a section", () => {
  test("is that of the first one, or of the one that is named", () => {
    expect(textsOf(pictureOf(chart))).toEqual(["Verse", "right", "B♭3", "1", "4", "/5", "3", "5"]);
    expect(textsOf(pictureOf(chart, "last tag"))).toEqual(["Last Tag", "♭7", "9"]);
    expect(pictureOf(chart, "Bridge")).toBeUndefined();
    expect(pictureOf("title Nothing\n")).toBeUndefined();
  });

  test("says its chords in words, for who can't see it", () => {
    expect(pictureOf(chart)).toContain("<title>Verse: G, C/D.</title>");
  });

  test("keeps words as wide as they were laid out, in any font", () => {
    expect(pictureOf(chart)).toMatch(
      /<text x="10" y="24"[^>]* textLength="4[0-9.]+" lengthAdjust="spacingAndGlyphs">Verse</,
    );
  });

  test("is the same text again", () => {
    const text = readFileSync("test/charts/lantern-road.plagal", "utf8");
    expect(pictureOf(text)).toBe(pictureOf(text));
  });

  test("is well-formed and holds no script, whatever the chart", async () => {
    const schema = `<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="http://www.w3.org/2000/svg"><xs:element name="svg" type="xs:anyType"/></xs:schema>`;
    const pictures = hostileCharts.flatMap(([name, text], i) => {
      const picture = pictureOf(text);
      return picture === undefined ? [] : [{ fileName: `${i}.svg`, contents: picture, name }];
    });
    expect(pictures.length).toBeGreaterThan(15);
    for (const { contents } of pictures)
      expect(contents).not.toMatch(/<script|<foreignObject|\son\w+=|href/i);
    const xml = pictures.map(({ fileName, contents }) => ({ fileName, contents }));
    const { errors } = await validateXML({
      xml,
      schema: [{ fileName: "svg.xsd", contents: schema }],
      maxMemoryPages: memoryPages.max,
    });
    expect(errors.map(({ message }) => message)).toEqual([]);
  });
});
