import type { KeyLine, Line, Statement } from "../syntax/tree.js";
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
  let now = inForceAtStart(context);
  for (let i = 0; i < Math.min(before, source.lines.length); i++) {
    now = afterLine((source.lines[i] as Line).statement, now, context);
  }
  return now;
}

export const inForceAtStart = ({ home, meter, tempo, feel }: SectionContext): InForce => ({
  home,
  meter,
  tempo,
  feel,
});

/** What holds after a line of a section: all the same but for what the line sets. */
export function afterLine(statement: Statement, now: InForce, context: SectionContext): InForce {
  switch (statement.kind) {
    case "key":
      return { ...now, home: afterKey(statement, now.home, context) };
    case "time":
      return { ...now, meter: statement.value ?? now.meter };
    case "tempo":
      return { ...now, tempo: statement.value ?? now.tempo };
    case "feel":
      return { ...now, feel: statement.value ?? now.feel };
    default:
      return now;
  }
}

/** The key after a key line of a section; one that can't be read changes nothing. */
function afterKey(
  { tonic, mode }: KeyLine,
  home: HomeKey,
  { displacement: { fifths }, firstOne }: SectionContext,
): HomeKey {
  if (tonic === undefined) return home;
  const key = { tonic: tonic.fifths, mode };
  return nextHome(home, fifths === 0 ? key : practical({ ...key, tonic: key.tonic + fifths }), firstOne);
}
