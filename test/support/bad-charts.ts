const part = (i: number): string => `section Part ${i}
chords  | 1     | 4maj7 | 5:7sus 5:7  |
right   | 3+5+1 | 3+5+7 | 4+b7+9 3+b7 |

`;
/** A chart of at least so many bytes. */
export const chartOf = (bytes: number): string =>
  `title   Long Road\n\n${Array.from({ length: Math.ceil(bytes / part(1000).length) }, (_, i) => part(i)).join("")}`;

/** What no player would write, as texts or as bytes, by what is wrong with it. */
export const badCharts: ReadonlyArray<readonly [name: string, content: string | Uint8Array]> = [
  ["nothing at all", ""],
  ["a byte order mark alone", "\ufeff"],
  ["white space", " \t\r\n\r\n  "],
  ["NUL bytes", "\0key\0 C\nchords | \0 | 1\0 |\n\0"],
  ["bytes that are not UTF-8", new Uint8Array([0x6b, 0x65, 0x79, 0x20, 0xff, 0xfe, 0x0a])],
  ["UTF-16", new Uint8Array(Buffer.from("\ufeffkey C\nchords | 1 |\n", "utf16le"))],
  ["one line of 100,000 characters", `right | ${"3+5+1 ".repeat(16_667)}|\n`],
  ["one word of 100,000 characters", `chords | ${"m".repeat(100_000)} |\n`],
  ["20,000 empty bars", `chords ${"|".repeat(20_000)}\nleft ${"| ".repeat(20_000)}\n`],
  ["10,000 parentheses that open", `right | ${"(".repeat(10_000)} 1 |\n`],
  ["10,000 parentheses that close", `right | 1 ${")".repeat(10_000)} |\n`],
  ["10,000 parentheses with spaces", `right | ${"( ".repeat(10_000)}1 ${") ".repeat(10_000)}|\n`],
  ["mixed line ends", `key C\r\r\nchords | 1 |\rright | 3 |\n\rleft | 1 |\r\n`],
  [
    "absurd numbers",
    "time 0/0\ntime 4/1000000\ntempo 1e999\nreach 99999999999999999999\nform A x1000000\n\nsection A\nchords |: 1 :|x1000000 99999 |\nright from C99999999999 | C-1+D12345678901234567890 |\n",
  ],
  [
    "names of the engine's own",
    "title __proto__\nform __proto__ constructor toString\n\nsection __proto__\nplay constructor\nchords | __proto__ | constructor |\nsection constructor\n__proto__ | 1 |\nwords | hasOwnProperty |\n",
  ],
  ["a section that plays itself", "section A\nplay A\nchords | 1 |\nplay A x99\n"],
  [
    "sections that play each other very often",
    `${Array.from({ length: 30 }, (_, i) => `section S${i}\nchords | 1 |\nplay S${i + 1} x99\nplay S${i + 1} x99\n`).join("\n")}form S0 x99\n`,
  ],
  ["groups in groups", `right | ${"(".repeat(60)}1 2${")".repeat(60)} |\n`],
  ["half a surrogate pair", new Uint8Array([0x6b, 0xed, 0xa0, 0x80])],
];
