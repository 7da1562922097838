// Draws the walkthrough's pictures in the theme's own colours: `node client/media/draw-walkthrough.mjs`.
import { writeFileSync } from "node:fs";

const theme = {
  ground: "var(--vscode-editor-background, #ffffff)",
  ink: "var(--vscode-editor-foreground, #333333)",
  faint: "var(--vscode-descriptionForeground, #717171)",
  word: "var(--vscode-textLink-foreground, #006ab1)",
  line: "var(--vscode-widget-border, var(--vscode-contrastBorder, #c8c8c8))",
  panel: "var(--vscode-editorHoverWidget-background, #f3f3f3)",
  chosen: "var(--vscode-list-activeSelectionBackground, #0060c0)",
  chosenInk: "var(--vscode-list-activeSelectionForeground, #ffffff)",
  warning: "var(--vscode-editorWarning-foreground, #bf8803)",
};

const escaped = (text) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;");

/** Words at a place, in the theme's ink unless another colour is named. */
const words = (x, y, text, fill = theme.ink, extra = "") =>
  `<text x="${x}" y="${y}" fill="${fill}" xml:space="preserve"${extra}>${escaped(text)}</text>`;
const bold = ' font-weight="600"';
const plain = ' font-family="system-ui, sans-serif" font-size="14"';

const box = (x, y, width, height, fill, stroke = theme.line) =>
  `<rect x="${x}" y="${y}" width="${width}" height="${height}" rx="5" fill="${fill}" stroke="${stroke}"/>`;

/** A wavy line from `x` over `width`, just below the words on `y`. */
function wave(x, y, width) {
  const steps = Array.from({ length: Math.round(width / 4) }, (_, i) => `l4 ${i % 2 === 0 ? -3 : 3}`);
  return `<path d="M${x} ${y + 6}${steps.join("")}" fill="none" stroke="${theme.warning}" stroke-width="1.5"/>`;
}

/** Rows of a chart: the name in the theme's link colour, then the bars. */
const rows = (x, y, lines) =>
  lines.map(([name, bars], i) => words(x, y + i * 26, name, theme.word) + words(x + 86, y + i * 26, bars));

const picture = (name, shapes) =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 520 320" font-family="ui-monospace, Menlo, Consolas, monospace" font-size="16">
${[`<title>${name}</title>`, box(8, 8, 504, 304, theme.ground), ...shapes.flat()].map((it) => `  ${it}`).join("\n")}
</svg>
`;

const system = [
  ["chords", "| 1add2        | 4maj7        |"],
  ["lead", "| 5 -   3      | 6 -   5      |"],
  ["right", "| 3+5+2        | 3+5+7        |"],
  ["left", "| 1+5          | 1+5          |"],
];

/** The pictures by their file names. */
export const pictures = new Map([
  [
    "walkthrough-open.svg",
    picture("Rows of a chart", [
      rows(36, 56, [
        ["title", "First Light on the Sill"],
        ["key", "E♭ major"],
      ]),
      rows(36, 140, system),
      words(36, 270, "the chords, the melody, and what each hand holds", theme.faint, plain),
    ]),
  ],
  [
    "walkthrough-read.svg",
    picture("What sounds at a tone", [
      rows(36, 60, [
        ["chords", "| 1add2   1/3  |"],
        ["right", "| 3+5+2        |"],
      ]),
      box(136, 74, 20, 22, "none", theme.word),
      box(136, 110, 340, 148, theme.panel),
      words(154, 140, "G3, the 3 of E♭add2 · right hand", theme.ink, plain + bold),
      words(154, 166, "Major third, a guide tone. E♭add2, the 1.", theme.ink, plain),
      words(154, 194, "right hand", theme.faint, plain),
      words(240, 194, "G3 B♭3 F4", theme.ink, plain),
      words(154, 216, "left hand", theme.faint, plain),
      words(240, 216, "E♭2 B♭2", theme.ink, plain),
      words(154, 242, "Bar 1, beat 1, for 4 beats.", theme.ink, plain),
    ]),
  ],
  [
    "walkthrough-mend.svg",
    picture("A tone that fights its chord, and the offer", [
      rows(36, 60, [
        ["chords", "| 4maj7   5:9sus   |"],
        ["right", "| 3+5+7   b7+3+5   |"],
      ]),
      wave(247, 86, 12),
      words(40, 128, "The 3 (D) contradicts B♭9sus, which has the 4 there.", theme.faint, plain),
      box(122, 150, 300, 36, theme.panel),
      box(126, 154, 292, 28, theme.chosen, "none"),
      words(140, 173, "Play the 4 (E♭)", theme.chosenInk, plain),
      words(36, 270, "Put the cursor on the wavy line and take the offer.", theme.faint, plain),
    ]),
  ],
  [
    "walkthrough-write.svg",
    picture("A list of likely chords with their notes", [
      rows(36, 60, [["chords", "| 1add2   | 2:"]]),
      `<rect x="255" y="44" width="2" height="20" fill="${theme.ink}"/>`,
      box(235, 72, 252, 150, theme.panel),
      box(239, 76, 244, 30, theme.chosen, "none"),
      words(252, 96, "2:m7", theme.chosenInk),
      words(336, 96, "Fm7: F A♭ C E♭", theme.chosenInk, plain),
      words(252, 130, "2:7sus"),
      words(252, 164, "2:9sus"),
      words(252, 198, "2:m9"),
      words(36, 270, "What is likely there, with its notes in this key.", theme.faint, plain),
    ]),
  ],
  [
    "walkthrough-move.svg",
    picture("One chart in two keys", [
      words(36, 56, "key", theme.word),
      words(122, 56, "E♭ major"),
      `<path d="M214 50h58m-9 -7l9 7l-9 7" fill="none" stroke="${theme.word}" stroke-width="2"/>`,
      words(290, 56, "G major", theme.ink, bold),
      rows(36, 96, system),
      box(122, 196, 366, 92, theme.panel),
      words(138, 220, "F major", theme.ink, plain),
      words(240, 220, "melody from A4 to D5", theme.faint, plain),
      box(126, 230, 358, 26, theme.chosen, "none"),
      words(138, 248, "G major", theme.chosenInk, plain),
      words(240, 248, "melody from B4 to E5", theme.chosenInk, plain),
      words(138, 276, "A♭ major", theme.ink, plain),
      words(240, 276, "melody from C5 to F5", theme.faint, plain),
    ]),
  ],
]);

if (process.argv[1]?.endsWith("draw-walkthrough.mjs")) {
  for (const [name, text] of pictures) writeFileSync(new URL(name, import.meta.url), text);
}
