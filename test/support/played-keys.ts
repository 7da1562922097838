import type { Performance } from "../../server/src/exports/performance.js";

/** What a reader of a file says of one track: its name, and `key from to` for each stroke, in ticks. */
export interface ReadTrack {
  readonly name: string | undefined;
  readonly strokes: readonly string[];
}

/**
 * The strokes of each part of a performance at 480 ticks a quarter, worked out note by note: from one key's notes the
 * later ends the earlier, and two at one tick are one.
 */
export function expectedStrokes({ parts }: Performance): readonly (readonly string[])[] {
  const tick = (n: number, d: number): number => Math.round((n * 1920) / d);
  return parts.map(({ notes }) => {
    const byKey = new Map<number, Map<number, number>>();
    for (const { at, length, pitch } of notes) {
      if (pitch.midi < 0 || pitch.midi > 127) continue;
      const start = tick(at.n, at.d);
      const end = Math.max(start + 1, tick(at.n * length.d + length.n * at.d, at.d * length.d));
      const starts = byKey.get(pitch.midi) ?? new Map<number, number>();
      starts.set(start, Math.max(end, starts.get(start) ?? 0));
      byKey.set(pitch.midi, starts);
    }
    const strokes: string[] = [];
    for (const [key, starts] of byKey) {
      const order = [...starts.keys()].sort((a, b) => a - b);
      order.forEach((start, i) => {
        strokes.push(`${key} ${start} ${Math.min(starts.get(start) as number, order[i + 1] ?? Infinity)}`);
      });
    }
    return strokes.sort();
  });
}

/** Strokes of a track from its messages in order; throws where a key comes up that isn't down, or stays down. */
export function strokesOf(
  messages: readonly { readonly tick: number; readonly key: number; readonly on: boolean }[],
): readonly string[] {
  const down = new Map<number, number>();
  const strokes: string[] = [];
  for (const { tick, key, on } of messages) {
    const since = down.get(key);
    if (on) {
      if (since !== undefined) throw new Error(`${key} is struck at ${tick} while it is down since ${since}`);
      down.set(key, tick);
    } else {
      if (since === undefined) throw new Error(`${key} comes up at ${tick} and wasn't down`);
      strokes.push(`${key} ${since} ${tick}`);
      down.delete(key);
    }
  }
  if (down.size > 0) throw new Error(`${[...down.keys()].join(" ")} stays down`);
  return strokes.sort();
}
