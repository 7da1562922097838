/** A key as the picker shows it: `key` is what the server takes, the rest is for reading. */
export interface KeyRow {
  readonly key: string;
  /** `E♭ major` */
  readonly name: string;
  /** `3 flats`, and how far it is from the present key: `up a minor third`. */
  readonly facts: string;
  /** The melody's lowest and highest note there; `undefined` without a melody. */
  readonly melody: string | undefined;
  readonly present: boolean;
  /** Said about what was typed: that the mode stays, or that this name sounds like another. */
  readonly remark?: string;
}

/** Half steps from C up to each letter (common practice). */
const letters: Readonly<Record<string, number>> = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 };

/** The keys of the piano that a tonic stands for, as half steps above C, 0 to 11; `E♭` is 3. */
export function tonicClass(name: string): number | undefined {
  const read = /^([a-g])((?:b|#|♭|♯)*)/i.exec(name);
  if (read === null) return undefined;
  const [, letter, signs] = read as unknown as [string, string, string];
  const bent = [...signs].reduce((sum, sign) => sum + (sign === "b" || sign === "♭" ? -1 : 1), 0);
  return ((((letters[letter.toLowerCase()] as number) + bent) % 12) + 12) % 12;
}

/** A tonic and a mode as typed, such as `eb`, `E♭ minor`, `f sharp`, `Cm`. */
interface TypedKey {
  readonly tonic: string;
  /** `minor`, `dorian` …; `undefined` where nothing was said. */
  readonly mode: string | undefined;
}

const modeOfShort: Readonly<Record<string, string>> = {
  m: "minor",
  min: "minor",
  "-": "minor",
  M: "major",
  maj: "major",
};
const modeStart = /^(?:major|minor|ionian|dorian|phrygian|lydian|mixolydian|aeolian|locrian|maj|min|m|M|-)$/;
const modeNames = "major minor ionian dorian phrygian lydian mixolydian aeolian locrian".split(
  " ",
) as readonly string[];

/** Reads a key; `undefined` where the words are no key. A mode may be half typed. */
export function readTypedKey(typed: string): TypedKey | undefined {
  const words = typed
    .trim()
    .replace(/^([a-g])[\s-]*flat\b/i, "$1b")
    .replace(/^([a-g])[\s-]*sharp\b/i, "$1#");
  const read = /^([A-Ga-g])((?:b|#|♭|♯){0,3})\s*(.*)$/.exec(words);
  if (read === null) return undefined;
  const [, letter, signs, rest] = read as unknown as [string, string, string, string];
  const tonic = letter.toUpperCase() + signs.replaceAll("b", "♭").replaceAll("#", "♯");
  if (rest === "") return { tonic, mode: undefined };
  const short = modeOfShort[rest];
  if (short !== undefined) return { tonic, mode: short };
  const begun = modeNames.find((name) => name.startsWith(rest.toLowerCase()));
  if (begun === undefined && !modeStart.test(rest)) return undefined;
  return { tonic, mode: begun };
}

/** A distance as typed, in half steps: `up 2` is 2, `down 3` and `-3` are -3, `up whole` is 2. */
export function readTypedSteps(typed: string): number | undefined {
  const read = /^(up|down|\+|-)\s*(\d{1,2}|half|(?:a\s+)?half step|whole|(?:a\s+)?whole step)$/i.exec(
    typed.trim(),
  );
  if (read === null) return undefined;
  const [, way, far] = read as unknown as [string, string, string];
  const size = /half/i.test(far) ? 1 : /whole/i.test(far) ? 2 : Number(far);
  return /^(?:down|-)$/i.test(way) ? -size : size;
}

const plain = (text: string): string => text.toLowerCase().replaceAll("♭", "b").replaceAll("♯", "#");

/**
 * The rows for what was typed. Nothing typed: all. A distance: the key that far from the present one. A key: that
 * key, in the mode of the music, also under a name that the list doesn't use. Anything else: rows with those words.
 */
export function rowsFor(rows: readonly KeyRow[], typed: string): readonly KeyRow[] {
  const words = typed.trim();
  if (words === "") return rows;
  const steps = readTypedSteps(words);
  if (steps !== undefined) {
    const now = tonicClass(rows.find(({ present }) => present)?.name ?? "C") as number;
    return rows.filter(({ name }) => ((tonicClass(name) as number) - now - steps) % 12 === 0);
  }
  const key = readTypedKey(words);
  if (key !== undefined) return rowsOfKey(rows, key);
  return rows.filter(({ name, facts, melody }) =>
    plain(`${name} ${facts} ${melody ?? ""}`).includes(plain(words)),
  );
}

function rowsOfKey(rows: readonly KeyRow[], { tonic, mode }: TypedKey): readonly KeyRow[] {
  const wanted = tonicClass(tonic);
  // A letter alone may be the start of a name: `E` finds E and E♭.
  const sounding = rows.filter(({ name }) => tonicClass(name) === wanted);
  const longer = rows.filter((row) => !sounding.includes(row) && row.name.startsWith(tonic));
  return [...sounding.map((row) => written(row, tonic, mode)), ...longer];
}

/** A row under the name that was typed, with what there is to say about it. */
function written(row: KeyRow, tonic: string, mode: string | undefined): KeyRow {
  const [listed = "", ...rest] = row.name.split(" ");
  const own = rest.join(" ");
  const stays =
    mode !== undefined && own !== "" && mode !== own ? `A move keeps the mode: it stays ${own}.` : undefined;
  if (listed === tonic) return stays === undefined ? row : { ...row, remark: stays };
  const remark = [`The keys of ${row.name} under another name.`, stays].filter(Boolean).join(" ");
  const key = tonic.replaceAll("♭", "b").replaceAll("♯", "#");
  return { ...row, key, name: [tonic, ...rest].join(" "), facts: `sounds as ${row.name}`, remark };
}

/** The twelve practical tonics in the order of the keyboard, for charts that each keep their own mode. */
export const allKeys: readonly KeyRow[] = "C D♭ D E♭ E F G♭ G A♭ A B♭ B".split(" ").map((name) => ({
  key: name.replace("♭", "b"),
  name,
  facts: "each chart keeps its mode",
  melody: undefined,
  present: false,
}));
