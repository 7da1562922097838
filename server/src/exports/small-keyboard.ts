import type { Hand } from "../keyboard/hand.js";
import { isBlack } from "../keyboard/key-place.js";
import { isOnKeyboard } from "../keyboard/keyboard-range.js";
import { prettyPitch } from "../theory/pitch.js";
import { type Board, keysOf, middleOf, rangeAround, whiteKeysIn } from "./board.js";
import { box, type Drawing, type Point, type Shape } from "./drawing.js";
import type { PicturedKey, PictureTheme } from "./keyboard-picture.js";
import { type PictureColours, pictureColours } from "./picture-colours.js";

/** Points. A white key is a little shorter than it is on the instrument, where it measures 23.5 by 150 mm. */
const [whiteWidth, whiteLength, blackLength] = [5, 25, 14];
const margin = 1;
/** Above and below the keys, for the brackets. */
const strip = 3.5;
/** Between two white keys. */
const gap = 0.6;
/** White keys at least, and how wide all of them are at most. */
const [fewest, widest] = [7, 108];
const blackShare = 0.66;

/**
 * The keys that both hands hold at a moment, small enough to stand under a chord: 34 points high, 110 wide at most, and
 * as wide for the same stretch of keys whatever is held there. It has no words but those that say what it shows. Its
 * signs are the large picture's: round note heads on a plain shade for the right hand, square ones on hatching for the
 * left, open ones where a tone is held over, and a bracket above the right hand and below the left.
 */
export function smallKeyboard(keys: readonly PicturedKey[], theme: PictureTheme): Drawing {
  const colours = pictureColours[theme];
  const held = keys
    .filter(({ pitch }) => isOnKeyboard(pitch.midi))
    .sort((a, b) => a.pitch.midi - b.pitch.midi);
  const board = boardAround(held.map(({ pitch }) => pitch.midi));
  return {
    width: widthOf(board) + 2 * margin,
    height: whiteLength + 2 * (margin + strip),
    words: wordsOf(held),
    shapes: [
      ...whiteKeys(board, colours),
      blackKeys(board, colours),
      ...shades(held, board, colours),
      ...noteHeads(held, board, colours),
      ...brackets(held, board, colours),
    ],
  };
}

/** In steps of half a point, so that keys stand where pixels do. */
function boardAround(held: readonly number[]): Board {
  const range = rangeAround(held, fewest);
  const wide = Math.min(whiteWidth, Math.floor((2 * widest) / whiteKeysIn(range)) / 2);
  return {
    ...range,
    left: margin,
    top: margin + strip,
    whiteWidth: wide,
    whiteLength,
    blackWidth: rounded(wide * blackShare),
    blackLength,
  };
}

const widthOf = (board: Board): number => whiteKeysIn(board) * board.whiteWidth;
/** To tenths, as pictures are written: what adds up along the keyboard must not drift. */
const rounded = (n: number): number => Math.round(n * 10) / 10;

/** One broken line, as wide as the keys are long. */
function whiteKeys(board: Board, { white, black }: PictureColours): readonly Shape[] {
  const { left, top } = board;
  const width = widthOf(board);
  const y = top + whiteLength / 2;
  const edge = gap / 2;
  return [
    {
      kind: "path",
      lines: [box(left - edge, top - edge, width + gap, whiteLength + gap)],
      closed: true,
      fill: black,
    },
    {
      kind: "path",
      lines: [
        [
          [left + edge, y],
          [left + width - edge, y],
        ],
      ],
      closed: false,
      stroke: white,
      strokeWidth: whiteLength - gap,
      dashes: betweenWhite(board),
    },
  ];
}

/** Where a line stands between two white keys. Very thin keys have one only where no black key lies between them. */
function betweenWhite(board: Board): readonly number[] {
  const wide = board.whiteWidth;
  if (wide >= thin) return [wide - gap, gap];
  const dashes: number[] = [];
  let keys = 0;
  for (const midi of keysOf(board)
    .filter((it) => !isBlack(it))
    .slice(0, 7)) {
    keys++;
    if (isBlack(midi + 1)) continue;
    dashes.push(keys * wide - gap, gap);
    keys = 0;
  }
  return keys === 0 ? dashes : [...dashes, keys * wide, 0];
}
const thin = 3.5;

/** Another one, whose pattern comes back in each octave. */
function blackKeys(board: Board, { black }: PictureColours): Shape {
  const edges = keysOf(board)
    .filter(isBlack)
    .map((midi) => rounded(middleOf(midi, board) - board.blackWidth / 2));
  const [from = 0] = edges;
  const dashes = edges
    .slice(0, blackKeysInOctave)
    .flatMap((edge, i) => [
      board.blackWidth,
      (edges[i + 1] ?? from + 7 * board.whiteWidth) - edge - board.blackWidth,
    ]);
  const y = board.top + blackLength / 2;
  return {
    kind: "path",
    lines: [
      [
        [from, y],
        [(edges.at(-1) ?? from) + board.blackWidth, y],
      ],
    ],
    closed: false,
    stroke: black,
    strokeWidth: blackLength,
    dashes,
  };
}
const blackKeysInOctave = 5;

/** A line over each key that a hand holds, as wide as what it covers; the left hand's is broken, which hatches the key. */
function shades(held: readonly PicturedKey[], board: Board, colours: PictureColours): readonly Shape[] {
  const { white, rightShade, leftShade } = colours;
  return [false, true].flatMap((dark) => {
    const line = (hand: Hand, stroke: string, dashes?: readonly number[]): readonly Shape[] => {
      const places = placesOf(held, board).filter((it) => it.hand === hand && it.isBlack === dark);
      const [first] = places;
      // White on white says nothing.
      if (first === undefined || (stroke === white && !dark)) return [];
      const lines = places.map(({ x, far, near }): readonly Point[] => [
        [x, far],
        [x, near],
      ]);
      return [{ kind: "path", lines, closed: false, stroke, strokeWidth: first.width, dashes }];
    };
    return [...line("right", rightShade), ...line("left", white), ...line("left", leftShade, hatching)];
  });
}
/** Strokes across a key, and what is left clear between them. */
const hatching = [0.7, 1.3];

/** A key that a hand holds: what of it is shaded, around its middle `x`. */
interface Place {
  readonly hand: Hand;
  readonly isBlack: boolean;
  readonly isHeldOver: boolean;
  readonly x: number;
  readonly far: number;
  readonly near: number;
  readonly width: number;
}

/** A white key is shaded nearer than the black ones. */
const placesOf = (held: readonly PicturedKey[], board: Board): readonly Place[] =>
  held.map(({ pitch, hand, isHeldOver }) => {
    const dark = isBlack(pitch.midi);
    return {
      hand,
      isBlack: dark,
      isHeldOver,
      x: rounded(middleOf(pitch.midi, board)),
      far: board.top + (dark ? gap : blackLength + gap),
      near: board.top + (dark ? blackLength - gap : whiteLength - gap / 2),
      width: rounded(dark ? board.blackWidth - 2 * 0.5 : board.whiteWidth - gap),
    };
  });

/** What is painted alike comes one after the other, and is written once. */
function noteHeads(
  held: readonly PicturedKey[],
  board: Board,
  { ink, white }: PictureColours,
): readonly Shape[] {
  const places = placesOf(held, board);
  const size = Math.max(1.5, rounded(board.whiteWidth * 0.36));
  return (["right", "left"] as const).flatMap((hand) =>
    [false, true].flatMap((isHeldOver) =>
      places
        .filter((it) => it.hand === hand && it.isHeldOver === isHeldOver)
        .map(({ x, near, isBlack: dark }): Shape => {
          const isShared = places.some((it) => it.x === x && it.hand !== hand);
          const away = isShared ? (hand === "right" ? -2.4 : 2.4) : 0;
          const y = rounded(near - (dark ? 3.6 : 5.3) + away);
          const paint = { fill: isHeldOver ? white : ink, stroke: ink };
          if (hand === "right")
            return { kind: "oval", centre: [x, y], radii: [size, size], turned: 0, ...paint };
          const half = size - 0.1;
          return {
            kind: "path",
            lines: [box(x - half, y - half, 2 * half, 2 * half)],
            closed: true,
            ...paint,
          };
        }),
    ),
  );
}

function brackets(held: readonly PicturedKey[], board: Board, { beside }: PictureColours): readonly Shape[] {
  const near = board.top + whiteLength;
  const lines = (["right", "left"] as const).flatMap((hand): readonly (readonly Point[])[] => {
    const places = placesOf(held, board).filter((it) => it.hand === hand);
    const [lowest, highest] = [places[0], places.at(-1)];
    if (lowest === undefined || highest === undefined) return [];
    const [tip, y] = hand === "right" ? [board.top - 1.5, margin + 0.5] : [near + 1.5, near + strip + 0.5];
    const from = Math.max(0.5, lowest.x - 2);
    const to = Math.min(widthOf(board) + 2 * margin - 0.5, highest.x + 2);
    return [
      [
        [from, tip],
        [from, y],
        [to, y],
        [to, tip],
      ],
    ];
  });
  return lines.length === 0 ? [] : [{ kind: "path", lines, closed: false, stroke: beside }];
}

/** `Left hand: C2, B♭2. Right hand: E♭4, G4 (held), D5.` */
function wordsOf(held: readonly PicturedKey[]): string {
  const sentences = (["left", "right"] as const).flatMap((hand) => {
    const own = held.filter((key) => key.hand === hand);
    const names = own.map(({ pitch, isHeldOver }) => prettyPitch(pitch) + (isHeldOver ? " (held)" : ""));
    return own.length === 0 ? [] : [`${hand === "left" ? "Left" : "Right"} hand: ${names.join(", ")}.`];
  });
  return sentences.length === 0 ? "No key is down." : sentences.join(" ");
}
