/** Attributes in the order in which they are written; one that is `undefined` is left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** What XML 1.0 (fifth edition, production 2) can't hold, half surrogate pairs among it. */
const forbidden = /[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu;
const special = /[&<>"\t\n\r]/g;
const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "\t": "&#9;",
  "\n": "&#10;",
  "\r": "&#13;",
};

/** Most texts are words of the standard, with nothing to escape. */
const plain = /^[\w .:/-]*$/;

/** Any text as the text of an element or the value of a quoted attribute. What XML can't hold becomes U+FFFD. */
export const escaped = (text: string): string =>
  plain.test(text)
    ? text
    : text.replace(forbidden, "\uFFFD").replace(special, (sign) => entities[sign] as string);

const start = (name: string, attributes: Attributes): string => {
  let text = `<${name}`;
  for (const key of Object.keys(attributes)) {
    const value = attributes[key];
    if (value !== undefined) text += ` ${key}="${typeof value === "number" ? value : escaped(value)}"`;
  }
  return text;
};

const none: Attributes = {};

/** An element around others, which are XML already; an empty one where there are none. */
export const element = (name: string, content = "", attributes: Attributes = none): string =>
  content === "" ? `${start(name, attributes)}/>` : `${start(name, attributes)}>${content}</${name}>`;

/** An element that holds a text. */
export const textElement = (name: string, text: string | number, attributes?: Attributes): string => {
  const content = typeof text === "number" ? text : escaped(text);
  return attributes === undefined
    ? `<${name}>${content}</${name}>`
    : `${start(name, attributes)}>${content}</${name}>`;
};
