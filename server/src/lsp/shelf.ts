import type { FileRead } from "./host.js";

/** The texts of charts that no editor has open, as they were last read. */
export interface Shelf {
  /** `undefined` where it has not been read, or not since it changed. */
  readonly get: (name: string) => FileRead | undefined;
  /** Reads what has not been read; afterwards `get` has it, unless it has changed again meanwhile. */
  readonly read: (name: string, folders: readonly string[]) => Promise<void>;
  /** Reads it in any case. `true` where it is another than before. */
  readonly readAgain: (name: string, folders: readonly string[]) => Promise<boolean>;
  /** It has changed: what was read counts no more. */
  readonly forget: (name: string) => void;
}

interface Place {
  found: FileRead | undefined;
  reading: Promise<void> | undefined;
}

export function makeShelf(readFile: (uri: string, folders: readonly string[]) => Promise<FileRead>): Shelf {
  const places = new Map<string, Place>();

  const read = (name: string, folders: readonly string[]): Promise<void> => {
    const known = places.get(name);
    if (known?.reading !== undefined) return known.reading;
    if (known?.found !== undefined) return Promise.resolve();
    const place: Place = { found: undefined, reading: undefined };
    places.set(name, place);
    place.reading = readFile(name, folders).then(
      (found) => {
        place.found = found;
        place.reading = undefined;
      },
      () => {
        place.found = { kind: "unreadable" };
        place.reading = undefined;
      },
    );
    return place.reading;
  };

  return {
    get: (name) => places.get(name)?.found,
    read,
    forget: (name) => void places.delete(name),
    async readAgain(name, folders) {
      const before = places.get(name)?.found;
      const found = await readFile(name, folders).catch((): FileRead => ({ kind: "unreadable" }));
      places.set(name, { found, reading: undefined });
      return !isSame(before, found);
    },
  };
}

function isSame(a: FileRead | undefined, b: FileRead): boolean {
  if (a?.kind !== b.kind) return false;
  return a.kind !== "text" || b.kind !== "text" || a.text === b.text;
}
