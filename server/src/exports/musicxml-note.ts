import { compare, type Fraction, isEqual, plus } from "../theory/fraction.js";
import { type Key, practical, signature } from "../theory/key.js";
import { alterOf, letterOf } from "../theory/note-name.js";
import { octaveOf, type Pitch } from "../theory/pitch.js";
import { element, escaped, textElement } from "./musicxml-element.js";
import type { Piece, Tuplet } from "./musicxml-rhythm.js";
import type { Segment, SegmentTone, VoiceBar } from "./musicxml-voice.js";

/** Sharps of the key signature, flats negative. A key of more than seven takes its practical name, as nobody reads more. */
export const signsOf = (key: Key): number => signature(Math.abs(signature(key)) > 7 ? practical(key) : key);

/** A syllable under a note. */
export interface Lyric {
  /** From 1. */
  readonly verse: number;
  /** From the bar's start. */
  readonly at: Fraction;
  readonly syllabic: "single" | "begin" | "middle" | "end";
  readonly text: string;
  /** It is sung on over further notes. */
  readonly extends: boolean;
}

/** What stands at a place of a bar beside its notes; `print` is given what places it. */
export interface BarMark {
  readonly at: Fraction;
  readonly print: (place: string) => string;
}

/** All that a voice in one bar needs to be printed. */
export interface VoicePrint {
  readonly bar: VoiceBar;
  /** `undefined` where it rests through the bar. */
  readonly pieces: readonly Piece[] | undefined;
  readonly voice: number;
  /** `undefined` where its part has one staff. */
  readonly staff: number | undefined;
  readonly key: Key;
  /** Time as whole numbers of the part's divisions. */
  readonly ticksOf: (time: Fraction) => number;
  readonly length: Fraction;
  readonly lyrics: readonly Lyric[];
  readonly marks: readonly BarMark[];
  /** Whether more than one tone is rolled under this name. */
  readonly isRolled: (roll: string) => boolean;
  /** What is said to an engraver; `undefined` where the reader has the whole score and beams it itself. */
  readonly engraving: Engraving | undefined;
}

/** How a voice in a bar is engraved. */
export interface Engraving {
  /** The beams of each piece. */
  readonly beams: readonly string[];
  /** What sounds into the bar, or out of it, does so from or into another picture: no tie can be drawn to it. */
  readonly cutBefore: boolean;
  readonly cutAfter: boolean;
}

const accidentals: Readonly<Record<number, string>> = {
  [-3]: "triple-flat",
  [-2]: "flat-flat",
  [-1]: "flat",
  0: "natural",
  1: "sharp",
  2: "double-sharp",
  3: "triple-sharp",
};

/** The notes of a voice in a bar, with what stands at their places. */
export function printVoice(print: VoicePrint): string {
  const { bar, pieces, staff, ticksOf, length, marks } = print;
  let next = 0;
  let text = "";
  const marksBefore = (end: Fraction, at: Fraction): void => {
    for (let mark = marks[next]; mark !== undefined && compare(mark.at, end) < 0; mark = marks[++next]) {
      const offset = ticksOf(mark.at) - ticksOf(at);
      text += mark.print((offset === 0 ? "" : textElement("offset", offset)) + staffOf(staff));
    }
  };
  if (pieces === undefined) {
    marksBefore(length, { n: 0, d: 1 });
    return text + wholeRest(ticksOf(length), print.voice, staff);
  }
  const signs = new Map<string, number>();
  let segmentAt = 0;
  pieces.forEach((piece, i) => {
    const end = plus(piece.at, piece.length);
    while (compare((bar.segments[segmentAt] as Segment).end, piece.at) <= 0) segmentAt++;
    marksBefore(end, piece.at);
    text += printPiece(
      print,
      piece,
      bar.segments[segmentAt] as Segment,
      end,
      signs,
      print.engraving?.beams[i],
    );
  });
  return text;
}

/** A rest through the bar, whatever its meter. */
export const wholeRest = (duration: number, voice: number, staff: number | undefined): string =>
  element(
    "note",
    element("rest", "", { measure: "yes" }) +
      textElement("duration", duration) +
      textElement("voice", voice) +
      staffOf(staff),
  );

const staffOf = (staff: number | undefined): string =>
  staff === undefined ? "" : textElement("staff", staff);

function printPiece(
  { voice, staff, key, ticksOf, length, lyrics, isRolled, engraving }: VoicePrint,
  piece: Piece,
  segment: Segment,
  end: Fraction,
  signs: Map<string, number>,
  beams = "",
): string {
  const { at, value, tuplets } = piece;
  const duration = textElement("duration", ticksOf(end) - ticksOf(at));
  const type =
    value === undefined ? "" : textElement("type", value.type) + (value.dots === 1 ? "<dot/>" : "");
  const modification = value === undefined ? "" : timeModification(tuplets);
  const groups = value === undefined ? "" : tupletMarks(piece);
  const inVoice = textElement("voice", voice);
  const onStaff = staffOf(staff);
  const isFirst = isEqual(at, segment.at);
  const isLast = isEqual(end, segment.end);
  if (segment.tones.length === 0) {
    const what = segment.slash
      ? "<unpitched><display-step>B</display-step><display-octave>4</display-octave></unpitched>"
      : "<rest/>";
    const head = segment.slash ? "<stem>none</stem><notehead>slash</notehead>" : "";
    const around = groups === "" ? "" : `<notations>${groups}</notations>`;
    return `<note>${what}${duration}${inVoice}${type}${modification}${head}${onStaff}${around}</note>`;
  }
  let text = "";
  const struck = isFirst ? segment.tones.filter(({ tiedFrom }) => !tiedFrom) : [];
  let chord = "";
  for (const { item } of struck) {
    if (item.grace === undefined) continue;
    const sign = accidentalOf(item.grace, key, signs);
    text += `<note><grace slash="yes"/>${chord}${pitchOf(item.grace)}${inVoice}<type>eighth</type>${sign}${onStaff}</note>`;
    chord = "<chord/>";
  }
  const sung = struck.length === 0 ? [] : lyrics.filter((it) => isEqual(it.at, at));
  const isCutBefore = engraving?.cutBefore === true && at.n === 0;
  const isCutAfter = engraving?.cutAfter === true && isEqual(end, length);
  segment.tones.forEach((tone, i) => {
    const pitch = tone.item.pitch as Pitch;
    const goesOn = tone.tiedFrom || !isFirst;
    const from = goesOn && !isCutBefore;
    const to = (tone.tiedTo || !isLast) && !isCutAfter;
    // In parentheses, as held tones are everywhere: it sounds already.
    const inParentheses = engraving !== undefined && ((goesOn && isCutBefore) || (isFirst && tone.item.held));
    const ties = (from ? '<tie type="stop"/>' : "") + (to ? '<tie type="start"/>' : "");
    const notations =
      (from ? '<tied type="stop"/>' : "") +
      (to ? '<tied type="start"/>' : "") +
      (tone.tiedTo && isCutAfter ? '<tied type="let-ring"/>' : "") +
      (i === 0 ? groups : "") +
      (!from && isRolledTone(tone, isRolled) ? '<arpeggiate number="1"/>' : "");
    text +=
      `<note>${i === 0 ? "" : "<chord/>"}${pitchOf(pitch)}${duration}${ties}${inVoice}${type}` +
      `${from ? "" : accidentalOf(pitch, key, signs)}${modification}` +
      `${inParentheses ? '<notehead parentheses="yes">normal</notehead>' : ""}${onStaff}${i === 0 ? beams : ""}` +
      (notations === "" ? "" : `<notations>${notations}</notations>`) +
      (i === 0 ? sung.map(lyricOf).join("") : "") +
      "</note>";
  });
  return text;
}

const isRolledTone = ({ item }: SegmentTone, isRolled: VoicePrint["isRolled"]): boolean =>
  item.roll !== undefined && isRolled(item.roll);

function pitchOf(pitch: Pitch): string {
  const alter = alterOf(pitch.fifths);
  const sign = alter === 0 ? "" : `<alter>${alter}</alter>`;
  return `<pitch><step>${letterOf(pitch.fifths)}</step>${sign}<octave>${octaveOf(pitch)}</octave></pitch>`;
}

/** The sign that is printed before a note: where the key or an earlier sign in the bar says otherwise. */
function accidentalOf(pitch: Pitch, key: Key, signs: Map<string, number>): string {
  const alter = alterOf(pitch.fifths);
  const name = letterOf(pitch.fifths) + octaveOf(pitch);
  const before = signs.get(name) ?? alterIn(key, pitch.fifths - 7 * alter);
  if (before === alter) return "";
  signs.set(name, alter);
  const sign = accidentals[alter];
  return sign === undefined ? "" : `<accidental>${sign}</accidental>`;
}

/** What the key signature does to a letter, which is given as the place of its natural. */
function alterIn(key: Key, natural: number): number {
  const signs = signsOf(key);
  if (signs > 0) return natural + 1 < signs ? 1 : 0;
  return 5 - natural < -signs ? -1 : 0;
}

function timeModification(tuplets: readonly Tuplet[]): string {
  const inner = tuplets[tuplets.length - 1];
  if (inner === undefined) return "";
  const product = (of: (it: Tuplet) => number): number => tuplets.reduce((all, it) => all * of(it), 1);
  return element(
    "time-modification",
    textElement(
      "actual-notes",
      product(({ actual }) => actual),
    ) +
      textElement(
        "normal-notes",
        product(({ normal }) => normal),
      ) +
      textElement("normal-type", inner.type),
  );
}

/** The brackets that start or end with a piece. MusicXML tells apart six levels of them. */
function tupletMarks({ tuplets, starts, ends }: Piece): string {
  let text = "";
  const portion = (name: string, number: number, type: string): string =>
    element(name, textElement("tuplet-number", number) + textElement("tuplet-type", type));
  for (let i = tuplets.length - starts; i < tuplets.length; i++) {
    const { actual, normal, type } = tuplets[i] as Tuplet;
    if (i >= 6) break;
    text += element(
      "tuplet",
      portion("tuplet-actual", actual, type) + portion("tuplet-normal", normal, type),
      { type: "start", number: i + 1, bracket: "yes" },
    );
  }
  for (let i = Math.min(6, tuplets.length) - 1; i >= tuplets.length - ends; i--)
    text += element("tuplet", "", { type: "stop", number: i + 1 });
  return text;
}

const lyricOf = ({ verse, syllabic, text, extends: runsOn }: Lyric): string =>
  `<lyric number="${verse}"><syllabic>${syllabic}</syllabic><text>${escaped(text)}</text>${runsOn ? "<extend/>" : ""}</lyric>`;
