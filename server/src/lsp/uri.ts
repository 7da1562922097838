/** The parts of a URI (RFC 3986, appendix B). `authority` is `undefined` where there is no `//`. */
interface Parts {
  readonly scheme: string;
  readonly authority: string | undefined;
  readonly path: string;
  readonly query: string;
}

function partsOf(uri: string): Parts | undefined {
  const read = /^([A-Za-z][A-Za-z0-9+.-]*):(?:\/\/([^/?#]*))?([^?#]*)(\?[^#]*)?/.exec(uri);
  if (read === null) return undefined;
  const [, scheme = "", authority, path = "", query = ""] = read;
  return { scheme: scheme.toLowerCase(), authority, path, query };
}

const print = ({ scheme, authority, path, query }: Parts): string =>
  `${scheme}:${authority === undefined ? "" : `//${authority}`}${path}${query}`;

function decoded(segment: string): string {
  try {
    return decodeURIComponent(segment);
  } catch {
    return segment;
  }
}

/** Half a surrogate pair can't be written into a URI. */
function encoded(text: string): string {
  try {
    return encodeURIComponent(text);
  } catch {
    return encodeURIComponent(text.replace(/[\ud800-\udfff]/g, "\ufffd"));
  }
}

/**
 * The one name of a file, however a client writes its URI: `file:///C%3A/a.plagal` and `file:///c:/a.plagal` are
 * one. What is no URI is its own name.
 */
export function nameOfUri(uri: string): string {
  const parts = partsOf(uri);
  if (parts === undefined) return uri;
  const segments = parts.path.split("/").map(decoded);
  const drive = segments[1] ?? "";
  if (/^[A-Za-z]:$/.test(drive)) segments[1] = drive.toLowerCase();
  return print({ ...parts, path: segments.map(encoded).join("/") });
}

/** The folder that a file is in, with a `/` behind it; `undefined` for a file that is in none, such as an untitled one. */
export function folderOf(name: string): string | undefined {
  const parts = partsOf(name);
  if (parts === undefined || !parts.path.startsWith("/")) return undefined;
  return print({ ...parts, path: parts.path.slice(0, parts.path.lastIndexOf("/") + 1), query: "" });
}

/** `true` where a file is somewhere below a folder; both are names of URIs. */
export const isInside = (folder: string, name: string): boolean =>
  name.startsWith(folder.endsWith("/") ? folder : `${folder}/`);

/**
 * The name of the file that a relative path leads to from a file. `undefined` for a whole path, a path that climbs
 * out of the root, or a file that is in no folder.
 */
export function follow(from: string, path: string): string | undefined {
  const folder = folderOf(from);
  const parts = folder === undefined ? undefined : partsOf(folder);
  const steps = path.split(/[/\\]/);
  if (parts === undefined || path === "" || steps[0] === "" || /^[A-Za-z]:$/.test(steps[0] ?? ""))
    return undefined;
  const segments = parts.path.split("/").slice(1, -1);
  for (const step of steps) {
    if (step === "..") {
      if (segments.pop() === undefined) return undefined;
    } else if (step !== "." && step !== "") segments.push(encoded(step));
  }
  return print({ ...parts, path: `/${segments.join("/")}` });
}

/**
 * The path that leads from a file to another, as a `use` line has it: `../tags/amen.plagal`. `undefined` where no path
 * does.
 */
export function pathTo(from: string, to: string): string | undefined {
  const [here, there] = [partsOf(from), partsOf(to)];
  if (here === undefined || there === undefined || folderOf(from) === undefined) return undefined;
  if (here.scheme !== there.scheme || here.authority !== there.authority) return undefined;
  const [own, other] = [here.path.split("/").slice(0, -1), there.path.split("/")];
  let common = 0;
  while (common < Math.min(own.length, other.length - 1) && own[common] === other[common]) common++;
  return [...own.slice(common).map(() => ".."), ...other.slice(common).map(decoded)].join("/");
}
