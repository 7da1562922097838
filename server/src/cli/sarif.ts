import { type Code, catalogue } from "../problems/catalogue.js";
import type { Severity } from "../problems/entry.js";
import type { Problem } from "../problems/problem.js";
import type { Span } from "../text/span.js";
import { encodeUtf8 } from "../text/utf8.js";
import { rangeOf } from "./place.js";

/** A checked file. */
export interface CheckedFile {
  readonly path: string;
  readonly starts: readonly number[];
  readonly problems: readonly Problem[];
}

const codes = Object.keys(catalogue) as Code[];

/** Levels of SARIF 2.1.0 (OASIS), 3.27.10. */
const level = (severity: Severity): "error" | "warning" | "note" | "none" =>
  severity === "off" ? "none" : severity === "error" || severity === "warning" ? severity : "note";

/** A path as a relative reference of RFC 3986. */
const uriOf = (path: string): string =>
  path
    .replaceAll("\\", "/")
    .split("/")
    .map((part) => encodePart(part))
    .join("/");

const unreserved = /[^A-Za-z0-9\-._~!$&'()*+,;=@]/gu;

function encodePart(part: string): string {
  return part.replace(unreserved, (character) => {
    const point = character.codePointAt(0) as number;
    const isLone = point >= 0xd800 && point <= 0xdfff;
    return isLone ? "%EF%BF%BD" : encode(point);
  });
}

function encode(point: number): string {
  const hex = (byte: number): string => `%${byte.toString(16).toUpperCase().padStart(2, "0")}`;
  return Array.from(encodeUtf8(String.fromCodePoint(point)), hex).join("");
}

const regionOf = (starts: readonly number[], span: Span) => {
  const { start, end } = rangeOf(starts, span);
  return { startLine: start.line, startColumn: start.column, endLine: end.line, endColumn: end.column };
};

/** What was found, as a log of SARIF 2.1.0. `unread` are the complaints about files that couldn't be read. */
export function sarifLog(files: readonly CheckedFile[], unread: readonly string[], version: string) {
  return {
    $schema: "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
    version: "2.1.0",
    runs: [
      {
        tool: { driver: { name: "plagal", version, rules: codes.map(ruleOf) } },
        columnKind: "utf16CodeUnits",
        invocations: [
          {
            executionSuccessful: unread.length === 0,
            toolExecutionNotifications: unread.map((text) => ({ level: "error", message: { text } })),
          },
        ],
        artifacts: files.map(({ path }) => ({ location: { uri: uriOf(path) } })),
        results: files.flatMap((file, index) =>
          file.problems.map((problem) => resultOf(file, index, problem)),
        ),
      },
    ],
  };
}

function ruleOf(code: Code) {
  const { severity, explanation } = catalogue[code];
  const text = explanation === "" ? code : explanation;
  return {
    id: code,
    fullDescription: { text, markdown: text },
    defaultConfiguration: severity === "off" ? { enabled: false } : { level: level(severity) },
  };
}

function resultOf({ path, starts }: CheckedFile, index: number, problem: Problem) {
  const artifactLocation = { uri: uriOf(path), index };
  const at = (span: Span) => ({ artifactLocation, region: regionOf(starts, span) });
  return {
    ruleId: problem.code,
    ruleIndex: codes.indexOf(problem.code),
    level: level(problem.severity),
    message: { text: problem.message },
    locations: [{ physicalLocation: at(problem.span) }],
    relatedLocations: problem.related.map(({ span, message }) => ({
      physicalLocation: at(span),
      message: { text: message },
    })),
    fixes: problem.fixes
      .filter(({ edits }) => edits.length > 0)
      .map(({ title, edits }) => ({
        description: { text: title },
        artifactChanges: [
          {
            artifactLocation,
            replacements: edits.map(({ span, text }) => ({
              deletedRegion: regionOf(starts, span),
              insertedContent: { text },
            })),
          },
        ],
      })),
    properties: { data: problem.facts },
  };
}
