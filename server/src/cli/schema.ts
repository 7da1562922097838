/** The number that `--json` output begins with; raised when a field changes, not when one is added. */
export const schemaNumber = 1;
