import type { KeyLine, Line } from "../syntax/tree.js";
import { homeOne, shorterWay } from "./home-octave.js";
import type { Feel, Header, HomeKey, Meter } from "./model.js";

const known = new WeakMap<readonly Line[], Header>();

/** What a chart's header says. The first line of a kind counts. Memoised: the same lines give the same object. */
export function readHeader(lines: readonly Line[]): Header {
  const header = known.get(lines) ?? read(lines);
  known.set(lines, header);
  return header;
}

function read(lines: readonly Line[]): Header {
  let title: string | undefined;
  let by: string | undefined;
  const notes: string[] = [];
  let key: KeyLine | undefined;
  let meter: Meter | undefined;
  let tempo: number | undefined;
  let feel: Feel | undefined;
  let left: number | undefined;
  let right: number | undefined;
  for (const { statement } of lines) {
    switch (statement.kind) {
      case "text":
        if (statement.word === "title") title ||= statement.value;
        else if (statement.word === "by") by ||= statement.value;
        else notes.push(statement.value);
        break;
      case "key":
        if (statement.tonic !== undefined) key ??= statement;
        break;
      case "time":
        meter ??= statement.value;
        break;
      case "tempo":
        tempo ??= statement.value;
        break;
      case "feel":
        feel ??= statement.value;
        break;
      case "reach":
        left ??= statement.left;
        right ??= statement.right;
        break;
    }
  }
  return {
    title,
    by,
    notes,
    home: headerHome(key),
    original: key?.original?.tonic.fifths,
    meter: meter ?? { beats: 4, unit: 4 },
    tempo,
    feel: feel ?? "straight",
    reach: { left, right },
  };
}

/** The chart's own key. One with `(original …)` keeps the home octaves of that key, moved the shorter way. */
function headerHome(line: KeyLine | undefined): HomeKey {
  if (line?.tonic === undefined) return { key: { tonic: 0, mode: "major" }, one: homeOne(0) };
  const tonic = line.tonic.fifths;
  const original = line.original?.tonic.fifths ?? tonic;
  return { key: { tonic, mode: line.mode }, one: homeOne(original) + shorterWay(original, tonic) };
}
