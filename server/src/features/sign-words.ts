import { beatsInBar } from "../chart/bar-time.js";
import type { LocatedAs } from "../chart/located.js";
import type { Bar, Chart } from "../chart/model.js";
import { timesWords } from "../chart/times-words.js";
import { count } from "../text/count.js";
import { prettyChord } from "../theory/chord.js";
import { type ChordOptions, chordWords, doesWords } from "./chord-words.js";
import { type HoverText, saying } from "./hover-text.js";

/** A sign that is a slot in the chord row. */
export function chordSignWords(
  chart: Chart,
  place: LocatedAs<"chord-sign">,
  options: ChordOptions,
): HoverText {
  const { sign, events, placed, length, bar } = place;
  const [event] = events;
  const chord = event && prettyChord(event.chord);
  switch (sign) {
    case "NC":
      return saying(
        "No chord from here",
        "In the hands a number has nothing to count from; letters and k numbers are fine.",
      );
    case "r":
      return saying(
        "Stop time: the chord is silent",
        chord === undefined ? "" : `The hands may play on; their numbers go on counting from ${chord}.`,
      );
    case "%":
      return [
        ...saying("The bar before once more", events.length === 0 ? "No chord is struck in it." : ""),
        ...(events.length === 0
          ? []
          : [
              { kind: "list" as const, items: events.slice(0, 32).map((it) => doesWords(chart, placed, it)) },
            ]),
      ];
    default: {
      if (event === undefined || chord === undefined) {
        return saying("Goes on with the chord before", "There is none: write the chord.");
      }
      const [, ...rest] = chordWords(chart, placed, event, options);
      const isBeat = bar !== undefined && length !== undefined && beatOf(bar, length);
      return [
        {
          kind: "title",
          text: `${doesWords(chart, placed, event)} · ${isBeat ? "one more beat" : "goes on"}`,
        },
        ...rest,
      ];
    }
  }
}

const beatOf = ({ length, meter }: Bar, { n, d }: Bar["length"]): boolean =>
  n * length.d * beatsInBar(meter) === d * length.n;

/** A bar line: where it stands, and the repeat that starts or ends there. */
export function barLineWords({ barLine, before, after }: LocatedAs<"bar-line">): HoverText {
  const { starts, ends, double, times } = barLine;
  const between =
    before === undefined
      ? after === undefined
        ? ""
        : `Before bar ${after.index + 1}.`
      : after === undefined
        ? `After bar ${before.index + 1}, the last of the row.`
        : `Between bar ${before.index + 1} and bar ${after.index + 1}.`;
  const back = ends
    ? `${times === 2 ? "Back to |: once, so it is played twice" : `Played${timesWords(times)} in all`}. Without |: it goes back to the section's start.`
    : "";
  if (starts && ends) return saying("A repeat ends here, and the next one starts", back, between);
  if (starts) return saying("A repeat starts", "It goes to :| and back to here.", between);
  if (ends) return saying("A repeat ends", back, between);
  if (double) return saying("Double bar line", "It closes a part; a second ending ends here too.", between);
  return saying("Bar line", between);
}

export function endingWords({ ending, bar }: LocatedAs<"ending">): HoverText {
  const where = bar === undefined ? "" : `It starts with bar ${bar.index + 1}.`;
  return ending.number === 1
    ? saying("First ending", "Played every time but the last, then back to the repeat's start.", where)
    : saying(
        "Second ending",
        "Played the last time, in place of the first ending. It lasts to the next |:, || or the section's end.",
        where,
      );
}

export function groupWords({ group, row }: LocatedAs<"group">): HoverText {
  if (group === undefined) return saying("A group", "Several slots in the time of one.");
  const { octaves, slots } = group;
  const lifted =
    octaves === 0
      ? ""
      : `${octaves > 0 ? ">" : "<"} before it moves every slot inside ${octavesWords(octaves)}.`;
  const { row: name } = row;
  return saying(
    `${count(slots.length, "slot")} in the time of one`,
    lifted,
    name === "chords" ? "Several chords within one slot." : "",
  );
}

const octavesWords = (octaves: number): string =>
  `${Math.abs(octaves) === 1 ? "an octave" : `${Math.abs(octaves)} octaves`} ${octaves > 0 ? "up" : "down"}`;
