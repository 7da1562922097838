import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { locate } from "../../server/src/chart/locate.js";
import type { Located } from "../../server/src/chart/located.js";
import type { PlacedSection } from "../../server/src/chart/model.js";
import { type Document, type Files, openDocument } from "../../server/src/document/document.js";
import { live } from "../../server/src/exports/live.js";
import type { LiveChart } from "../../server/src/exports/live-chart.js";
import type { CellView } from "../../server/src/exports/page-data.js";
import { livePage } from "../../server/src/features/live-page.js";
import { barAt, placesOf } from "../../server/src/page/cursor.js";
import { visible } from "../../server/src/text/visible.js";
import { sampleCharts } from "../support/sample-charts.js";

const folder = "test/charts";
const read = (path: string): string => readFileSync(join(folder, path), "utf8");
/** Charts that a sample uses lie beside it. */
const beside: Files = {
  find(from, path) {
    const there = join(from, "..", path);
    return { kind: "text", path: there, text: read(there) };
  },
};
const open = (name: string): Document => openDocument(name, read(name), beside);

function pageOf(document: Document, key?: string): LiveChart {
  const page = livePage(document, key, live);
  if ("refused" in page) throw new Error(page.refused);
  return page;
}

interface Placed {
  readonly cell: CellView;
  readonly row: string;
  readonly start: number;
}

/** Every cell of a page with where it starts; fails where the two lists differ in shape. */
function cellsOf({ view, starts }: LiveChart): readonly Placed[] {
  const counts = (all: readonly { readonly systems: readonly unknown[] }[]): readonly number[] =>
    all.map(({ systems }) => systems.length);
  expect(starts.map(({ length }) => length)).toEqual(counts(view.sections));
  return view.sections.flatMap(({ systems }, s) =>
    systems.flatMap(({ rows, bars }, y) => {
      expect(starts[s]?.[y]?.length).toBe(bars.length);
      return bars.flatMap(({ cells }, b) =>
        cells.flatMap((row, r) => {
          expect(starts[s]?.[y]?.[b]?.[r]?.length).toBe(row.length);
          return row.map((cell, c) => ({
            cell,
            row: rows[r]?.row ?? "",
            start: starts[s]?.[y]?.[b]?.[r]?.[c] ?? Number.NaN,
          }));
        }),
      );
    }),
  );
}

/** What stands at the start of a cell, in a form that can be held against what the cell shows. */
function found(there: Located): unknown {
  switch (there.kind) {
    case "chord":
      return [there.event?.chord.root];
    case "chord-sign":
      return there.events.map(({ chord }) => chord.root);
    case "syllable":
      return visible(there.word?.text ?? "");
    case "tone":
    case "grace":
    case "stack":
    case "note-sign": {
      const events = "events" in there ? there.events : [there.event];
      return events.map((it) =>
        [...(it?.held ?? []), ...(it?.struck.filter(({ grace }) => !grace) ?? [])].map(
          ({ pitch }) => pitch.midi,
        ),
      );
    }
    default:
      return there.kind;
  }
}

describe.each(sampleCharts)("%s on the page beside its text", (name) => {
  const document = open(name);
  const page = pageOf(document);

  test("has every cell where the text says what it shows", () => {
    let count = 0;
    for (const { cell, row, start } of cellsOf(page)) {
      if (start < 0) continue;
      count++;
      const there = found(locate(document, start));
      const shown = `${row} ${JSON.stringify(cell)} at “${document.text.slice(start, start + 20)}”`;
      if (row === "words") expect(there, shown).toBe("text" in cell ? cell.text : undefined);
      else if ("chord" in cell) expect(there, shown).toContain(cell.chord.root);
      else if ("slot" in cell) {
        const midi = page.view.slots[cell.slot]?.tones.map((tone) => tone.midi);
        expect(there, shown).toContainEqual(expect.arrayContaining(midi ?? []));
      } else expect(there, shown).toBeInstanceOf(Array);
    }
    // Of what is written here and seen there, cues and silence alone have no place of their own.
    const without = cellsOf({ ...page, view: ownOf(document, page), starts: ownStarts(document, page) });
    for (const { cell, row, start } of without.filter((it) => it.start < 0))
      expect([row === "cue", "text" in cell && cell.text === "N.C."], `${start}`).toContain(true);
    expect(count > 0).toBe(without.length > 0);
  });

  test("knows of every place in a bar which bar it is", () => {
    const places = new Map<PlacedSection, number>(document.chart.sections.map((it, i) => [it, i]));
    for (let offset = 0; offset < document.text.length; offset++) {
      const there = locate(document, offset);
      if (!("slot" in there || there.kind === "syllable" || there.kind === "cue")) continue;
      const place = barAt(page.bars, offset);
      const { placed, bar, pickup, row } = there;
      expect(place, `${there.kind} “${document.text.slice(offset, offset + 20)}”`).toMatchObject({
        section: places.get(placed),
        bar: bar?.index,
        pickup,
        row: row.row,
      });
      const all = placesOf(page.bars, place?.section ?? -1, place?.bar ?? -1, pickup);
      expect(all).toContain(place);
    }
    for (const { from, to } of page.bars) {
      expect(from).toBeLessThanOrEqual(to);
      expect(document.text.slice(from, to)).not.toMatch(/[|\n]/);
    }
  });

  test("has the same cells at the same places in every other key", () => {
    for (const key of ["Db", "F#", "A"]) {
      const moved = livePage(document, key, live);
      if ("refused" in moved) continue;
      expect(moved.starts).toEqual(page.starts);
      expect(moved.bars).toEqual(page.bars);
      expect(cellsOf(moved).map(({ row }) => row)).toEqual(cellsOf(page).map(({ row }) => row));
    }
  });
});

/** The sections of a page that stand in the chart's own text. */
const isOwn = ({ chart }: Document, index: number): boolean => chart.sections[index]?.path === undefined;
const ownOf = (document: Document, { view }: LiveChart): LiveChart["view"] => ({
  ...view,
  sections: view.sections.filter((_, i) => isOwn(document, i)),
});
const ownStarts = (document: Document, { starts }: LiveChart): LiveChart["starts"] =>
  starts.filter((_, i) => isOwn(document, i));

describe("a section of another chart", () => {
  const files: Files = {
    find: () => ({
      kind: "text",
      path: "b.plagal",
      text: "section B\nchords | 2m7 5:7 |\nright | 1+3 5 |\n",
    }),
  };
  const document = openDocument(
    "a.plagal",
    'key C\nuse "b.plagal"\nsection A\nchords | 1 |\nform B A\n',
    files,
  );
  const page = pageOf(document);

  test("is on the page, and nowhere in this text", () => {
    const names = page.view.sections.map(({ name }) => name);
    expect(names).toContain("B");
    const b = names.indexOf("B");
    expect(new Set(page.starts[b]?.flat(3))).toEqual(new Set([-1]));
    expect(page.bars.filter(({ section }) => section === b)).toEqual([]);
    expect(page.bars).toHaveLength(1);
  });
});

test("a pickup is a place of its own", () => {
  const text = "key C\nlead 5 6 | 1 2 |\nchords | 1 |\n";
  const { bars } = pageOf(openDocument("a.plagal", text));
  expect(
    bars.map(({ from, to, bar, pickup, row }) => [text.slice(from, to).trim(), bar, pickup, row]),
  ).toEqual([
    ["5 6", 0, true, "lead"],
    ["1 2", 0, false, "lead"],
    ["1", 0, false, "chords"],
  ]);
});

test("a key that is none is refused, with what to write", () => {
  expect(livePage(openDocument("a.plagal", "chords | 1 |\n"), "H", live)).toMatchObject({
    refused: expect.stringMatching(/key/),
  });
});
