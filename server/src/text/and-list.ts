/** `["A", "B", "C"]` as a person says it: “A, B and C”. */
export const andList = (words: readonly string[]): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;
