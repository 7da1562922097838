/**
 * A tone's name is one number, its place on the line of fifths: F -1, C 0, G 1, D 2, A 3, E 4, B 5, F# 6, Bb -2.
 * Adding is then transposing by name: seven places up are one sharp more on the same letter.
 */

export type Letter = "A" | "B" | "C" | "D" | "E" | "F" | "G";

const letters: readonly Letter[] = ["F", "C", "G", "D", "A", "E", "B"];
const places: Readonly<Record<Letter, number>> = { F: -1, C: 0, G: 1, D: 2, A: 3, E: 4, B: 5 };

/** The letter of a name: Eb (-3) gives `"E"`. */
export const letterOf = (fifths: number): Letter => letters[(((fifths + 1) % 7) + 7) % 7] as Letter;

/** The accidentals of a name: `1` for one sharp, `-2` for two flats. */
export const alterOf = (fifths: number): number => Math.floor((fifths + 1) / 7);

/** The key within the octave, 0 to 11 from C up: Eb gives 3. */
export const pitchClass = (fifths: number): number => (((fifths * 7) % 12) + 12) % 12;

const repeat = (sign: string, times: number): string => sign.repeat(Math.max(0, times));

/**
 * The strict name in ASCII: `"Eb"`, `"F#"`, `"Bbb"`. A double sharp is `x` (`"Fx"`), as the trade writes it;
 * three or more sharps are written out (`"F###"`), since `x#` reads badly.
 */
export function nameOf(fifths: number): string {
  const alter = alterOf(fifths);
  if (alter === 2) return `${letterOf(fifths)}x`;
  return letterOf(fifths) + repeat("b", -alter) + repeat("#", alter);
}

const signValues: ReadonlyMap<string, number> = new Map([
  ["b", -1],
  ["♭", -1],
  ["𝄫", -2],
  ["#", 1],
  ["♯", 1],
  ["x", 2],
  ["𝄪", 2],
]);

/** The sum of a run of accidentals of one kind (`"bb"` -2, `"♯"` 1, `"x"` 2, `""` 0), `undefined` for any other text. */
export function readSigns(text: string): number | undefined {
  let sum = 0;
  for (const sign of text) {
    const value = signValues.get(sign);
    if (value === undefined || value * sum < 0) return undefined;
    sum += value;
  }
  return sum;
}

/** A letter with its accidentals: `"Eb"`, `"E♭"`, `"F##"`, `"Fx"`. Letters are capitals; `undefined` for any other text. */
export function readName(text: string): number | undefined {
  const place = places[text[0] as Letter];
  const signs = place === undefined ? undefined : readSigns(text.slice(1));
  return place === undefined || signs === undefined ? undefined : place + 7 * signs;
}

const firstOn = (fromFifths: number, toFifths: number, key: number): number | undefined => {
  for (let fifths = fromFifths; fifths <= toFifths; fifths++) if (pitchClass(fifths) === key) return fifths;
  return undefined;
};

/**
 * The plain name of a tone: one with two accidentals or more becomes the natural on the same key where there is
 * one (Bbb gives A), else the name with one accidental of the same kind (Bx gives C#). Other names stay.
 */
export function plainFifths(fifths: number): number {
  const alter = alterOf(fifths);
  if (Math.abs(alter) < 2) return fifths;
  const key = pitchClass(fifths);
  return firstOn(-1, 5, key) ?? (alter > 0 ? firstOn(6, 12, key) : firstOn(-8, -2, key)) ?? fifths;
}

/** The strict name for people: `"E♭"`, two and more accidentals as repeated signs (`"B♭♭"`, `"F♯♯"`). */
export function prettyStrict(fifths: number): string {
  const alter = alterOf(fifths);
  return letterOf(fifths) + repeat("♭", -alter) + repeat("♯", alter);
}

/** The plain name for people: `"E♭"`, `"F♯"`; B double flat is `"A"`. */
export const prettyName = (fifths: number): string => prettyStrict(plainFifths(fifths));
