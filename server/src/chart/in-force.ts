import type { KeyLine, Line } from "../syntax/tree.js";
import { practical } from "../theory/key.js";
import { nextHome } from "./home-octave.js";
import type { Feel, HomeKey, Meter, PlacedSection, SectionContext } from "./model.js";

/** What holds at a place of a section. */
export interface InForce {
  readonly home: HomeKey;
  readonly meter: Meter;
  readonly tempo: number | undefined;
  readonly feel: Feel;
}

/** What holds in a section before its line of this index; the line itself doesn't count. */
export function inForceAt({ section: { source, context } }: PlacedSection, before: number): InForce {
  let { home, meter, tempo, feel } = context;
  for (let i = 0; i < Math.min(before, source.lines.length); i++) {
    const { statement } = source.lines[i] as Line;
    switch (statement.kind) {
      case "key":
        home = afterKey(statement, home, context);
        break;
      case "time":
        meter = statement.value ?? meter;
        break;
      case "tempo":
        tempo = statement.value ?? tempo;
        break;
      case "feel":
        feel = statement.value ?? feel;
        break;
    }
  }
  return { home, meter, tempo, feel };
}

/** The key after a key line of a section; one that can't be read changes nothing. */
export function afterKey(
  { tonic, mode }: KeyLine,
  home: HomeKey,
  { displacement: { fifths }, firstOne }: SectionContext,
): HomeKey {
  if (tonic === undefined) return home;
  const key = { tonic: tonic.fifths, mode };
  return nextHome(home, fifths === 0 ? key : practical({ ...key, tonic: key.tonic + fifths }), firstOne);
}
