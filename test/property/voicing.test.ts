import fc from "fast-check";
import { expect } from "vitest";
import { rowIn } from "../../server/src/chart/layout.js";
import type { Section, System } from "../../server/src/chart/model.js";
import {
  type Document,
  openDocument,
  reachInForce,
  type Settings,
} from "../../server/src/document/document.js";
import type { EditResult } from "../../server/src/edits/result.js";
import { slotPassage } from "../../server/src/edits/slot-passage.js";
import { voiceRows } from "../../server/src/edits/voice.js";
import { voicedRow } from "../../server/src/edits/voiced-rows.js";
import type { VoicingAsked } from "../../server/src/edits/voicing-asked.js";
import { whyVoicing } from "../../server/src/edits/why-voicing.js";
import type { Hand } from "../../server/src/keyboard/hand.js";
import type { Code } from "../../server/src/problems/catalogue.js";
import type { Problem } from "../../server/src/problems/problem.js";
import type { RowName } from "../../server/src/syntax/tree.js";
import { applyEdits, type Edit } from "../../server/src/text/edits.js";
import { indexAt } from "../../server/src/text/lines.js";
import { sliceOf } from "../../server/src/text/span.js";
import { styles } from "../../server/src/voicing/styles.js";
import { anyChart, hostileText, usedFiles } from "../support/generate-chart.js";
import { property } from "../support/property.js";

const noReach = { left: undefined, right: undefined };
const open = (text: string): Document => openDocument("chart.plagal", text, usedFiles);
const anyAsked: fc.Arbitrary<VoicingAsked> = fc.record({
  hands: fc.constantFrom<readonly Hand[]>(["right"], ["left"], ["left", "right"]),
  style: fc.constantFrom(...styles.map(({ name }) => name)),
  everyKey: fc.boolean(),
  which: fc.constantFrom("empty" as const, "empty" as const, "all" as const),
  reach: fc.constantFrom(noReach, { left: 8, right: 8 }, { left: 10, right: undefined }),
});

/** The text after an edit; as it is where it is refused. */
const after = (text: string, result: EditResult): string =>
  "refused" in result ? text : applyEdits(text, result.edits);

/** The bars of a line, each without its spaces. */
const barsOf = (line: string): readonly string[] =>
  (line.split(/\s;|^;/)[0] ?? "")
    .split("|")
    .map((bar) => bar.replace(/^:|:$/g, "").replace(/\s+/g, " ").trim());

/** Nothing but an ending, or how often the repeat before it is played. */
const emptyBar = /^( ?x\d+)? ?([12]\.)?$/;

property(
  "voicing what is empty adds rows and fills empty bars, and changes nothing else but spaces",
  fc.tuple(anyChart(), anyAsked),
  150,
  ([text, asked]) => {
    const now = after(text, voiceRows(open(text), { ...asked, which: "empty" })).split(/\r?\n/);
    let i = 0;
    for (const line of text.split(/\r?\n/)) {
      const isSame = (other: string | undefined): boolean => {
        if (other === undefined) return false;
        const [before, here] = [barsOf(line), barsOf(other)];
        return (
          before.length === here.length &&
          before.every((bar, k) => bar === here[k] || (k > 0 && emptyBar.test(bar)))
        );
      };
      while (i < now.length && !isSame(now[i])) {
        expect(now[i], `a line before ${line}`).toMatch(/^(right|left) .*; voiced /);
        i++;
      }
      expect(i, `no more ${line}`).toBeLessThan(now.length);
      i++;
    }
  },
);

const judged: readonly Code[] = [
  "hand-span",
  "too-many-notes",
  "hands-collide",
  "hands-cross",
  "low-interval",
  "off-keyboard",
  "missing-guide-tone",
  "outside-chord",
  "unknown-tone",
  "octave-sign",
  "no-chord",
  "syntax",
  "uneven-slots",
  "uneven-rows",
  "missing-beat",
  "open-repeat",
];

interface Where {
  readonly section: Section;
  readonly system: System;
  readonly bar: number;
}

/** The bar of a row in which a place of a chart's own text stands. */
function whereIs({ chart }: Document, at: number): Where | undefined {
  const placed = chart.sections.findLast(({ path, offset }) => path === undefined && offset <= at);
  for (const system of placed?.section.systems ?? []) {
    for (const { line, start } of system.rows) {
      const there = at - (placed?.offset ?? 0) - start;
      if (there < 0 || there > (line.bars.at(-1)?.span.end ?? line.nameSpan.end)) continue;
      const bar = system.firstBar + line.bars.findIndex(({ span }) => there <= span.end);
      return { section: placed?.section as Section, system, bar };
    }
  }
  return undefined;
}

/** The bar that a row repeats with `%` in a bar; that bar itself where it repeats none. */
function written({ section, bar }: Where, row: RowName): number {
  for (let at = bar; at > 0; at--) {
    const system = section.systems[section.bars[at]?.system ?? 0] as System;
    const slots = rowIn(system, row)?.line.bars[at - system.firstBar]?.slots;
    const [only] = slots ?? [];
    if (slots !== undefined && !(only?.kind === "leaf" && only.content.kind === "sameBar")) return at;
  }
  return 0;
}

/** How often something is told in a chart; of the rhythm of hands, where it isn't that of the rows that they follow. */
function countOf(document: Document, code: Code): number {
  const told = document.problems.filter((it) => it.code === code);
  if (!["uneven-slots", "missing-beat", "uneven-rows"].includes(code)) return told.length;
  const isHand = ({ row }: Problem): boolean => row === "right" || row === "left";
  const isSame = (other: Problem, hand: Problem): boolean => {
    const [a, b] = [whereIs(document, other.span.start), whereIs(document, hand.span.start)];
    if (a === undefined || b === undefined || a.section !== b.section) return false;
    if (code === "uneven-rows") return a.system === b.system;
    return [b.bar, written(b, "chords"), written(b, "lead")].includes(a.bar);
  };
  return told.filter((it) => !isHand(it) || !told.some((other) => !isHand(other) && isSame(other, it)))
    .length;
}

/** Nothing that the checks of hands, chords and bars tell of may be told more often after some edits. */
function isAsGood(before: Document, edits: readonly Edit[], settings: Settings): void {
  const now = openDocument("chart.plagal", applyEdits(before.text, edits), usedFiles, settings);
  const known = before.problems.map(({ message }) => message);
  for (const code of judged) {
    const told = now.problems.filter((it) => it.code === code && !known.includes(it.message));
    const messages = told.map(({ message, span }) => `${sliceOf(now.text, span)}: ${message}`).join("\n");
    expect(countOf(now, code), `${code} ${messages}\n${now.text}`).toBeLessThanOrEqual(countOf(before, code));
  }
}

property(
  "voicing a chart makes no new problem of the hands, of its chords or of its bars",
  fc.tuple(anyChart(), anyAsked),
  150,
  ([text, asked]) => {
    const settings = { severities: {}, reach: asked.reach };
    const before = openDocument("chart.plagal", text, usedFiles, settings);
    const result = voiceRows(before, { ...asked, reach: reachInForce(before) });
    if (!("refused" in result)) isAsGood(before, result.edits, settings);
  },
);

property(
  "every slot of a row that was voiced reads back as a voicing of its style, and as the best there",
  fc.tuple(anyChart({ notation: "numbers" }), anyAsked),
  60,
  ([text, given]) => {
    // Of two hands found together each is among the voicings of the style only with the other.
    const which = given.hands.length === 2 ? "all" : given.which;
    const asked: VoicingAsked = { ...given, which, reach: noReach };
    const now = open(after(text, voiceRows(open(text), asked)));
    let slots = 0;
    for (const placed of now.chart.sections) {
      if (placed.path !== undefined) continue;
      const { section, offset } = placed;
      for (const hand of ["left", "right"] as const) {
        for (const slot of section.rows[hand].slots) {
          const system = section.systems[slot.system] as System;
          const row = rowIn(system, hand);
          const line = row && section.source.lines[indexAt(section.source.starts, row.start)];
          if (line === undefined || voicedRow(line) === undefined || slot.kind !== "stack") continue;
          // Found together with a row that is the player's for the rest.
          const other = rowIn(system, hand === "left" ? "right" : "left");
          const otherLine = other && section.source.lines[indexAt(section.source.starts, other.start)];
          if (given.hands.length === 2 && otherLine !== undefined && voicedRow(otherLine) === undefined)
            continue;
          // A pickup that the chords don't have is the player's own.
          if (slot.pickup && slot.chord?.pickup !== true) continue;
          if (slots++ > 6) continue;
          const at = offset + slot.written.start;
          const found = slotPassage(now.chart, at, noReach, false);
          expect(found?.voiced, `${now.text}\nat ${now.text.slice(at, at + 12)}`).toEqual({
            style: asked.style,
            everyKey: asked.everyKey,
          });
        }
      }
    }
  },
);

property(
  "the same chart is voiced the same, from a fresh document too",
  fc.tuple(anyChart(), anyAsked),
  40,
  ([text, asked]) => {
    const first = after(text, voiceRows(open(text), asked));
    expect(after(text, voiceRows(open(text), asked))).toBe(first);
  },
);

property(
  "voicing throws on no text, nor does asking why or for the next",
  fc.tuple(hostileText, anyAsked, fc.nat(), fc.nat()),
  150,
  ([text, asked, a, b]) => {
    const document = open(text);
    const [start, end] = [a % (text.length + 1), b % (text.length + 1)].sort((x, y) => x - y) as [
      number,
      number,
    ];
    after(text, voiceRows(document, asked));
    after(text, voiceRows(document, { ...asked, which: { start, end } }));
    whyVoicing(document, start, asked.reach);
  },
);
