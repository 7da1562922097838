/** Plain JSON. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [name: string]: Json };

/**
 * How the numbers of one value differ from those of another of the same shape: by their place (`.slots.tones.midi`,
 * without the indices of lists; no name may hold a dot), in order, as runs of one difference: `[how many, by how much, …]`.
 */
export type Differences = Readonly<Record<string, readonly number[]>>;

/** A place in a value, and those below it. Places are few, numbers are many: each is named once. */
interface Place<T> {
  readonly name: string;
  readonly below: Map<string, Place<T>>;
  state: T | undefined;
}

const placeOf = <T>(name: string): Place<T> => ({ name, below: new Map(), state: undefined });

function below<T>(place: Place<T>, name: string): Place<T> {
  let there = place.below.get(name);
  if (there === undefined) {
    there = placeOf(`${place.name}.${name}`);
    place.below.set(name, there);
  }
  return there;
}

/** `undefined` where the two differ in anything but numbers. */
export function differences(from: Json, to: Json): Differences | undefined {
  const all: Record<string, number[]> = {};
  const add = (place: Place<number[]>, by: number): void => {
    let runs = place.state;
    if (runs === undefined) {
      runs = [];
      place.state = runs;
      all[place.name] = runs;
    }
    const last = runs.length - 1;
    if (last > 0 && runs[last] === by) (runs[last - 1] as number)++;
    else runs.push(1, by);
  };
  const walk = (a: Json, b: Json, place: Place<number[]>): boolean => {
    if (typeof a === "number" && typeof b === "number") {
      add(place, b - a);
      return true;
    }
    if (isList(a)) {
      if (!isList(b) || a.length !== b.length) return false;
      for (let i = 0; i < a.length; i++) if (!walk(a[i] as Json, b[i] as Json, place)) return false;
      return true;
    }
    if (!isObject(a) || !isObject(b)) return a === b;
    const names = Object.keys(a);
    if (names.length !== Object.keys(b).length) return false;
    for (const name of names) {
      if (b[name] === undefined || !walk(a[name] as Json, b[name], below(place, name))) return false;
    }
    return true;
  };
  if (!walk(from, to, placeOf(""))) return undefined;
  for (const [place, runs] of Object.entries(all)) if (runs.length === 2 && runs[1] === 0) delete all[place];
  return all;
}

/** The other value. */
export function withDifferences<T extends Json>(from: T, by: Differences): T {
  interface State {
    readonly runs: readonly number[];
    run: number;
    left: number;
  }
  const next = (place: Place<State>): number => {
    if (place.state === undefined) {
      const runs = by[place.name] ?? [];
      place.state = { runs, run: 0, left: runs[0] ?? 0 };
    }
    const { state } = place;
    while (state.left === 0 && state.run + 2 < state.runs.length) {
      state.run += 2;
      state.left = state.runs[state.run] as number;
    }
    state.left--;
    return state.runs[state.run + 1] ?? 0;
  };
  const walk = (it: Json, place: Place<State>): Json => {
    if (typeof it === "number") return it + next(place);
    if (isList(it)) return it.map((item) => walk(item, place));
    if (!isObject(it)) return it;
    const made: Record<string, Json> = {};
    for (const name of Object.keys(it)) made[name] = walk(it[name] as Json, below(place, name));
    return made;
  };
  return walk(from, placeOf("")) as T;
}

const isList = (it: Json): it is readonly Json[] => Array.isArray(it);
const isObject = (it: Json): it is { readonly [name: string]: Json } =>
  typeof it === "object" && it !== null && !Array.isArray(it);
