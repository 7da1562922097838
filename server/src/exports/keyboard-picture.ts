import type { Finger, Hand } from "../keyboard/hand.js";
import { isBlack } from "../keyboard/key-place.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import { prettyName } from "../theory/note-name.js";
import { octaveOf, type Pitch, prettyPitch } from "../theory/pitch.js";
import { prettyNumber, type ToneNumber } from "../theory/tone-number.js";
import {
  type Board,
  hatching,
  type KeySizes,
  keysOf,
  middleOf,
  outlineOf,
  rangeAround,
  sizeOf,
  whiteKeysIn,
} from "./board.js";
import { box, type Drawing, type Point, type Shape } from "./drawing.js";
import { type PictureColours, pictureColours } from "./picture-colours.js";

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

export type PictureTheme = keyof typeof pictureColours;

/** The ground behind a picture that it is drawn for; a picture has none of its own. */
export const groundOf: Readonly<Record<PictureTheme, string>> = {
  light: "#ffffff",
  dark: "#1f1f1f",
  "high contrast": "#000000",
  print: "#ffffff",
};

/** A white key is a little over half as long as it is on the instrument, where it measures 23.5 by 150 mm. */
const sizes: KeySizes = { whiteWidth: 20, whiteLength: 92, blackWidth: 14, blackLength: 52 };
const { whiteWidth, whiteLength, blackLength } = sizes;
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
  const colours = pictureColours[theme];
  // Of two hands on one key the right comes first, and the left adds its note head.
  const order: readonly Hand[] = ["right", "left"];
  const sorted = keys
    .filter(({ pitch }) => isOnKeyboard(pitch.midi))
    .sort((a, b) => a.pitch.midi - b.pitch.midi || order.indexOf(a.hand) - order.indexOf(b.hand));
  const reached = [...sorted.map(({ pitch }) => pitch.midi), ...(frame?.keys ?? []).filter(isOnKeyboard)];
  const range = rangeAround(reached.sort(ascending), fewestWhiteKeys);
  const hands: readonly Hand[] = (["left", "right"] as const).filter((hand) =>
    sorted.some((it) => it.hand === hand),
  );
  const roomFor = (hand: Hand): number => ((frame?.hands ?? hands).includes(hand) ? strip : 0);
  const top = margin + roomFor("right");
  const board: Keyboard = { ...range, ...sizes, left: margin, top, colours };
  const below = top + whiteLength;
  const count = whiteKeysIn(range);
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

/** The pitch class of C. */
const c = 0;
const ascending = (a: number, b: number): number => a - b;

interface Keyboard extends Board {
  readonly colours: PictureColours;
}

function emptyKeys(board: Keyboard, theme: PictureTheme): readonly Shape[] {
  const { top, colours } = board;
  const all = keysOf(board);
  const white = all.filter((midi) => !isBlack(midi));
  const [left, right] = [margin, margin + white.length * whiteWidth];
  const between = white.slice(1).map((midi) => middleOf(midi, board) - whiteWidth / 2);
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
      lines: all.filter(isBlack).map((midi) => outlineOf(midi, board)),
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

function heldKey(key: PicturedKey, board: Keyboard, all: readonly PicturedKey[]): Layers {
  const { hand, number, isHeldOver, pitch } = key;
  const { colours, top } = board;
  const black = isBlack(pitch.midi);
  const [width, length] = sizeOf(pitch.midi, board);
  const x = middleOf(pitch.midi, board);
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
    lines: [black ? outlineOf(pitch.midi, board) : lowerPart(pitch.midi, board)],
    closed: true,
    fill: isLeft ? colours.white : colours.rightShade,
    stroke: colours.black,
    strokeWidth: 1.5,
    dashes: isHeldOver ? [2, 2] : undefined,
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
const lowerPart = (midi: number, board: Keyboard): readonly Point[] =>
  box(
    middleOf(midi, board) - whiteWidth / 2,
    board.top + blackLength + 1,
    whiteWidth,
    whiteLength - blackLength - 1,
  );

/** Slanting lines over a key, from its far end to its near one. */
const shading = (
  x: number,
  far: number,
  near: number,
  width: number,
  { leftShade }: PictureColours,
): Shape => ({
  kind: "path",
  lines: hatching([x - width / 2 + 1, x + width / 2 - 1], [far + 1, near - 1], 4),
  closed: false,
  stroke: leftShade,
});

/** A clear ground for words on a shaded key. */
const under = (
  words: string,
  x: number,
  y: number,
  size: number,
  { white }: PictureColours,
  width: number,
): Shape => {
  const wide = Math.min(width - 2, words.length * size * 0.65 + 2);
  return { kind: "path", lines: [box(x - wide / 2, y - size * 0.8, wide, size)], closed: true, fill: white };
};

/** Round for the right hand, square for the left, and open where the tone is held over. */
function noteHead(
  hand: Hand,
  x: number,
  y: number,
  { ink, white }: PictureColours,
  isHeldOver: boolean,
): Shape {
  const paint = { fill: isHeldOver ? white : ink, stroke: ink, strokeWidth: 1.2 };
  if (hand === "right") return { kind: "oval", centre: [x, y], radii: [4.6, 3.2], turned: -20, ...paint };
  return { kind: "path", lines: [box(x - 3.4, y - 3.4, 6.8, 6.8)], closed: true, ...paint };
}

/** The octave behind each C: `C4` is middle C. */
const octaveNames = (board: Keyboard, y: number): readonly Shape[] =>
  keysOf(board)
    .filter((midi) => midi % 12 === c)
    .map((midi) => ({
      kind: "text",
      at: [middleOf(midi, board), y],
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
  board: Keyboard,
  [fingers, bracket, name]: readonly [fingers: number, bracket: number, name: number],
): readonly Shape[] {
  const own = keys.filter((key) => key.hand === hand);
  const places = own.map(({ pitch }) => middleOf(pitch.midi, board));
  const { beside } = board.colours;
  const tip = hand === "right" ? 3 : -3;
  const [from, to] = [Math.min(...places) - 5, Math.max(...places) + 5];
  const centre = Math.max(margin + 20, Math.min((from + to) / 2, middleOf(board.last, board) - 10));
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
