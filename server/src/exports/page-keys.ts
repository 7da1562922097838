/** Plain JSON. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [name: string]: Json };

/**
 * How the numbers of one value differ from those of another of the same shape: by their place (`slots.tones.midi`,
 * without the indices of lists), in order, as runs of one difference: `[how many, by how much, …]`.
 */
export type Differences = Readonly<Record<string, readonly number[]>>;

/** `undefined` where the two differ in anything but numbers. */
export function differences(from: Json, to: Json): Differences | undefined {
  const runs: Record<string, number[]> = {};
  const walk = (a: Json, b: Json, place: string): boolean => {
    if (typeof a === "number" && typeof b === "number") {
      runs[place] ??= [];
      const list = runs[place];
      const by = b - a;
      if (list.length > 0 && list[list.length - 1] === by) (list[list.length - 2] as number)++;
      else list.push(1, by);
      return true;
    }
    if (Array.isArray(a) && Array.isArray(b))
      return a.length === b.length && a.every((it, i) => walk(it, b[i] as Json, place));
    if (isObject(a) && isObject(b)) {
      const names = Object.keys(a);
      return (
        names.length === Object.keys(b).length &&
        names.every(
          (name) => b[name] !== undefined && walk(a[name] as Json, b[name] as Json, `${place}.${name}`),
        )
      );
    }
    return a === b;
  };
  if (!walk(from, to, "")) return undefined;
  for (const [place, list] of Object.entries(runs))
    if (list.length === 2 && list[1] === 0) delete runs[place];
  return runs;
}

/** The other value. */
export function withDifferences<T extends Json>(from: T, by: Differences): T {
  const at = new Map<string, { run: number; left: number }>();
  const next = (place: string): number => {
    const list = by[place];
    if (list === undefined) return 0;
    const state = at.get(place) ?? { run: 0, left: list[0] ?? 0 };
    at.set(place, state);
    while (state.left === 0 && state.run + 2 < list.length) {
      state.run += 2;
      state.left = list[state.run] as number;
    }
    state.left--;
    return list[state.run + 1] ?? 0;
  };
  const walk = (it: Json, place: string): Json => {
    if (typeof it === "number") return it + next(place);
    if (Array.isArray(it)) return it.map((item) => walk(item, place));
    if (!isObject(it)) return it;
    return Object.fromEntries(
      Object.entries(it).map(([name, item]) => [name, walk(item, `${place}.${name}`)]),
    );
  };
  return walk(from, "") as T;
}

const isObject = (it: Json): it is { readonly [name: string]: Json } =>
  typeof it === "object" && it !== null && !Array.isArray(it);
