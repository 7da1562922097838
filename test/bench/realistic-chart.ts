/** A stream of numbers from 0 up to 1, the same for the same seed (Park and Miller's minimal standard generator, 1988). */
function numbersFrom(seed: number): () => number {
  let state = (seed % 2_147_483_646) + 1;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

const words = (text: string): readonly string[] => text.split(" ");

/** Chords as players write them, each with grips of the right hand that say it. */
const chords: readonly (readonly [chord: string, grips: readonly string[]])[] = [
  ["1", words("3+5+1 5+1+3 1+3+5 3+5+9 ~3+5+1")],
  ["4", words("3+5+1 5+1+3 3+5+9 1+3+5")],
  ["5:7", words("3+b7 b7+3+5 3+b7+9 b7+9+3 3+b7+13")],
  ["6m", words("b3+5+1 5+1+b3 1+b3+5 b3+5+9")],
  ["2m7", words("b3+5+b7 b7+b3+5 b3+b7+9 5+b7+b3")],
  ["1/3", words("3+5+1 5+1+3 1+3+5")],
  ["4maj7", words("3+5+7 7+3+5 3+7+9 5+7+3")],
  ["5:7sus", words("4+b7+9 b7+4+5 4+5+b7")],
  ["5:9sus", words("b7+9+4 4+b7+9")],
  ["6:7", words("3+b7 b7+3+5 3+b7+b9 b7+b9+3")],
  ["2:9", words("3+b7+9 b7+9+3 ~3+b7+9")],
  ["b7", words("3+5+1 5+1+3 1+3+5")],
  ["3m7", words("b3+5+b7 b7+b3+5 b3+b7+11")],
  ["4m6", words("b3+5+6 6+1+b3 b3+6+9")],
  ["1:7/3", words("3+b7+1 b7+3+5 5+b7+3")],
  ["5/7", words("3+5+1 5+1+3")],
  ["4/5", words("3+5+1 5+1+3 1+3+5")],
  ["2:7b9", words("3+b7+b9 b7+b9+3")],
];
/** Half steps of degrees and numbers above their 1. */
const halfSteps = [0, 2, 4, 5, 7, 9, 11];
const above = (text: string): number => {
  const [, signs = "", number = "1"] = /([b#]*)([0-9]+)/.exec(text) ?? [];
  const natural = halfSteps[(Number(number) - 1) % 7] ?? 0;
  return natural + (signs.startsWith("b") ? -signs.length : signs.length);
};
/** Where a grip's lowest tone lies in the home octave of the right hand, which starts nine half steps below the 1. */
const placeOf = (chord: string, grip: string): number => (((above(chord) + above(grip) + 9) % 12) + 12) % 12;

const syllables = words("light ri- ver sings low and slow we go the hill o- ver stone home long road");
const sectionNames = words("Verse Refrain Bridge Verse Tag Verse Refrain Turn Amen Vamp");
/** Slips of the pen, as they stand in any notebook. */
const slips: readonly (readonly [right: RegExp, wrong: string])[] = [
  [/ 6m /, " 67 "],
  [/3\+b7/, "5+b7"],
  [/ 1 /, " 1 / / "],
  [/maj7/, "mja7"],
];

/** A system's rows in the hands: they go together. */
interface Phrase {
  readonly chords: string;
  readonly right: string;
  readonly left: string;
}
interface Melody {
  readonly row: string;
  /** Sounded notes in each bar. */
  readonly notes: readonly number[];
}

/**
 * A chart of so many lines as a busy player's notebook would hold: song after song, sections of 8 to 40 lines, whose
 * systems repeat rows within a section and between the sections of a song. Another seed gives other songs of the
 * same kind.
 */
export function realisticChart(lines: number, seed: number): string {
  const next = numbersFrom(seed);
  const below = (count: number): number => Math.floor(next() * count);
  const pick = <T>(items: readonly T[]): T => items[below(items.length)] as T;
  const row = (bars: readonly string[]): string => `| ${bars.join(" | ")} |`;

  /** Where the right hand's lowest finger is. */
  let hand = 6;
  /** A grip that lies near the one before it, as hands choose. */
  const gripOf = ([chord, grips]: (typeof chords)[number]): string => {
    const far = (grip: string): number => Math.abs(placeOf(chord, grip) - hand);
    const near = [...grips].sort((a, b) => far(a) - far(b));
    const grip = near[below(2)] as string;
    hand = placeOf(chord, grip);
    return grip;
  };

  const phrase = (): Phrase => {
    const bars = Array.from({ length: 4 }, () => {
      const count = pick([1, 1, 2, 2, 2, 4]);
      return Array.from({ length: count }, () => pick(chords));
    });
    const right = bars.map((bar) =>
      bar
        .map((chord) => {
          const grip = gripOf(chord);
          if (bar.length === 4 || below(3) > 0) return grip;
          return pick([
            `${grip} -`,
            `${grip} =`,
            `(r ${grip}) =`,
            `${grip} (- ${gripOf(chord)})`,
            `${grip} ${gripOf(chord)}`,
          ]);
        })
        .join(" "),
    );
    // Every chord of a bar has as many slots as the others.
    const even = right.map((text, i) => {
      const count = bars[i]?.length ?? 1;
      const slots = text.match(/\([^)]*\)|[^ ]+/g)?.length ?? 1;
      return slots === count || slots === 2 * count
        ? text
        : (bars[i] ?? []).map(([, grips]) => grips[0]).join(" ");
    });
    const left = bars.map((bar) => {
      if (bar.length === 1) return pick([bar[0]?.[0] === "1" ? "1+5" : "1", "0", "0 -", "<1+1", "0 - - 0"]);
      return bar.map(() => pick(["0", "0", "1", "<1+1"])).join(" ");
    });
    return {
      chords: row(bars.map((bar) => bar.map(([chord]) => chord).join(" "))),
      right: row(even),
      left: row(left),
    };
  };

  const melody = (): Melody => {
    let place = 1 + below(3);
    const notes: number[] = [];
    const bars = Array.from({ length: 4 }, (_, bar) => {
      // A melody comes back to the middle of its octave, where the next one starts.
      const [least, most] = bar < 3 ? [-3, 9] : [0, 5];
      let count = 0;
      const slots = Array.from({ length: pick([2, 4, 4, 8]) }, (_, i) => {
        if (i > 0 && below(4) === 0) return "-";
        count++;
        place = Math.max(least, Math.min(most, place + below(5) - 2));
        const octave = Math.floor(place / 7);
        return `${octave > 0 ? ">" : octave < 0 ? "<" : ""}${place - 7 * octave + 1}`;
      });
      notes.push(count);
      return slots.join(" ");
    });
    return { row: row(bars), notes };
  };

  const text: string[] = [
    "title   A busy year",
    "key     Eb major",
    "time    4/4",
    "tempo   72",
    "reach   9",
    "",
  ];
  const names: string[] = [];
  while (text.length + names.length / 8 < lines - 2) {
    const phrases = Array.from({ length: 4 }, phrase);
    const melodies = Array.from({ length: 6 }, melody);
    for (const kind of sectionNames.slice(0, 4 + below(6))) {
      const name = `${kind} ${names.length + 1}`;
      names.push(`"${name}"`);
      text.push(`section ${name}`);
      if (kind === "Bridge") text.push(`key ${pick(["Ab", "Bb", "F", "Db"])}`);
      if (kind === "Vamp") text.push("vamp");
      const systems = 1 + below(6);
      const first = below(4);
      for (let i = 0; i < systems; i++) {
        // Systems go in pairs, as the lines of a verse do.
        const hands = phrases[(first + (i % 2)) % 4] as Phrase;
        const sung = pick(melodies);
        const slip = below(25) === 0 ? pick(slips) : undefined;
        const written = (it: string): string => (slip === undefined ? it : it.replace(slip[0], slip[1]));
        text.push(`chords ${written(hands.chords)}`, `lead ${sung.row}`);
        text.push(`right ${written(hands.right)}`, `left ${hands.left}`);
        if (kind !== "Turn") {
          const verse = sung.notes.map((count) =>
            Array.from({ length: count }, () => pick(syllables)).join(" "),
          );
          text.push(`words ${row(verse)}`);
        }
        text.push("");
      }
      if (text.length + names.length / 8 >= lines - 2) break;
    }
  }
  const form: string[] = [];
  for (let i = 0; i < names.length; i += 8) form.push(`form ${names.slice(i, i + 8).join(" ")}`);
  return [...text.slice(0, lines - form.length), ...form, ""].join("\n");
}

/** How many of a text's lines are one of a kind, from 0 to 1. */
export function distinctShare(text: string): number {
  const lines = text.split("\n");
  return new Set(lines).size / lines.length;
}
