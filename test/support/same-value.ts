/**
 * Where two values differ, as a path (`.chart.sections[0].marks`); `undefined` where they are the same through and
 * through, what is worked out on demand included. Every pair of objects is compared once, so that shared parts and
 * circles cost nothing.
 */
export function whereDifferent(one: unknown, other: unknown): string | undefined {
  const compared = new Map<object, Set<object>>();
  const stack: { readonly a: unknown; readonly b: unknown; readonly path: string }[] = [
    { a: one, b: other, path: "" },
  ];
  for (let pair = stack.pop(); pair !== undefined; pair = stack.pop()) {
    const { a, b, path } = pair;
    if (Object.is(a, b)) continue;
    if (typeof a !== "object" || typeof b !== "object" || a === null || b === null)
      return `${path}: ${a} and ${b}`;
    const known = compared.get(a);
    if (known?.has(b)) continue;
    if (known === undefined) compared.set(a, new Set([b]));
    else known.add(b);
    if (Object.getPrototypeOf(a) !== Object.getPrototypeOf(b)) return `${path}: of two kinds`;
    if (a instanceof Map && b instanceof Map) {
      if (a.size !== b.size) return `${path}: ${a.size} and ${b.size} parts`;
      for (const [name, part] of a) {
        if (!b.has(name)) return `${path}: ${String(name)} is missing`;
        stack.push({ a: part, b: b.get(name), path: `${path}.${String(name)}` });
      }
      continue;
    }
    const names = partsOf(a);
    const others = partsOf(b);
    if (names.length !== others.length) return `${path}: ${names} and ${others}`;
    for (const name of names) {
      if (!others.includes(name)) return `${path}: ${name} is missing`;
      const [left, right] = [(a as Parts)[name], (b as Parts)[name]];
      if (Object.is(left, right)) continue;
      stack.push({ a: left, b: right, path: `${path}.${name}` });
    }
  }
  return undefined;
}

/** What a class keeps of what it works out on demand. */
const keptParts = new Set(["made", "kept", "tied"]);

/** What is asked of an object: its own parts and what its class works out, but not what it keeps of that. */
function partsOf(it: object): readonly string[] {
  const parts = Object.keys(it).filter((name) => !keptParts.has(name));
  const kind: object | null = Object.getPrototypeOf(it);
  if (kind === null || kind === Object.prototype || Array.isArray(it)) return parts;
  const worked = Object.entries(Object.getOwnPropertyDescriptors(kind)).filter(
    ([, { get }]) => get !== undefined,
  );
  return parts.concat(worked.map(([name]) => name));
}

type Parts = Readonly<Record<string, unknown>>;
