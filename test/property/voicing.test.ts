import fc from "fast-check";
import { expect } from "vitest";
import { rowIn } from "../../server/src/chart/layout.js";
import type { System } from "../../server/src/chart/model.js";
import { type Document, openDocument, reachInForce } from "../../server/src/document/document.js";
import type { EditResult } from "../../server/src/edits/result.js";
import { slotPassage } from "../../server/src/edits/slot-passage.js";
import { type VoicingAsked, voiceRows } from "../../server/src/edits/voice.js";
import { voicedRow } from "../../server/src/edits/voiced-rows.js";
import { whyVoicing } from "../../server/src/edits/why-voicing.js";
import type { Hand } from "../../server/src/keyboard/hand.js";
import type { Code } from "../../server/src/problems/catalogue.js";
import { applyEdits } from "../../server/src/text/edits.js";
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

/** Whether the right hand strikes nothing for a chord, which starts at this place. */
function isUnfilled({ chart }: Document, at: number): boolean {
  const placed = chart.sections.findLast((it) => it.path === undefined && it.offset <= at);
  return !placed?.section.rows.right.slots.some(
    ({ chord, struck }) =>
      chord !== undefined && struck.length > 0 && chord.span.start + placed.offset === at,
  );
}

property(
  "voicing a chart makes no new problem of the hands, of its chords or of its bars",
  fc.tuple(anyChart(), anyAsked),
  150,
  ([text, asked]) => {
    const settings = { severities: {}, reach: asked.reach };
    const before = openDocument("chart.plagal", text, usedFiles, settings);
    const result = voiceRows(before, { ...asked, reach: reachInForce(before) });
    // A chord that nothing serves rests in one hand, and the other may leave its third out.
    if ("refused" in result || result.notes.some(({ message }) => message.startsWith("No voicing"))) return;
    const now = openDocument("chart.plagal", applyEdits(text, result.edits), usedFiles, settings);
    const count = ({ problems }: Document, code: Code): number =>
      problems.filter((it) => it.code === code).length;
    for (const code of judged) {
      // A rhythm that the chords have is followed.
      if (/uneven|missing-beat/.test(code) && count(before, code) > 0) continue;
      const known = before.problems.map(({ message }) => message);
      const told = now.problems.filter((it) => it.code === code && !known.includes(it.message));
      // What is pushed before its chord is not heard under the chord that it sounds against.
      if (code === "missing-guide-tone" && text.includes("!")) continue;
      // Where the right hand rests, or a pickup is struck over what it holds, the chord is nobody's to fill.
      if (code === "missing-guide-tone" && told.every(({ span }) => isUnfilled(now, span.start))) continue;
      const messages = told.map(({ message, span }) => `${sliceOf(now.text, span)}: ${message}`).join("\n");
      expect(count(now, code), `${messages}\n${now.text}`).toBeLessThanOrEqual(count(before, code));
    }
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
