import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { validateXML } from "xmllint-wasm";
import { root } from "./root.js";

/** Where the schema of W3C MusicXML 4.0 lies: as the environment says, or in the folder beside the project. */
const folder = process.env.MUSICXML_XSD || join(root, "../shared/data/musicxml-4.0");

/** Why nothing is held to the schema here; `undefined` where it is there. */
export const schemaIsMissing: string | undefined = existsSync(join(folder, "musicxml.xsd"))
  ? undefined
  : `the W3C schema of MusicXML 4.0 isn't in ${folder}, so no score is held to it here: ` +
    "publish of w3c/musicxml, tag v4.0, folder schema; MUSICXML_XSD names the folder.";

/** The schema's own text. Throws where it is missing. */
export const schemaText = (): string => readFileSync(join(folder, "musicxml.xsd"), "utf8");

/** What the schema has against these texts, by the names given to them. */
export async function schemaErrors(scores: ReadonlyMap<string, string>): Promise<readonly string[]> {
  const read = (name: string): string => readFileSync(join(folder, name), "utf8");
  const imported = ["xml.xsd", "xlink.xsd"];
  // It names what it imports by addresses, and nothing is fetched here.
  const contents = imported.reduce(
    (text, name) => text.replace(`http://www.musicxml.org/xsd/${name}`, name),
    read("musicxml.xsd"),
  );
  const { errors } = await validateXML({
    xml: [...scores].map(([fileName, contents]) => ({ fileName, contents })),
    schema: [{ fileName: "musicxml.xsd", contents }],
    preload: imported.map((fileName) => ({ fileName, contents: read(fileName) })),
  });
  return errors.map(({ rawMessage }) => rawMessage);
}
