import type { Role } from "./chord-tones.js";

/** The trade's own words for how a chord is laid out. */
export type StyleName =
  | "shell"
  | "close"
  | "open"
  | "drop 2"
  | "rootless"
  | "stacked fourths"
  | "upper-structure triad"
  | "block chords"
  | "two-hand";

/**
 * How tones are laid above one another: `listed` in their order, each the next above; `close` in any inversion within
 * an octave; `octave` the same with its lowest tone again on top; `drop 2` close, its second tone from the top an octave
 * lower; `spread` in any order with no second between neighbours; `fourths` in fourths, from the tones of the
 * chord's scale, the top step a fourth or a third; `triad` a triad of the chord's scale in any inversion.
 */
export type Shape = "listed" | "close" | "octave" | "drop 2" | "spread" | "fourths" | "triad";

/** A place in a set of tones: one of these roles plays it. */
export interface Want {
  readonly roles: readonly Role[];
  /** What stands in where the chord has none of these. */
  readonly standIns: readonly Role[];
  readonly mayBeLeftOut: boolean;
}

/** What one hand, or both together, are given. */
export interface Part {
  /** Sets of tones, any of them; none are asked for where the shape finds its own. */
  readonly tones: readonly (readonly Want[])[];
  readonly shape: Shape;
  /** The fewest and the most keys, the melody among them. */
  readonly voices: readonly [least: number, most: number];
  /** The lowest and the highest key, MIDI numbers, where it was written. A melody on top may lie higher. */
  readonly register: readonly [lowest: number, highest: number];
}

/** How two hands share a voicing. */
export type Layout =
  | { readonly kind: "apart"; readonly left: Part; readonly right: Part }
  /** One part over both hands: the left takes this many of its lowest keys. */
  | { readonly kind: "split"; readonly part: Part; readonly left: number }
  /** The left plays the right hand's top voice an octave lower. */
  | { readonly kind: "doubled"; readonly right: Part };

/** A way to lay out any chord, as data. */
export interface Style {
  readonly name: StyleName;
  /** One sentence for a menu. */
  readonly description: string;
  /** Where both hands are to be found. */
  readonly both: readonly Layout[];
  /** Where the right hand is to be found and the left plays what it plays, or rests. */
  readonly right: readonly Part[];
  readonly left: readonly Part[];
  /** Whether the left doubles the right hand's top voice where it is found alone. */
  readonly leftDoubles: boolean;
  /** Whether parallel fifths and octaves between the lowest voice and the top one are to be avoided. */
  readonly mindsParallels: boolean;
  /** Whether colours that the symbol names may be left out freely. */
  readonly leavesColoursOut: boolean;
  /** Whether colours that the symbol doesn't name are welcome. */
  readonly addsColours: boolean;
  /** With so many voices a chord is full. */
  readonly full: number;
  /** Whether the left hand's lowest key is the bass, whose line leaps as roots do. */
  readonly hasBass: boolean;
  /** The middle of each hand at home, a MIDI number. */
  readonly home: { readonly left: number; readonly right: number };
  /** What is taken where it can't serve a chord, the nearest first. */
  readonly nearest: readonly StyleName[];
}

/**
 * `"third fifth|thirteenth ninth/root colour?"`: one of two roles, one in whose place another stands where the chord has
 * no such tone, and one that may be left out. `low-fifth` is the low fifth.
 */
const wants = (text: string): readonly Want[] =>
  text
    .split(" ")
    .filter((word) => word !== "")
    .map((word) => {
      const [any = "", standIns = ""] = word.replace("?", "").split("/");
      return { roles: roles(any), standIns: roles(standIns), mayBeLeftOut: word.endsWith("?") };
    });

const roles = (text: string): readonly Role[] =>
  text === "" ? [] : text.split("|").map((role) => role.replace("-", " ") as Role);

type Range = readonly [number, number];
const part = (shape: Shape, register: Range, voices: Range, ...tones: readonly string[]): Part => ({
  shape,
  register,
  voices,
  tones: tones.map(wants),
});

const apart = (left: Part, ...rights: readonly Part[]): readonly Layout[] =>
  rights.map((right) => ({ kind: "apart", left, right }));

/** MIDI numbers (scientific pitch) of the ends of registers. */
const [g1, b1, c2, b2, c3, e3, g3, b3, c4, e4, g4, b4, e5, g5] = [
  31, 34, 36, 46, 48, 52, 55, 58, 60, 64, 67, 70, 76, 79,
] as const;

/** The bass, and what may stand above it in the left hand. */
const bassAlone = part("listed", [c2, e3], [1, 1], "bass");
const shellLeft = part("listed", [c2, c4], [2, 2], "bass seventh", "bass third");
const wholeShellLeft = part(
  "listed",
  [c2, e4],
  [3, 3],
  "bass third seventh|fifth",
  "bass seventh|fifth third",
);
/** The melody with nothing under it in this hand. */
const melodyAlone = part("listed", [c3, g5], [1, 1], "");

/** A big chord: what stands above the bass in the left hand, and what the right hand plays over it. */
const bigLefts = [
  part("listed", [g1, g3], [2, 2], "bass low-fifth"),
  part("listed", [g1, g3], [2, 2], "bass seventh"),
  part("octave", [g1, g3 - 2], [2, 2], "bass"),
  part("octave", [g1, g3 - 2], [3, 3], "bass low-fifth"),
  part("listed", [g1, c4], [3, 3], "bass low-fifth third"),
];
const bigRights = [
  part("close", [b3 - 5, g5 - 2], [3, 4], "third seventh? fifth? root? ninth? colour?"),
  part("octave", [b3 - 5, g5 - 2], [4, 4], "third root fifth", "third fifth seventh", "third seventh colour"),
];
const upperTriad = part("triad", [c4 - 5, g5], [3, 4]);

/** The tones of a chord, the root and the fifth left out first. */
const chordOfFour = "root? third? fifth? seventh? colour? colour?";
/** The same where no other hand says what the chord is: third and seventh stay. */
const chordAlone = "third/root seventh/fifth root? fifth? colour? colour?";
/** Four different tones: colours take the place of the root and the fifth. */
const fourTones = "root|ninth|colour fifth|thirteenth|colour/eleventh third fourth-tone";

/** The two forms. Where a chord has no ninth to take (a half-diminished one), its root or eleventh stands in. */
const rootlessTones = [
  "third fifth|thirteenth|colour fourth-tone ninth/root|eleventh",
  "fourth-tone ninth/root|eleventh third fifth|thirteenth|colour",
];

/**
 * Registers lie around the home octaves of the hands (left C2 to C4, right E♭3 to C5). Layouts and their ranges are
 * common practice of church and jazz players, no source.
 */
export const styles: readonly Style[] = [
  {
    name: "shell",
    description: "Root in the left hand, third and seventh in the right: the least there is.",
    both: [
      ...apart(bassAlone, part("close", [c3, b4], [2, 3], "third seventh|fifth")),
      ...apart(shellLeft, part("close", [c3, b4], [1, 2], "third", "seventh", "fifth")),
      ...apart(wholeShellLeft, melodyAlone),
    ],
    right: [part("close", [c3, b4], [2, 3], "third seventh|fifth"), melodyAlone],
    left: [wholeShellLeft, shellLeft],
    leftDoubles: false,
    mindsParallels: false,
    leavesColoursOut: true,
    addsColours: false,
    full: 3,
    hasBass: true,
    home: { left: 45, right: 58 },
    nearest: ["close", "open"],
  },
  {
    name: "close",
    description: "The chord's tones side by side in the right hand, the bass in the left.",
    both: apart(bassAlone, part("close", [c3 + 3, e5], [3, 4], chordOfFour)),
    right: [part("close", [c3 + 3, e5], [3, 4], chordOfFour)],
    left: [
      part("close", [c3, b4], [3, 4], chordAlone),
      part("listed", [b2, b4], [3, 4], "bass third seventh/fifth fifth?"),
    ],
    leftDoubles: false,
    mindsParallels: false,
    leavesColoursOut: false,
    addsColours: false,
    full: 4,
    hasBass: true,
    home: { left: 43, right: 63 },
    nearest: ["shell", "open"],
  },
  {
    name: "open",
    description: "The tones spread over both hands with room between, the bass lowest.",
    both: apart(
      part("listed", [b1, c4], [2, 2], "bass low-fifth", "bass seventh", "bass fifth", "bass root"),
      part("spread", [c3 + 3, g5 - 2], [2, 3], "third? fifth? seventh? colour? colour? root?"),
    ),
    right: [part("spread", [c3 + 3, g5 - 2], [2, 3], chordOfFour)],
    left: [
      part("spread", [b2, g4], [2, 3], chordAlone),
      part(
        "listed",
        [b1, c4],
        [2, 3],
        "bass low-fifth third",
        "bass seventh third",
        "bass third",
        "bass seventh",
      ),
    ],
    leftDoubles: false,
    mindsParallels: true,
    leavesColoursOut: false,
    addsColours: false,
    full: 4,
    hasBass: true,
    home: { left: 47, right: 67 },
    nearest: ["close", "shell"],
  },
  {
    name: "drop 2",
    description: "Four close tones, the second from the top dropped an octave.",
    both: [
      { kind: "split", part: part("drop 2", [b2, g5], [4, 4], fourTones), left: 2 },
      { kind: "split", part: part("drop 2", [b2, g5], [3, 3], "root third fifth"), left: 1 },
    ],
    right: [
      part("drop 2", [c3, g5], [4, 4], fourTones),
      part("drop 2", [c3, g5], [3, 3], "root third fifth"),
    ],
    left: [part("drop 2", [b2, g4], [4, 4], fourTones), part("drop 2", [b2, g4], [3, 3], "root third fifth")],
    leftDoubles: false,
    mindsParallels: false,
    leavesColoursOut: false,
    addsColours: false,
    full: 4,
    hasBass: false,
    home: { left: 54, right: 66 },
    nearest: ["close", "open", "shell"],
  },
  {
    name: "rootless",
    description: "Third, seventh and colours; the root is left to the bass.",
    both: [
      ...apart(
        part("close", [c3, e4], [2, 2], "third fourth-tone"),
        part("close", [c4 - 3, e5], [2, 3], "ninth/root|eleventh fifth|thirteenth|colour colour?"),
      ),
      ...apart(part("listed", [c3, b4], [4, 4], ...rootlessTones), melodyAlone),
    ],
    right: [
      part("listed", [c3 + 2, e5], [4, 4], ...rootlessTones),
      part("close", [c3 + 2, e5], [3, 3], "third fourth-tone ninth|thirteenth|fifth"),
    ],
    left: [part("listed", [c3, b4 + 1], [4, 4], ...rootlessTones)],
    leftDoubles: false,
    mindsParallels: false,
    leavesColoursOut: false,
    addsColours: true,
    full: 4,
    hasBass: false,
    home: { left: 56, right: 65 },
    nearest: ["drop 2", "close", "shell"],
  },
  {
    name: "stacked fourths",
    description: "Fourths upon one another from the chord's scale, open in sound.",
    both: [
      { kind: "split", part: part("fourths", [b2 - 1, g5], [5, 5]), left: 3 },
      { kind: "split", part: part("fourths", [b2 - 1, g5], [4, 5]), left: 2 },
    ],
    right: [part("fourths", [c3, g5], [3, 4])],
    left: [part("fourths", [b2 - 1, b4], [3, 4])],
    leftDoubles: false,
    mindsParallels: false,
    leavesColoursOut: true,
    addsColours: true,
    full: 5,
    hasBass: false,
    home: { left: 54, right: 66 },
    nearest: ["rootless", "open", "close", "shell"],
  },
  {
    name: "upper-structure triad",
    description: "A triad of colours in the right hand over the chord's shell.",
    both: [
      ...apart(part("close", [c3, e4], [2, 2], "third seventh", "root seventh"), upperTriad),
      ...apart(shellLeft, upperTriad),
    ],
    right: [upperTriad],
    left: [part("close", [c3, e4], [2, 2], "third seventh"), shellLeft],
    leftDoubles: false,
    mindsParallels: false,
    leavesColoursOut: false,
    addsColours: true,
    full: 5,
    hasBass: false,
    home: { left: 54, right: 67 },
    nearest: ["rootless", "drop 2", "close", "shell"],
  },
  {
    name: "block chords",
    description: "A close chord under every melody note, the melody an octave lower too.",
    both: [{ kind: "doubled", right: part("close", [c3 + 3, g5], [4, 4], fourTones) }],
    right: [part("close", [c3 + 3, g5], [4, 4], fourTones)],
    left: [part("close", [c3, b4], [4, 4], fourTones)],
    leftDoubles: true,
    mindsParallels: false,
    leavesColoursOut: false,
    addsColours: false,
    full: 5,
    hasBass: false,
    home: { left: 58, right: 66 },
    nearest: ["drop 2", "close", "shell"],
  },
  {
    name: "two-hand",
    description: "A big chord: root with fifth, octave or tenth; three or four tones above.",
    both: bigLefts.flatMap((left) => apart(left, ...bigRights)),
    right: bigRights,
    left: bigLefts,
    leftDoubles: false,
    mindsParallels: false,
    leavesColoursOut: false,
    addsColours: true,
    full: 6,
    hasBass: true,
    home: { left: 43, right: 64 },
    nearest: ["close", "open", "shell"],
  },
];

const byName: ReadonlyMap<string, Style> = new Map(styles.map((style) => [style.name, style]));

/** The style of a name; `undefined` for any other text. */
export const styleNamed = (name: string): Style | undefined => byName.get(name);
