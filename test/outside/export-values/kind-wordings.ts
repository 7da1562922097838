/** W3C MusicXML 4.0, kind-value: the contents of each kind, in the schema's words and order. */
export const kindWordings: ReadonlyMap<string, string> = new Map([
  ["major", "major third, perfect fifth"],
  ["minor", "minor third, perfect fifth"],
  ["augmented", "major third, augmented fifth"],
  ["diminished", "minor third, diminished fifth"],
  ["dominant", "major triad, minor seventh"],
  ["major-seventh", "major triad, major seventh"],
  ["minor-seventh", "minor triad, minor seventh"],
  ["diminished-seventh", "diminished triad, diminished seventh"],
  ["augmented-seventh", "augmented triad, minor seventh"],
  ["half-diminished", "diminished triad, minor seventh"],
  ["major-minor", "minor triad, major seventh"],
  ["major-sixth", "major triad, added sixth"],
  ["minor-sixth", "minor triad, added sixth"],
  ["dominant-ninth", "dominant-seventh, major ninth"],
  ["major-ninth", "major-seventh, major ninth"],
  ["minor-ninth", "minor-seventh, major ninth"],
  ["dominant-11th", "dominant-ninth, perfect 11th"],
  ["major-11th", "major-ninth, perfect 11th"],
  ["minor-11th", "minor-ninth, perfect 11th"],
  ["dominant-13th", "dominant-11th, major 13th"],
  ["major-13th", "major-11th, major 13th"],
  ["minor-13th", "minor-11th, major 13th"],
  ["suspended-second", "major second, perfect fifth"],
  ["suspended-fourth", "perfect fourth, perfect fifth"],
  ["power", "perfect fifth"],
]);

/** An interval of those words: its number, half steps from the major or perfect one, and half steps in all. */
interface Named {
  readonly number: number;
  readonly alter: number;
  readonly halfSteps: number;
}

/** The intervals as every primer counts them. */
const intervals: ReadonlyMap<string, Named> = new Map([
  ["major second", { number: 2, alter: 0, halfSteps: 2 }],
  ["minor third", { number: 3, alter: -1, halfSteps: 3 }],
  ["major third", { number: 3, alter: 0, halfSteps: 4 }],
  ["perfect fourth", { number: 4, alter: 0, halfSteps: 5 }],
  ["diminished fifth", { number: 5, alter: -1, halfSteps: 6 }],
  ["perfect fifth", { number: 5, alter: 0, halfSteps: 7 }],
  ["augmented fifth", { number: 5, alter: 1, halfSteps: 8 }],
  ["added sixth", { number: 6, alter: 0, halfSteps: 9 }],
  ["diminished seventh", { number: 7, alter: -2, halfSteps: 9 }],
  ["minor seventh", { number: 7, alter: -1, halfSteps: 10 }],
  ["major seventh", { number: 7, alter: 0, halfSteps: 11 }],
  ["major ninth", { number: 9, alter: 0, halfSteps: 14 }],
  ["perfect 11th", { number: 11, alter: 0, halfSteps: 17 }],
  ["major 13th", { number: 13, alter: 0, halfSteps: 21 }],
]);

/** The tones above the root that the schema's words give a kind, from the lowest up; none for a kind without words. */
export function wordedTones(kind: string): readonly Named[] {
  const wording = kindWordings.get(kind);
  if (wording === undefined) return [];
  return wording.split(", ").flatMap((word): readonly Named[] => {
    const interval = intervals.get(word);
    if (interval !== undefined) return [interval];
    // “Major triad” is the kind of that name, and a dominant chord is called dominant-seventh here alone. A word may
    // be a kind and no interval (major-seventh): those have a hyphen.
    const inner = wordedTones(word.replace(/ triad$/, "").replace("dominant-seventh", "dominant"));
    if (inner.length === 0) throw new Error(`${kind}: nobody knows what a ${word} is`);
    return inner;
  });
}

/** A tone as tables of degrees write it: `bb7`. */
export const degreeName = ({ number, alter }: { readonly number: number; readonly alter: number }): string =>
  (alter < 0 ? "b".repeat(-alter) : "#".repeat(alter)) + number;
