import type { HomeKey } from "../chart/model.js";
import type { Chord } from "../theory/chord.js";
import { pitchClass } from "../theory/note-name.js";
import type { Pitch } from "../theory/pitch.js";
import { fifthsAbove, keyAbove, type ToneNumber } from "../theory/tone-number.js";

/**
 * Where comping lies, in half steps from the chart's 1: as the home octaves of the right and left hand do, so that it
 * moves with the chart as one block.
 */
const [lowestVoice, lowestBass] = [-9, -24];
/** Where the lowest voice of the first chord is looked for, in the middle of its octave (chosen here, no source). */
const middle = -4;
/** What a second at the bottom counts against a voicing, in half steps of voice leading (chosen here, no source). */
const muddy = 6;
const mostVoices = 4;

/** The lowest tone of a comped chord: the one after the slash, or its root. */
export function compingBass({ root, bass = root }: Chord, home: HomeKey): Pitch {
  return { fifths: bass, midi: home.one + within(pitchClass(bass) - pitchClass(home.key.tonic), lowestBass) };
}

/** The upper voices of a comped chord in close position, in the inversion that moves least from the chord before. */
export function nextCompingVoices(
  chord: Chord,
  home: HomeKey,
  before: readonly Pitch[] | undefined,
): readonly Pitch[] {
  const root = pitchClass(chord.root) - pitchClass(home.key.tonic);
  const tones = voicesOf(chord).map((tone) => ({
    fifths: chord.root + fifthsAbove(tone),
    place: within(root + keyAbove(tone), 0),
  }));
  tones.sort((a, b) => a.place - b.place);
  let best: readonly Pitch[] = [];
  let least = Number.POSITIVE_INFINITY;
  tones.forEach(({ place }, i) => {
    let below = within(place, lowestVoice) - 1;
    const voices = [...tones.slice(i), ...tones.slice(0, i)].map((tone): Pitch => {
      below = within(tone.place, below + 1);
      return { fifths: tone.fifths, midi: home.one + below };
    });
    const cost = costOf(voices, before, home);
    if (cost < least) [best, least] = [voices, cost];
  });
  return best;
}

/** The same key within the twelve from `lowest` up. */
const within = (place: number, lowest: number): number => lowest + ((((place - lowest) % 12) + 12) % 12);

function costOf(voices: readonly Pitch[], before: readonly Pitch[] | undefined, { one }: HomeKey): number {
  const [lowest, second] = voices;
  if (lowest === undefined) return 0;
  const mud = second !== undefined && second.midi - lowest.midi < 3 ? muddy : 0;
  if (before === undefined) return mud + Math.abs(lowest.midi - one - middle);
  return mud + distance(voices, before) + distance(before, voices);
}

/** How far each voice is from the nearest of the others, in all. */
const distance = (voices: readonly Pitch[], others: readonly Pitch[]): number =>
  voices.reduce((sum, { midi }) => sum + Math.min(...others.map((other) => Math.abs(other.midi - midi))), 0);

/**
 * A triad's own tones; of a larger chord those that say most, up to four: third or suspension, seventh or sixth, an
 * altered fifth, the colours from the highest down, then the fifth. The root is the bass's (common practice, no source).
 */
function voicesOf({ quality: { tones } }: Chord): readonly ToneNumber[] {
  const hasMore = tones.some(({ number }) => number > 5);
  if (!hasMore) return tones.slice(0, mostVoices);
  const isColour = ({ number }: ToneNumber): boolean => number > 7;
  const hasThird = tones.some(({ number, alter }) => number === 3 && alter === 0);
  /** A natural 11 rubs against a major third. */
  const rubs = ({ number, alter }: ToneNumber): boolean => hasThird && number === 11 && alter === 0;
  const order = [
    ...tones.filter(({ number }) => number >= 2 && number <= 4),
    ...tones.filter(({ number }) => number === 6 || number === 7),
    ...tones.filter(({ number, alter }) => number === 5 && alter !== 0),
    ...tones.filter((tone) => isColour(tone) && !rubs(tone)).reverse(),
    ...tones.filter(({ number, alter }) => number === 5 && alter === 0),
    ...tones.filter(({ number }) => number === 1),
  ];
  // Two names of one key are one voice.
  const once = order.filter((tone, i) => order.findIndex((it) => keyAbove(it) === keyAbove(tone)) === i);
  return once.slice(
    0,
    tones.some(isColour) ? mostVoices : Math.max(3, Math.min(once.length - 1, mostVoices)),
  );
}
