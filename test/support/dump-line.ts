import { parse } from "../../server/src/syntax/parse.js";
import type {
  BarLine,
  FormItem,
  Line,
  MoveText,
  OriginalText,
  RootText,
  Slot,
  SlotContent,
  Statement,
  ToneName,
  ToneText,
} from "../../server/src/syntax/tree.js";
import type { Span } from "../../server/src/text/span.js";
import { nameOf } from "../../server/src/theory/note-name.js";

/**
 * What the parser makes of one line: its statement, put together again from the tree's fields, and under it the line
 * with each problem at its place.
 *
 *     chords 67 3
 *     chords | 67 3 |
 *              ^^ run-together: “67” is read as 6:7. … → 6:7
 */
export function dumpLine(text: string): string {
  const line = parse(text).lines[0] as Line;
  const problems = line.problems.map(({ code, message, span, fixes }) => {
    const fixed = fixes.map(({ edits }) => applied(text, edits)).map((it) => ` → ${it.trimEnd()}`);
    return `${" ".repeat(span.start)}${"^".repeat(Math.max(1, span.end - span.start))} ${code}: ${message}${fixed.join("")}`;
  });
  return [statementText(line.statement, line.text), ...problems].join("\n");
}

function applied(text: string, edits: readonly { span: Span; text: string }[]): string {
  return [...edits]
    .sort((a, b) => b.span.start - a.span.start)
    .reduce((sofar, { span, text: now }) => sofar.slice(0, span.start) + now + sofar.slice(span.end), text);
}

const signs = (alter: number): string => (alter < 0 ? "b".repeat(-alter) : "#".repeat(alter));
const toneName = (name: ToneName): string =>
  name.kind === "number" ? signs(name.alter) + name.number : nameOf(name.fifths) + (name.octave ?? "");
const octaves = (sum: number): string => (sum < 0 ? "<".repeat(-sum) : ">".repeat(sum));

function toneText(tone: ToneText): string {
  const counts = tone.counts === undefined ? "" : tone.counts === "key" ? "k" : "c";
  const grace = tone.grace === undefined ? "" : `${toneName(tone.grace)}~`;
  return `${grace}${tone.held ? "_" : ""}${octaves(tone.octaves)}${counts}${toneName(tone.name)}`;
}

const rootText = (root: RootText): string =>
  root.kind === "degree" ? `${signs(root.alter)}${root.degree}` : nameOf(root.fifths);

function contentText(content: SlotContent): string {
  switch (content.kind) {
    case "stack":
      return `${content.pushed ? "!" : ""}${content.rolled ? "~" : ""}${content.tones.map(toneText).join("+")}`;
    case "chord": {
      const quality = content.quality.text === "" ? "" : `{${content.quality.text}}`;
      return `${rootText(content.root)}${content.colon ? ":" : ""}${quality}${content.bass ? `/${rootText(content.bass)}` : ""}`;
    }
    case "bass":
      return `/${rootText(content.bass)}`;
    case "word":
      return `"${content.text}"`;
    default:
      return content.kind;
  }
}

const slotText = (slot: Slot): string =>
  slot.kind === "leaf"
    ? contentText(slot.content)
    : `${octaves(slot.octaves)}( ${slot.slots.map(slotText).join(" ")} )`;

const barLineText = ({ starts, ends, double, times, timesSpan }: BarLine): string =>
  `${ends ? ":" : ""}${double ? "||" : "|"}${starts ? ":" : ""}${timesSpan === undefined ? "" : `x${times}`}`;

const originalText = (original: OriginalText | undefined): string =>
  original === undefined ? "" : ` (original ${nameOf(original.tonic.fifths)})`;

function moveText(move: MoveText, text: string): string {
  if (move.kind === "by") return ` by ${move.halfSteps}`;
  return ` in ${nameOf(move.tonic.fifths)} ${move.mode ?? "-"} «${slice(text, move.keySpan)}»${originalText(move.original)}`;
}

const itemText = (item: FormItem, text: string): string =>
  `[${item.name}${item.times === 1 ? "" : ` x${item.times}`}${item.move === undefined ? "" : moveText(item.move, text)}]`;

const slice = (text: string, { start, end }: Span): string => text.slice(start, end);

function statementText(it: Statement, text: string): string {
  switch (it.kind) {
    case "text":
      return `${it.word} «${it.value}»`;
    case "key":
      return `key ${it.tonic === undefined ? "?" : nameOf(it.tonic.fifths)} ${it.mode} «${slice(text, it.keySpan)}»${originalText(it.original)}`;
    case "time":
      return `time ${it.value === undefined ? "?" : `${it.value.beats}/${it.value.unit}`}`;
    case "tempo":
    case "feel":
      return `${it.kind} ${it.value ?? "?"}`;
    case "reach":
      return `reach left ${it.left ?? "?"} right ${it.right ?? "?"}`;
    case "form":
      return `form ${it.items.map((item) => itemText(item, text)).join(" ")}`;
    case "use":
      return `use ${it.path === undefined ? "?" : `«${it.path}»`}`;
    case "section":
      return `section «${it.name}»`;
    case "lands":
      return `lands ${it.degree === undefined ? "?" : signs(it.degree.alter) + it.degree.degree}`;
    case "play":
      return `play ${it.item === undefined ? "?" : itemText(it.item, text)}`;
    case "row": {
      const from =
        it.from === undefined ? "" : ` from ${nameOf(it.from.pitch.fifths)}${it.from.pitch.octave}`;
      const pickup = it.pickup.map((slot) => ` ${slotText(slot)}`).join("");
      const bars = it.bars.map(
        ({ open, ending, slots }) =>
          ` ${barLineText(open)}${ending ? ` ${ending.number}.` : ""}${slots.map((slot) => ` ${slotText(slot)}`).join("")}`,
      );
      const last = it.bars.at(-1);
      return `${it.row}${from}${pickup}${bars.join("")}${last?.close === undefined ? "" : ` ${barLineText(last.close)}`}`;
    }
    default:
      return it.kind;
  }
}
