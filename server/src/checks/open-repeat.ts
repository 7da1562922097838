import type { Section } from "../chart/model.js";
import type { Span } from "../text/span.js";
import { shift } from "../text/span.js";
import type { SectionCheck } from "./check.js";

/** A repeat that starts and never goes back, or a first ending without its `:|`. */
export const openRepeat: SectionCheck<"open-repeat"> = {
  code: "open-repeat",
  run({ section }, report) {
    const { bars } = section;
    bars.forEach(({ repeat }, i) => {
      if (repeat.start && !goesBack(section, i, (bar) => bar.repeat.start)) {
        report(placeOf(section, i, "start"), { sign: "|:" }, { row: rowOf(section, i) });
      } else if (
        repeat.ending === 1 &&
        !goesBack(section, i, (bar) => bar.repeat.ending === 2 || bar.repeat.start)
      ) {
        // A repeat that is left open is told at its start alone.
        const start = bars.findLastIndex((bar, k) => k <= i && bar.repeat.start);
        if (start < 0 || goesBack(section, start, (bar) => bar.repeat.start)) {
          report(placeOf(section, i, "ending"), { sign: "1." }, { row: rowOf(section, i) });
        }
      }
    });
  },
};

/** Whether a `:|` stands at the end of this bar or a later one, before a bar that `ends` it. */
function goesBack({ bars }: Section, from: number, ends: (bar: Section["bars"][number]) => boolean): boolean {
  for (let i = from; i < bars.length; i++) {
    const bar = bars[i] as Section["bars"][number];
    if (i > from && ends(bar)) return false;
    if (bar.repeat.end) return true;
  }
  return false;
}

/** The first row of a bar's system, in which its signs are written. */
function firstRow({ bars, systems }: Section, bar: number) {
  const system = systems[bars[bar]?.system ?? -1];
  const first = system?.rows[0];
  return system === undefined || first === undefined
    ? undefined
    : { ...first, text: first.line.bars[bar - system.firstBar] };
}

const rowOf = (section: Section, bar: number): string | undefined => firstRow(section, bar)?.row;

function placeOf(section: Section, bar: number, sign: "start" | "ending"): Span {
  const row = firstRow(section, bar);
  const span = sign === "start" ? row?.text?.open.span : row?.text?.ending?.span;
  return shift(span ?? { start: 0, end: 0 }, row?.start ?? 0);
}
