import { expect, test } from "vitest";
import { beatName } from "../../server/src/chart/beat-name.js";
import { fraction } from "../../server/src/theory/fraction.js";

test.each([
  [0, 1, 4, 4, "beat 1"],
  [1, 2, 4, 4, "beat 3"],
  [3, 8, 4, 4, "beat 2 and"],
  [1, 12, 4, 4, "beat 1 and a third"],
  [1, 6, 4, 4, "beat 1 and two thirds"],
  [5, 16, 4, 4, "beat 2 and a quarter"],
  [7, 16, 4, 4, "beat 2 and three quarters"],
  [1, 20, 4, 4, "beat 1 and 1/5"],
  [3, 8, 6, 8, "beat 2"],
  [1, 8, 6, 8, "beat 1 and a third"],
  [3, 8, 3, 8, "beat 4"],
])("%i/%i of a whole note in %i/%i is %s", (n, d, beats, unit, name) => {
  expect(beatName(fraction(n, d), { beats, unit })).toBe(name);
});
