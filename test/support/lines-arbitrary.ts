import fc from "fast-check";
import { tokens } from "../../grammar/tokens.js";

/** Bits that the language is made of, and some that it isn't. */
const bits = [
  ...'!~_<>kc+-/=%r|:();.,x \t"12345678900bb##♭♯ABCDEFGmi',
  ...Object.values(tokens).map(({ example }) => example.replace("\n", " ")),
  ..."|: :| :|x3 || :|: 1. 2. x2 NC from C4 (original Ab) in Db up half down whole sus maj7 m7b5 6/9 7(#9,b13)".split(
    " ",
  ),
  "  ",
  " | ",
  " | ",
  " ( ",
  " ) ",
  " ; ",
  "é",
  "😀",
  "\u00a0",
  "\u0000",
  "\uFEFF",
  "__proto__",
];

const firstWords =
  "title by note key time tempo feel reach form use section lands vamp play chords lead right left bass words cue".split(
    " ",
  );

const oneOf = (words: string): fc.Arbitrary<string> => fc.constantFrom(...words.split(" "));
const accidental = oneOf("b # ♭ ♯ bb ##");
const maybe = (it: fc.Arbitrary<string>): fc.Arbitrary<string> => fc.oneof(fc.constant(""), it);
const joined = (...parts: fc.Arbitrary<string>[]): fc.Arbitrary<string> =>
  fc.tuple(...parts).map((texts) => texts.join(""));
const listOf = (it: fc.Arbitrary<string>, between: string, most: number): fc.Arbitrary<string> =>
  fc.array(it, { minLength: 1, maxLength: most }).map((texts) => texts.join(between));

const letter = joined(oneOf("A B C D E F G"), maybe(accidental));
const degree = joined(maybe(accidental), oneOf("1 2 3 4 5 6 7"));
const quality = oneOf(
  "7 m m7 maj7 sus 9sus 13 6 69 6/9 m7b5 dim7 ° ø Δ + - 7(#9,b13) 7#5#9 m(maj7) add2 b9 alt 5 no3 ?",
);
const chord = fc.oneof(
  joined(
    degree,
    maybe(
      fc.oneof(
        quality,
        quality.map((it) => `:${it}`),
      ),
    ),
    maybe(degree.map((it) => `/${it}`)),
  ),
  joined(
    letter,
    maybe(
      fc.oneof(
        quality,
        quality.map((it) => `:${it}`),
      ),
    ),
    maybe(letter.map((it) => `/${it}`)),
  ),
  oneOf("/ // - % r NC = /7 /B 45 x3 1. c7 5;x"),
);
const tone = joined(
  maybe(oneOf("! ~ _ > < >> _> k c _>k >_")),
  fc.oneof(
    joined(maybe(accidental), oneOf("0 1 2 3 4 5 6 7 8 9 10 11 12 13")),
    joined(letter, maybe(oneOf("2 3 4 5"))),
  ),
  maybe(oneOf("~5 ~>b3 ~C")),
);
const notes = fc.oneof(listOf(tone, "+", 4), listOf(tone, "+", 4), oneOf("- r = % NC !r / e4 3+ + ? r3 5;x"));
const grouped = (slot: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  fc.oneof(
    { weight: 5, arbitrary: slot },
    { weight: 1, arbitrary: listOf(slot, " ", 3).map((it) => `( ${it} )`) },
    { weight: 1, arbitrary: listOf(slot, " ", 3).map((it) => `>(${it})`) },
    { weight: 1, arbitrary: oneOf("( ) (( ))") },
  );
const barLine = oneOf("| | | | || |: :| :|x3 :|: |:1.").map((it) => it.replace(":1.", " 1. "));
const row = (names: string, slot: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  joined(
    oneOf(names).map((it) => `${it} `),
    maybe(fc.oneof(listOf(slot, " ", 2), fc.constant("from C4 "), fc.constant("from "))),
    fc
      .array(
        joined(barLine, maybe(fc.constant(" ")), maybe(listOf(slot, " ", 4)), maybe(fc.constant("  "))),
        {
          minLength: 1,
          maxLength: 5,
        },
      )
      .map((bars) => bars.join("")),
    maybe(barLine),
    maybe(oneOf(";x  ;").map((it) => ` ${it} note`)),
  );
const name = oneOf('Verse Tag "Last_Verse" in up x2 A ;A "open').map((it) => it.replace("_", " "));
const key = joined(
  letter,
  maybe(oneOf("m _minor _major _dorian _Dorian minor _mayor").map((it) => it.replace("_", " "))),
  maybe(
    oneOf("_(original_Ab) (original_C) (original) _(original_Am) _(").map((it) => it.replaceAll("_", " ")),
  ),
);
const header = fc.oneof(
  joined(
    oneOf("title by note section").map((it) => `${it} `),
    listOf(fc.oneof(name, fc.constantFrom(...bits)), " ", 4),
  ),
  joined(fc.constant("key "), key),
  joined(
    fc.constant("time "),
    oneOf("4/4 3/4 12/8 0/0 4_/_4 / 4 4/5").map((it) => it.replaceAll("_", " ")),
  ),
  joined(
    oneOf("tempo feel reach lands vamp use").map((it) => `${it} `),
    maybe(oneOf('72 swing left_9_right_10 9 b7 1 "a.b" "a x -').map((it) => it.replaceAll("_", " "))),
  ),
  joined(
    oneOf("form play").map((it) => `${it} `),
    listOf(
      joined(
        name,
        maybe(
          fc.oneof(
            key.map((it) => ` in ${it}`),
            oneOf("x2 up half").map((it) => ` ${it}`),
            fc.constant(" up half x3"),
          ),
        ),
      ),
      " ",
      3,
    ),
  ),
);
const noise = listOf(fc.constantFrom(...bits), "", 30);

/** A line as a player may write it, or some way off. */
export const anyLine: fc.Arbitrary<string> = fc.oneof(
  { weight: 4, arbitrary: row("chords", grouped(chord)) },
  { weight: 4, arbitrary: row("right left lead bass", grouped(notes)) },
  {
    weight: 1,
    arbitrary: row("words cue", fc.oneof(chord, fc.constantFrom("Har-bour", "low", "_", "(soft)"))),
  },
  { weight: 4, arbitrary: header },
  {
    weight: 2,
    arbitrary: joined(
      fc.constantFrom(...firstWords),
      oneOf("_ ; | :|").map((it) => it.replace("_", " ")),
      noise,
    ),
  },
  { weight: 1, arbitrary: noise },
  {
    weight: 1,
    arbitrary: joined(maybe(fc.constantFrom(" ", "\t", "\uFEFF")), oneOf("; ;x Chords chrods | 1")),
  },
);

/** Lines with all kinds of line ends. */
export const anyText: fc.Arbitrary<string> = fc
  .array(fc.tuple(anyLine, fc.constantFrom("\n", "\n", "\n", "\r\n", "\r", "")), { maxLength: 30 })
  .map((all) => all.map(([line, end]) => line + end).join(""));
