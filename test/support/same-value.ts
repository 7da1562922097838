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
    const [left, right] = [partsOf(a), partsOf(b)];
    if (left.size !== right.size) return `${path}: ${left.size} and ${right.size} parts`;
    for (const [name, part] of left) {
      if (!right.has(name)) return `${path}: ${String(name)} is missing`;
      stack.push({ a: part, b: right.get(name), path: `${path}.${String(name)}` });
    }
  }
  return undefined;
}

function partsOf(value: object): Map<unknown, unknown> {
  if (value instanceof Map) return value;
  return new Map(Object.entries(value));
}
