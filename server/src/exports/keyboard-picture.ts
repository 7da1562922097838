import type { Finger, Hand } from "../keyboard/hand.js";
import { isBlack, placeOf, whiteKeyWidth } from "../keyboard/key-place.js";
import { highestKey, lowestKey } from "../keyboard/keyboard-range.js";
import { prettyName } from "../theory/note-name.js";
import { octaveOf, type Pitch, prettyPitch } from "../theory/pitch.js";
import { prettyNumber, type ToneNumber } from "../theory/tone-number.js";
import { box, type Drawing, type Point, type Shape } from "./drawing.js";

/** A key that a hand holds down. */
export interface PicturedKey {
  readonly pitch: Pitch;
  readonly hand: Hand;
  /** Its number in the chord; `undefined` without a chord. */
  readonly number: ToneNumber | undefined;
  /** `undefined` where the hand can't hold the grip, so that no finger has a key. */
  readonly finger: Finger | undefined;
  /** It was struck before and is held over. */
  readonly isHeldOver: boolean;
}

/** `print` is black on white paper without greys that a copier would lose. */
export type PictureTheme = "light" | "dark" | "high contrast" | "print";

interface Colours {
  readonly white: string;
  readonly black: string;
  /** Names and numbers on keys, and note heads. */
  readonly ink: string;
  /** Fingers, brackets and octaves beside the keys. */
  readonly beside: string;
  readonly rightShade: string;
  /** The lines that shade the left hand's keys. */
  readonly leftShade: string;
}

/**
 * A keyboard's own white and black, and ink. Every text has at least 7 to 1 against what lies behind it, which is
 * counted in the tests (WCAG 2.2, 1.4.6). No colour says anything that a shape or a word doesn't say.
 */
const themes: Readonly<Record<PictureTheme, Colours>> = {
  light: {
    white: "#ffffff",
    black: "#2b2b2b",
    ink: "#111111",
    beside: "#333333",
    rightShade: "#d5d9de",
    leftShade: "#8a8f96",
  },
  dark: {
    white: "#d9d9d4",
    black: "#101010",
    ink: "#0a0a0a",
    beside: "#e4e4e4",
    rightShade: "#b4b9c0",
    leftShade: "#74787f",
  },
  "high contrast": {
    white: "#ffffff",
    black: "#000000",
    ink: "#000000",
    beside: "#ffffff",
    rightShade: "#ffffff",
    leftShade: "#000000",
  },
  print: {
    white: "#ffffff",
    black: "#000000",
    ink: "#000000",
    beside: "#000000",
    rightShade: "#e2e2e2",
    leftShade: "#777777",
  },
};

/** The ground behind a picture that it is drawn for; a picture has none of its own. */
export const groundOf: Readonly<Record<PictureTheme, string>> = {
  light: "#ffffff",
  dark: "#1f1f1f",
  "high contrast": "#000000",
  print: "#ffffff",
};

/** Points. A white key is a little over half as long as it is on the instrument, where it measures 23.5 by 150 mm. */
const [whiteWidth, whiteLength, blackWidth, blackLength] = [20, 92, 14, 52];
/** The lines above and below the keys where fingers and brackets stand. */
const strip = 30;
const octaveLine = 12;
const margin = 1;
const fewestWhiteKeys = 15;

/**
 * The keys that both hands hold at a moment, on the stretch of the keyboard that they need: the right hand with round
 * note heads and its fingers and bracket above, the left with square ones and its fingers and bracket below, as
 * fingers stand in engraved music. The key is shaded, in lines for the left hand. `chord` is its name for the words.
 * A `frame` keeps pictures of one size; hands that play must be among its own.
 */
export function keyboardPicture(
  keys: readonly PicturedKey[],
  chord: string | undefined,
  theme: PictureTheme,
  frame?: PictureFrame,
): Drawing {
  const colours = themes[theme];
  // Of two hands on one key the right comes first, and the left adds its note head.
  const order: readonly Hand[] = ["right", "left"];
  const sorted = [...keys].sort(
    (a, b) => a.pitch.midi - b.pitch.midi || order.indexOf(a.hand) - order.indexOf(b.hand),
  );
  const range = rangeOf([...sorted.map(({ pitch }) => pitch.midi), ...(frame?.keys ?? [])].sort(ascending));
  const hands: readonly Hand[] = (["left", "right"] as const).filter((hand) =>
    sorted.some((it) => it.hand === hand),
  );
  const roomFor = (hand: Hand): number => ((frame?.hands ?? hands).includes(hand) ? strip : 0);
  const top = margin + roomFor("right");
  const board: Board = { ...range, top, colours };
  const below = top + whiteLength;
  const count = whiteKeysIn(range.first, range.last);
  return {
    width: count * whiteWidth + 2 * margin,
    height: below + octaveLine + roomFor("left") + margin,
    words: wordsOf(sorted, hands, chord),
    shapes: [
      ...emptyKeys(board, theme),
      ...layers(sorted.map((key) => heldKey(key, board, sorted))),
      ...octaveNames(board, below + octaveLine - 2),
      ...(hands.includes("right") ? handShapes("right", sorted, board, [top - 6, top - 18, top - 22]) : []),
      ...(hands.includes("left")
        ? handShapes("left", sorted, board, [
            below + octaveLine + 9,
            below + octaveLine + 14,
            below + octaveLine + 27,
          ])
        : []),
    ],
  };
}

/** What several pictures in one place share, so that nothing moves from one to the next but what is played. */
export interface PictureFrame {
  /** MIDI numbers that the keyboard reaches, whether they are down or not. */
  readonly keys: readonly number[];
  /** The hands that have their room above and below the keys. */
  readonly hands: readonly Hand[];
}

const ascending = (a: number, b: number): number => a - b;

interface Range {
  /** White keys, MIDI numbers. */
  readonly first: number;
  readonly last: number;
}

interface Board extends Range {
  readonly top: number;
  readonly colours: Colours;
}

/** From a C or an F to an E or a B, so that groups of black keys stay whole; two octaves at least. */
function rangeOf(keys: readonly number[]): Range {
  let first = down(keys[0] ?? middleC);
  let last = up(keys[keys.length - 1] ?? middleC);
  while (whiteKeysIn(first, last) < fewestWhiteKeys) {
    if (last < highestKey) last = up(last + 1);
    if (first > lowestKey && whiteKeysIn(first, last) < fewestWhiteKeys) first = down(first - 1);
  }
  return { first, last };
}

const middleC = 60;
const [c, e, f, b] = [0, 4, 5, 11];
const down = (midi: number): number =>
  midi <= lowestKey ? lowestKey : midi % 12 === c || midi % 12 === f ? midi : down(midi - 1);
const up = (midi: number): number =>
  midi >= highestKey ? highestKey : midi % 12 === e || midi % 12 === b ? midi : up(midi + 1);

const whiteKeysIn = (first: number, last: number): number =>
  (placeOf(last) - placeOf(first)) / whiteKeyWidth + 1;

/** The middle of a key. */
const middle = (midi: number, { first }: Range): number =>
  margin + ((placeOf(midi) - placeOf(first)) / whiteKeyWidth + 0.5) * whiteWidth;

const outline = (midi: number, board: Board): readonly Point[] => {
  const [width, length] = isBlack(midi) ? [blackWidth, blackLength] : [whiteWidth, whiteLength];
  return box(middle(midi, board) - width / 2, board.top, width, length);
};

function emptyKeys(board: Board, theme: PictureTheme): readonly Shape[] {
  const { first, last, top, colours } = board;
  const all = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  const white = all.filter((midi) => !isBlack(midi));
  const [left, right] = [margin, margin + white.length * whiteWidth];
  const between = white.slice(1).map((midi) => middle(midi, board) - whiteWidth / 2);
  return [
    {
      kind: "path",
      lines: [box(left, top, right - left, whiteLength)],
      closed: true,
      fill: colours.white,
      stroke: colours.black,
    },
    {
      kind: "path",
      lines: between.map((x) => [
        [x, top],
        [x, top + whiteLength],
      ]),
      closed: false,
      stroke: colours.black,
    },
    {
      kind: "path",
      lines: all.filter(isBlack).map((midi) => outline(midi, board)),
      closed: true,
      fill: colours.black,
      // On a dark ground the ends of black keys would run into one another.
      stroke: theme === "high contrast" ? colours.white : colours.black,
    },
  ];
}

/** Where the note head, the name and the number stand, from the near end of a white or a black key. */
const marks = {
  white: { head: 31, name: 17, number: 6 },
  black: { head: 29, name: 17, number: 7 },
};

/** What is drawn for one held key, one on top of the other. */
type Layers = readonly (readonly Shape[])[];

/** Layer by layer over all keys: what is painted alike stands together, and is written once. */
const layers = (keys: readonly Layers[]): readonly Shape[] =>
  Array.from({ length: Math.max(0, ...keys.map(({ length }) => length)) }, (_, i) =>
    keys.flatMap((key) => key[i] ?? []),
  ).flat();

function heldKey(key: PicturedKey, board: Board, all: readonly PicturedKey[]): Layers {
  const { hand, number, isHeldOver, pitch } = key;
  const { colours, top } = board;
  const black = isBlack(pitch.midi);
  const [width, length] = black ? [blackWidth, blackLength] : [whiteWidth, whiteLength];
  const x = middle(pitch.midi, board);
  const near = top + length;
  const marked = marks[black ? "black" : "white"];
  const isLeft = hand === "left";
  const isShared = all.some((it) => it !== key && it.pitch.midi === pitch.midi);
  const head = noteHead(hand, isShared ? x + (isLeft ? -4 : 4) : x, near - marked.head, colours, isHeldOver);
  // Both hands on one key: the right hand's shade, and both note heads beside one another.
  if (isShared && isLeft) return [[], [], [], [head]];
  const words = [{ text: prettyName(pitch.fifths), up: marked.name, size: black ? 8 : 9.5, bold: true }];
  if (number !== undefined)
    words.push({ text: prettyNumber(number), up: marked.number, size: black ? 7 : 8, bold: false });
  const ground: Shape = {
    kind: "path",
    lines: [black ? outline(pitch.midi, board) : lowerPart(pitch.midi, board)],
    closed: true,
    fill: isLeft ? colours.white : colours.rightShade,
    stroke: colours.black,
    strokeWidth: 1.5,
    dashed: isHeldOver,
  };
  const far = black ? top : top + blackLength + 1;
  return [
    [ground],
    isLeft ? [shading(x, far, near, width, colours)] : [],
    isLeft ? words.map(({ text, up, size }) => under(text, x, near - up, size, colours, width)) : [],
    [head],
    ...words.map(({ text, up, size, bold }): readonly Shape[] => [
      { kind: "text", at: [x, near - up], anchor: "middle", text, size, bold, fill: colours.ink },
    ]),
  ];
}

/** A white key's part nearer than the black keys, where there is room to write. */
const lowerPart = (midi: number, board: Board): readonly Point[] =>
  box(
    middle(midi, board) - whiteWidth / 2,
    board.top + blackLength + 1,
    whiteWidth,
    whiteLength - blackLength - 1,
  );

/** Slanting lines over a key, from its far end to its near one. */
function shading(x: number, far: number, near: number, width: number, { leftShade }: Colours): Shape {
  const [left, right] = [x - width / 2 + 1, x + width / 2 - 1];
  const [upper, lower] = [far + 1, near - 1];
  const lines: Point[][] = [];
  for (let start = upper + 2; start - (right - left) < lower; start += shadingStep) {
    // From (left, start) up to (right, start - width), cut where the key ends.
    const from: Point = start <= lower ? [left, start] : [left + start - lower, lower];
    const end = start - (right - left);
    const to: Point = end >= upper ? [right, end] : [right - (upper - end), upper];
    lines.push([from, to]);
  }
  return { kind: "path", lines, closed: false, stroke: leftShade };
}
const shadingStep = 4;

/** A clear ground for words on a shaded key. */
const under = (
  words: string,
  x: number,
  y: number,
  size: number,
  { white }: Colours,
  width: number,
): Shape => {
  const wide = Math.min(width - 2, words.length * size * 0.65 + 2);
  return { kind: "path", lines: [box(x - wide / 2, y - size * 0.8, wide, size)], closed: true, fill: white };
};

/** Round for the right hand, square for the left, and open where the tone is held over. */
function noteHead(hand: Hand, x: number, y: number, { ink, white }: Colours, isHeldOver: boolean): Shape {
  const paint = { fill: isHeldOver ? white : ink, stroke: ink, strokeWidth: 1.2 };
  if (hand === "right") return { kind: "oval", centre: [x, y], radii: [4.6, 3.2], turned: -20, ...paint };
  return { kind: "path", lines: [box(x - 3.4, y - 3.4, 6.8, 6.8)], closed: true, ...paint };
}

/** The octave behind each C: `C4` is middle C. */
const octaveNames = (board: Board, y: number): readonly Shape[] =>
  Array.from({ length: board.last - board.first + 1 }, (_, i) => board.first + i)
    .filter((midi) => midi % 12 === c)
    .map((midi) => ({
      kind: "text",
      at: [middle(midi, board), y],
      anchor: "middle",
      text: `C${octaveOf({ fifths: 0, midi })}`,
      size: 8,
      bold: false,
      fill: board.colours.beside,
    }));

/** A hand's fingers, its bracket, and its name; `fingers`, `bracket` and `name` are their heights. */
function handShapes(
  hand: Hand,
  keys: readonly PicturedKey[],
  board: Board,
  [fingers, bracket, name]: readonly [fingers: number, bracket: number, name: number],
): readonly Shape[] {
  const own = keys.filter((key) => key.hand === hand);
  const places = own.map(({ pitch }) => middle(pitch.midi, board));
  const { beside } = board.colours;
  const tip = hand === "right" ? 3 : -3;
  const [from, to] = [Math.min(...places) - 5, Math.max(...places) + 5];
  const centre = Math.max(margin + 20, Math.min((from + to) / 2, middle(board.last, board) - 10));
  return [
    ...own.flatMap(({ finger }, i): readonly Shape[] =>
      finger === undefined
        ? []
        : [
            {
              kind: "text",
              at: [places[i] as number, fingers],
              anchor: "middle",
              text: String(finger),
              size: 9.5,
              bold: true,
              fill: beside,
            },
          ],
    ),
    {
      kind: "path",
      lines: [
        [
          [from, bracket + tip],
          [from, bracket],
          [to, bracket],
          [to, bracket + tip],
        ],
      ],
      closed: false,
      stroke: beside,
    },
    {
      kind: "text",
      at: [centre, name],
      anchor: "middle",
      text: `${hand} hand`,
      size: 8,
      bold: false,
      fill: beside,
    },
  ];
}

/** `Cm9. Left hand: C2 (1, finger 5). Right hand: E♭4 (♭3, finger 1, held over), G4 (5, finger 2).` */
function wordsOf(keys: readonly PicturedKey[], hands: readonly Hand[], chord: string | undefined): string {
  const sentences = hands.map((hand) => {
    const own = keys.filter((key) => key.hand === hand).map(keyWords);
    return `${hand === "left" ? "Left" : "Right"} hand: ${own.join(", ")}.`;
  });
  return [chord === undefined ? "" : `${chord}.`, ...(hands.length > 0 ? sentences : ["No key is down."])]
    .filter((it) => it !== "")
    .join(" ");
}

function keyWords({ pitch, number, finger, isHeldOver }: PicturedKey): string {
  const more = [
    number === undefined ? "" : prettyNumber(number),
    finger === undefined ? "" : `finger ${finger}`,
    isHeldOver ? "held over" : "",
  ].filter((it) => it !== "");
  return prettyPitch(pitch) + (more.length > 0 ? ` (${more.join(", ")})` : "");
}
