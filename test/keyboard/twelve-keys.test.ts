import { describe, expect, it } from "vitest";
import { grip } from "../../server/src/keyboard/grip.js";
import type { Hand } from "../../server/src/keyboard/hand.js";
import { keysHolding, twelveKeys } from "../../server/src/keyboard/twelve-keys.js";

const moves = Array.from({ length: 12 }, (_, by) => by);
const held = (keys: readonly number[], hand: Hand, reach: number): string =>
  moves.map((by) => ((keysHolding(keys, hand, reach) >> by) & 1 ? "x" : ".")).join("");

describe("a grip in twelve keys", () => {
  it("names the keys by half steps up from where it stands", () => {
    // A major tenth at reach 10: all but D♭ and B.
    expect(held([48, 64], "left", 10)).toBe("x.xxxxxxxxx.");
    expect(held([50, 66], "left", 10)).toBe("xxxxxxxxx.x.");
    // A minor tenth at reach 9: F and G♯ alone.
    expect(held([60, 75], "right", 9)).toBe(".....x..x...");
    expect(held([65, 80], "right", 9)).toBe("x..x........");
  });

  it("is remembered for its own keys alone, whatever was asked before it", () => {
    const reach = 6;
    for (const keys of [
      [48, 69, 69],
      [69, 48],
    ])
      grip(keys, "right", reach);
    expect(grip([48, 69], "right", reach)).toMatchObject({ reasons: [{ kind: "too-wide", keys: [0, 1] }] });
    expect(keysHolding([69, 48], "right", reach)).toBe(0);
  });

  it("is the grip's own answer at every place, for shapes of both hands", () => {
    for (const hand of ["left", "right"] as const) {
      for (const reach of [7, 8, 9, 10, 11]) {
        for (const shape of [
          [0],
          [0, 15],
          [0, 12, 16],
          [0, 4, 7, 10, 12],
          [0, 2, 4, 7, 9, 12],
          [0, 1, 2, 3, 4, 5],
          [0, 31],
        ]) {
          for (const lowest of [0, 24, 37, 59, 62]) {
            const keys = shape.map((above) => lowest + above);
            const expected = moves.map((by) =>
              grip(
                keys.map((key) => key + by),
                hand,
                reach,
              ),
            );
            expect(held(keys, hand, reach)).toBe(expected.map(({ holds }) => (holds ? "x" : ".")).join(""));
            expect(twelveKeys(keys, hand, reach)).toEqual(
              expected.map((it) => (it.holds ? it.strain : "no")),
            );
          }
        }
      }
    }
  });
});
