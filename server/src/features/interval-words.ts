/** Intervals by their half steps, as players name them when they change key. */
const names = [
  "unison",
  "half step",
  "whole step",
  "minor third",
  "major third",
  "fourth",
  "tritone",
  "fifth",
  "minor sixth",
  "major sixth",
  "minor seventh",
  "major seventh",
  "octave",
];

/** How far and which way: `up a minor third`, `down a half step`; `where it is` for none. */
export function intervalWords(halfSteps: number): string {
  if (halfSteps === 0) return "where it is";
  const size = Math.abs(halfSteps);
  const name = names[size];
  return `${halfSteps > 0 ? "up" : "down"} ${name === undefined ? `${size} half steps` : `${name === "octave" ? "an" : "a"} ${name}`}`;
}
