/** An element of a page as data: it becomes text of HTML, or an element of a document. */
export interface Markup {
  readonly tag: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (Markup | string)[];
}

/** An element; attributes that are `undefined` are left out. */
export function element(
  tag: string,
  attributes: Readonly<Record<string, string | undefined>> = {},
  ...children: readonly (Markup | string)[]
): Markup {
  const said: Record<string, string> = {};
  for (const [name, value] of Object.entries(attributes)) if (value !== undefined) said[name] = value;
  return { tag, attributes: said, children };
}

const empty: ReadonlySet<string> = new Set(["meta", "input", "br"]);

/** The text of HTML. Whatever a text holds, it stays a text. */
export function html({ tag, attributes, children }: Markup): string {
  const said = Object.entries(attributes).map(([name, value]) => ` ${name}="${escaped(value)}"`);
  const start = `<${tag}${said.join("")}>`;
  if (empty.has(tag)) return start;
  return `${start}${children.map((it) => (typeof it === "string" ? escaped(it) : html(it))).join("")}</${tag}>`;
}

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

const escaped = (text: string): string => text.replace(/[&<>"']/g, (sign) => entities[sign] as string);
