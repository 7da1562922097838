/** What in a form would be read as something else than a name. */
const needsQuotes = /[\s;]|^(?:in|up|down|x[0-9]+)$/;

/** A section's name as `form` and `play` say it: in quotes where it would be read otherwise. */
export const sectionWord = (name: string): string =>
  needsQuotes.test(name) || name === "" ? `"${name}"` : name;

/** Whether any spelling says this name: none does with a quotation mark in it. */
export const canBeSaid = (name: string): boolean => name !== "" && !name.includes('"');
