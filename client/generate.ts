import { type Code, catalogue } from "../server/src/problems/catalogue.js";
import type { Entry } from "../server/src/problems/entry.js";

const codes = Object.keys(catalogue) as Code[];
const entryOf = (code: Code): Entry<never> => catalogue[code];

const severities = ["error", "warning", "info", "hint", "off"];

/** The manifest with a line for every check in the setting `plagal.severities`. */
export function manifestWithChecks(text: string): string {
  const manifest = JSON.parse(text);
  const setting = manifest.contributes.configuration.properties["plagal.severities"];
  setting.properties = Object.fromEntries(
    codes.map((code) => {
      const { severity, summary } = entryOf(code);
      return [
        code,
        { type: "string", enum: severities, description: `${summary} (${severity} where unsaid)` },
      ];
    }),
  );
  return `${JSON.stringify(manifest, null, 2)}\n`;
}

/** The list that the command “Explain a Check” offers. */
export const checkList = (): string =>
  `${JSON.stringify(
    codes.map((code) => ({ code, severity: entryOf(code).severity, summary: entryOf(code).summary })),
    null,
    2,
  )}\n`;

/** The committed files that are made from the catalogue of checks: path from the project's top → text. */
export const generatedFiles = (read: (path: string) => string): ReadonlyMap<string, string> =>
  new Map([
    ["client/checks.json", checkList()],
    ["package.json", manifestWithChecks(read("package.json"))],
  ]);
