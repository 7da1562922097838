import { defaultSettings, noFiles, openDocument } from "../document/document.js";
import { type Code, catalogue } from "../problems/catalogue.js";
import { positionAt } from "../text/lines.js";

/** How grave each check is unless a setting says otherwise, in words. */
const kinds = {
  error: "An error",
  warning: "A warning",
  info: "A remark",
  hint: "A hint",
  off: "Off unless a setting asks for it",
} as const;

/** The page of a check in Markdown: what it means for the music, and a chart that raises it with what is said there. */
export function checkPage(code: Code): string {
  const { severity, summary, explanation, example } = catalogue[code];
  const settings = { ...defaultSettings, severities: { [code]: severity === "off" ? "info" : severity } };
  const { problems, tree } = openDocument("example", example, noFiles, settings);
  const said = problems.map(({ message, span }) => {
    const { line, column } = positionAt(tree.starts, span.start);
    return `- Line ${line + 1}, column ${column + 1}: ${message}\n`;
  });
  const fence = "```";
  return `# ${code}

${summary}

*${kinds[severity]}. The setting \`plagal.severities\` can change that: \`{ "${code}": "off" }\`.*

${explanation.trim()}

## Example

${fence}plagal
${example.trimEnd()}
${fence}

${said.join("")}`;
}

/** Every check's page by its file name. */
export const checkPages = (): ReadonlyArray<readonly [name: string, text: string]> =>
  (Object.keys(catalogue) as Code[]).map((code) => [`${code}.md`, checkPage(code)]);
