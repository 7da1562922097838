/** Text of a chart inside a snippet (the language server protocol's own notation), where `$`, `}` and `\` have a meaning. */
export const literal = (text: string): string => text.replace(/[\\$}]/g, "\\$&");

/** A place to fill, with what stands there at first. The player goes through them by number; 0 is where the cursor ends. */
export const place = (number: number, text = ""): string =>
  text === "" ? `$${number}` : `\${${number}:${literal(text)}}`;

/** A snippet as plain text, its places filled with what stands there at first. */
export const plainText = (snippet: string): string =>
  snippet.replace(
    /\\([\\$}])|\$[0-9]+|\$\{[0-9]+(?::((?:\\[\\$}]|[^\\}])*))?\}/g,
    (found, escaped, filled) =>
      escaped !== undefined
        ? escaped
        : typeof filled === "string"
          ? filled.replace(/\\([\\$}])/g, "$1")
          : found.startsWith("\\")
            ? found
            : "",
  );
