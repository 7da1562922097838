import list from "./checks.json" with { type: "json" };

/** Every check, for the list to choose from; made by `npm run generate` from the catalogue. */
export const checks: ReadonlyArray<{
  readonly code: string;
  readonly severity: string;
  readonly summary: string;
}> = list;
