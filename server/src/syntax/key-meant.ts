import type { Meant } from "./meant.js";

/** A letter with its accidental in signs or words (German ones too), then perhaps a mode. */
const spoken = /^([A-Ha-h])(?:[ -]?(flat|sharp)|([b♭]+|[#♯]+|x)|(isis|eses|is|es|s))?(?:[ -]?([A-Za-z]+))?$/;
const modes: Readonly<Record<string, string>> = {
  major: "major",
  minor: "minor",
  maj: "major",
  min: "minor",
  m: "m",
  dur: "major",
  moll: "minor",
  dorian: "dorian",
  phrygian: "phrygian",
  lydian: "lydian",
  mixolydian: "mixolydian",
  locrian: "locrian",
  ionian: "ionian",
  aeolian: "aeolian",
};
const signOf: Readonly<Record<string, string>> = {
  flat: "b",
  sharp: "#",
  is: "#",
  isis: "##",
  es: "b",
  s: "b",
  eses: "bb",
};

function readSpoken(text: string): { key: string; why: string } | undefined {
  const found = text.length > 24 ? null : spoken.exec(text);
  if (found === null) return undefined;
  const [, letter = "", word, signs = "", german, modeWord] = found;
  const mode = modeWord === undefined ? "" : modes[modeWord.toLowerCase()];
  if (mode === undefined || (german === "s" && !/[AEae]/.test(letter))) return undefined;
  const upper = letter.toUpperCase();
  const accidental = signOf[word ?? german ?? ""] ?? signs;
  const space = mode === "" || mode === "m" ? "" : " ";
  const key = `${upper === "H" ? "B" : upper}${accidental}${space}${mode}`;
  if (key === text) return undefined;
  const why =
    upper === "H"
      ? `There is no H here: that tone is called B. Write ${key}.`
      : letter !== upper && word === undefined && german === undefined
        ? `A key starts with a capital letter: ${key}.`
        : `“${text}” is written ${key}.`;
  return { key, why };
}

/** The key that the first of these words may mean; `undefined` where they don't look like one. */
export function keyMeant(words: readonly string[]): Meant | undefined {
  for (let count = Math.min(3, words.length); count > 0; count--) {
    const read = readSpoken(words.slice(0, count).join(" "));
    if (read !== undefined) return { count, wrong: 0, texts: [read.key], why: read.why };
  }
  return undefined;
}
