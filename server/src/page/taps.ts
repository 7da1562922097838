/** A pause as long as this, in milliseconds, begins anew: 30 beats a minute is the slowest that can be tapped. */
const pause = 2000;
/** So many intervals count, the last ones: enough to outvote a slip, few enough to follow a change (chosen here, no source). */
const heeded = 7;
/** Beats a minute that a `tempo` line may say. */
const [slowest, fastest] = [1, 999];

/** The taps that still count once another one comes; times in milliseconds, the latest last. */
export function tapped(taps: readonly number[], time: number): readonly number[] {
  const last = taps.at(-1);
  if (last === undefined || time - last >= pause || time < last) return [time];
  return [...taps.slice(-heeded), time];
}

/**
 * The tempo of taps in whole beats a minute, as a `tempo` line has it; `undefined` before there are two intervals. It
 * is that of the median interval, so one tap too many, too few or out of time doesn't change it.
 */
export function tempoOf(taps: readonly number[]): number | undefined {
  const intervals = taps.slice(1).map((time, i) => time - (taps[i] as number));
  const recent = intervals.slice(intervals.findLastIndex((it) => it >= pause || it < 0) + 1).slice(-heeded);
  if (recent.length < 2) return undefined;
  recent.sort((a, b) => a - b);
  const middle = recent.length / 2;
  const median = ((recent[Math.ceil(middle) - 1] as number) + (recent[Math.floor(middle)] as number)) / 2;
  return Math.min(fastest, Math.max(slowest, Math.round(60_000 / median)));
}
