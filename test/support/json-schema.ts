import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { Ajv2020 } from "ajv/dist/2020.js";
import Ajv04 from "ajv-draft-04";
import addFormats from "ajv-formats";

const readJson = (path: string): object => JSON.parse(readFileSync(path, "utf8")) as object;

/** What is wrong with a value by one of our own schemas, as sentences; empty where nothing is. */
export function faultsBy(schema: "check" | "show"): (value: unknown) => string[] {
  const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
  return faults(ajv.compile(readJson(`server/src/cli/schema/${schema}.json`)));
}

/** SARIF 2.1.0 by the schema that OASIS publishes, as carried by `@microsoft/jest-sarif`. */
export function faultsBySarif(): (value: unknown) => string[] {
  const path = createRequire(import.meta.url).resolve(
    "@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json",
  );
  // One of its patterns is no regular expression of the Unicode kind.
  const ajv = new Ajv04.default({ allErrors: true, strict: false, unicodeRegExp: false });
  addFormats.default(ajv);
  return faults(ajv.compile(readJson(path)));
}

interface Validate {
  (value: unknown): unknown;
  errors?: null | { instancePath: string; message?: string }[];
}

const faults = (validate: Validate) => (value: unknown) =>
  validate(value)
    ? []
    : (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
