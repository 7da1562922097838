import type { Chart, PlacedSection } from "../chart/model.js";
import type { RowName } from "../syntax/tree.js";
import type { Fraction } from "../theory/fraction.js";
import { heldAt } from "./hand-moments.js";
import type { CellView, PageView, SectionView } from "./page-data.js";
import { pageHead } from "./page-head.js";
import type { PageHead } from "./page-sheet.js";
import { type ViewedChart, viewedChart } from "./page-view.js";
import { perform } from "./performance.js";
import { type StaffPicture, staffPictures } from "./staff-pictures.js";

/** Where a bar stands in a row of the text, from the text's start. */
export interface BarPlace {
  readonly from: number;
  readonly to: number;
  /** As a page counts them: the section, and its bar. */
  readonly section: number;
  readonly bar: number;
  /** It is the pickup into that bar. */
  readonly pickup: boolean;
  readonly row: RowName;
}

/** What the page beside the text knows of its chart: what every page knows, and where it stands in the text. */
export interface LiveChart {
  readonly head: PageHead;
  readonly view: PageView;
  /** In order of the text. */
  readonly bars: readonly BarPlace[];
  /**
   * Where each cell of the view starts in the text: by section, system, bar, row and cell. -1 where it is in another
   * file, and of a cue and of silence, which have no place of their own.
   */
  readonly starts: readonly CellStarts[];
  /** What both hands hold where either of them strikes: by section, system, and bar. */
  readonly hands: readonly (readonly (readonly HandsOfBar[])[])[];
  /** For each section its pictures for an engraver, where they were asked for. */
  readonly staff?: readonly (readonly StaffPicture[])[];
}

/** Moments of a bar: the column of its cells, and the keys that are held from the lowest up. */
export type HandsOfBar = readonly (readonly [column: number, keys: readonly HandKey[]])[];

/** A key as numbers, since there are many: MIDI number, name on the line of fifths, 1 for the right hand, 1 for held over. */
export type HandKey = readonly [midi: number, fifths: number, right: 0 | 1, heldOver: 0 | 1];

type CellStarts = readonly (readonly (readonly (readonly number[])[])[])[];

/**
 * `shown` is the chart as it should sound, in its own key or another one; `written` the one of the text. With `staff`
 * it can be engraved.
 */
export function liveChart(shown: Chart, written: Chart, staff: boolean): LiveChart {
  const viewed = viewedChart(shown, perform(shown, { balance: true }));
  const own = shown === written ? viewed : viewedChart(written, perform(written));
  const starts = own.view.sections.map(({ systems }, i): CellStarts => {
    const { offset, path } = written.sections[i] as PlacedSection;
    const startOf = (cell: CellView): number => {
      const start = own.starts.get(cell);
      return start === undefined || path !== undefined ? -1 : offset + start;
    };
    return systems.map(({ bars }) => bars.map(({ cells }) => cells.map((row) => row.map(startOf))));
  });
  return {
    head: pageHead(shown.header),
    view: viewed.view,
    bars: written.sections.flatMap(barsIn).sort((a, b) => a.from - b.from),
    starts,
    hands: viewed.view.sections.map((section, i) =>
      handsIn(section, shown.sections[i] as PlacedSection, viewed),
    ),
    ...(staff ? { staff: shown.sections.map(staffPictures) } : {}),
  };
}

function handsIn(
  { systems }: SectionView,
  { section }: PlacedSection,
  { view, times }: ViewedChart,
): readonly (readonly HandsOfBar[])[] {
  const held = heldAt(section);
  return systems.map(({ rows, bars }) =>
    bars.map(({ cells }): HandsOfBar => {
      const moments = new Map<number, Fraction>();
      cells.forEach((row, r) => {
        const name = rows[r]?.row;
        if (name !== "right" && name !== "left") return;
        for (const cell of row) {
          const time = times.get(cell);
          if (time !== undefined && "slot" in cell && view.slots[cell.slot]?.kind === "stack")
            moments.set(cell.c, time);
        }
      });
      return [...moments]
        .sort(([a], [b]) => a - b)
        .map(([column, time]) => [
          column,
          held(time).map(
            ({ note, hand, isHeldOver }): HandKey => [
              note.pitch.midi,
              note.pitch.fifths,
              hand === "right" ? 1 : 0,
              isHeldOver ? 1 : 0,
            ],
          ),
        ]);
    }),
  );
}

function barsIn({ section, offset, path }: PlacedSection, index: number): readonly BarPlace[] {
  if (path !== undefined) return [];
  return section.systems.flatMap(({ rows, firstBar, endBar }) =>
    rows.flatMap(({ row, line, start }) => {
      const from = offset + start;
      const bars = line.bars.slice(0, endBar - firstBar).map(
        ({ span }, i): BarPlace => ({
          from: from + span.start,
          to: from + span.end,
          section: index,
          bar: firstBar + i,
          pickup: false,
          row,
        }),
      );
      const [first, last] = [line.pickup[0], line.pickup.at(-1)];
      if (first === undefined || last === undefined) return bars;
      const pickup = { section: index, bar: firstBar, pickup: true, row };
      return [{ from: from + first.span.start, to: from + last.span.end, ...pickup }, ...bars];
    }),
  );
}
