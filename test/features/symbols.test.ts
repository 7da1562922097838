import { expect, test } from "vitest";
import { symbols } from "../../server/src/features/symbols.js";
import { alone } from "../support/charts-of.js";

const song = `
  title Harbour Evening
  key Eb major
  time 6/8
  tempo 72

  section Verse
  chords | 1 | 4 |

  ; slower
  section "Last Verse"
  key F
  chords | 1 |

  section
  lands 1
`;

const shown = (text: string, max = 100): string => {
  const document = alone(text).at("chart.plagal");
  const found = symbols(document, max);
  const lines = found.symbols.map(({ name, kind, detail, span, nameSpan }) => {
    const all = document.text.slice(span.start, span.end).split("\n");
    return `${kind} ${name}: ${detail} [${document.text.slice(nameSpan.start, nameSpan.end)}] ${all[0]}…${all.at(-1)}`;
  });
  return [...lines, `${found.left} left`].join("\n");
};

test("an outline has the title with key, meter and tempo, and each section with its own key and bars", () => {
  expect(shown(song)).toBe(
    `title Harbour Evening: E♭ major, 6/8, tempo 72 [Harbour Evening] title Harbour Evening…title Harbour Evening
section Verse: E♭ major, 2 bars [Verse] section Verse…; slower
section Last Verse: F major, 1 bar [Last Verse] section "Last Verse"…chords | 1 |
section No name: E♭ major, 0 bars [] section…lands 1
0 left`,
  );
});

test("rows before any section are a section without a name", () => {
  expect(shown("chords | 1 |\n")).toBe(
    "section No name: C major, 1 bar [] chords | 1 |…chords | 1 |\n0 left",
  );
});

test("no more symbols than the limit are given, and how many are left is told", () => {
  expect(shown(song, 2).split("\n")).toHaveLength(3);
  expect(shown(song, 2)).toMatch(/2 left$/);
  expect(shown(song, 0)).toBe("4 left");
  expect(shown(song, Number.NaN)).toBe("4 left");
});

test("an empty text has no symbols", () => {
  expect(shown("")).toBe("0 left");
});
