const slots = (count: number): string => Array.from({ length: count }, (_, i) => "CDEFG"[i % 5]).join(" ");
const markup = `<script>alert("x")</script> & ]]> <!-- ' --> &lt; &#0; <?xml?>`;
const primes = [3, 5, 7, 11, 13, 17, 19, 23];

/** Charts that nobody writes and that a file made of them must withstand: a name, and the text. */
export const hostileCharts: ReadonlyArray<readonly [name: string, text: string]> = [
  ["nothing", ""],
  ["a title alone", "title Alone\n"],
  ["only words", "words | on- ly words | and more |\nwords | a second | verse |\n"],
  ["only chords", "chords | 1 r NC | / | 4 / 5:7 |\n"],
  ["only a cue", "cue | hold | |\n"],
  ["chords that can't be read", "chords | zz yy | 1 |\nright | qq | 3 |\n"],
  [
    "markup in every text",
    `title ${markup}\nby ${markup}\nnote ${markup}\nsection ${markup}\nchords | 1 ${markup} |\nlead | 1 2 |\nwords | ${markup} |\ncue | ${markup} |\nright | C |\n`,
  ],
  ["5,000 bars", `key C\nright | ${Array.from({ length: 5000 }, () => "C E G B").join(" | ")} |\n`],
  ["bars of 64 slots", `key C\nright | ${slots(64)} | ${slots(64)} |\nleft | ${slots(64)} |\n`],
  ["a bar of 4,099 slots", `key C\nright | ${slots(4099)} |\nleft | ${slots(4096)} |\n`],
  ["a bar of 65,537 slots", `key C\nright | ${slots(65_537)} |\n`],
  ["a tuplet of every kind in one bar", `right | ${primes.map((n) => `(${slots(n)})`).join(" ")} |\n`],
  [
    "tuplets four deep",
    "right | (C (D (E (F G A) B) C) D) E F |\nleft | (C D (E F G A (B C D) E F)) G A |\n",
  ],
  ["a tuplet of rests", "right | (r r C) (r C r) r r | (- r r) C C C |\n"],
  ["40 verses", `key C\nsection A\nlead | 1 2 |\n${"words | la lo |\n".repeat(40)}form A x50\n`],
  [
    "control signs and emoji in names",
    "title a\u0000b\u001b[31m😀\u202e\nsection \u0007😀\nlead | 1 |\nwords | \u0008é |\n",
  ],
  ["half a sign", "title \ud83d broken\nsection \udc00\nlead | 1 |\nwords | \ud83d |\n"],
  ["what no XML can hold", "title a\ufffeb\uffffc\u0001\nsection \ufffe\nright | C |\ncue | \uffff |\n"],
  ["a very long title", `title ${"long ".repeat(20_000)}\nright | C |\n`],
  [
    "the slowest meters",
    "time 99/1\ntempo 1\nright | C |\nsection B\ntime 1/64\ntempo 999\nright | C C C |\nfeel shuffle\nright | C D |\n",
  ],
  [
    "keys far out",
    "key B#\nchords | 1 | b7/#4 |\nright | Cbb0 Bx9 |\nsection B\nkey Fbb\nright | C |\nform B up half B in Fx\n",
  ],
  ["notes that no paper can name", "right | C-1 C10 C0+C11 | <<<<<<<<<<C~D >>>>>>>>>>C |\n"],
  ["many signs on one name", "right | Cbbbbb4 F#####4 Bxxx4 |\nchords | Cbbbb7/F#### | 1 |\n"],
  ["one key twice in a stack", "right | C4+C4+Dbb4 _C4+C4 | ~C4+C4 C4~C4 |\n"],
  ["sections in a circle", "section A\nplay B\nright | C |\nsection B\nplay A\nright | D |\n"],
  ["a pickup longer than the song", "right C D E F G A B C D E F G | C |\n"],
  ["a pickup of sixty bars", `time 2/4\nright ${slots(119)} | C |\n`],
  ["repeats that don't close", "right |: C | 1. D | 2. E |: F :| 2. G || 1. A :|\n"],
  ["repeats in each other", "right |: C :| D :| E | 1. F :| G | 2. A :|x9 B :|\n"],
  ["a repeat of ninety-nine", "right |: C | 1. D :| x99 2. E |\nleft | C | - | - |\n"],
];
