/**
 * Where two values differ, as a path (`.chart.sections[0].marks`); `undefined` where they are the same through and
 * through. Every pair of objects is compared once, so that shared parts and circles cost nothing.
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
    const names = Object.keys(a);
    if (names.length !== Object.keys(b).length) return `${path}: ${names} and ${Object.keys(b)}`;
    for (const name of names) {
      if (!Object.hasOwn(b, name)) return `${path}: ${name} is missing`;
      const [left, right] = [(a as Parts)[name], (b as Parts)[name]];
      if (Object.is(left, right)) continue;
      stack.push({ a: left, b: right, path: `${path}.${name}` });
    }
  }
  return undefined;
}

type Parts = Readonly<Record<string, unknown>>;
