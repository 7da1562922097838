/** Samples a second of what is recorded. */
export const sampleRate = 44_100;

/** Where in a sound something starts after silence, in seconds: where it first passes a share of the loudest that follows. */
export function onsets(sound: Float32Array): readonly number[] {
  const [window, quiet] = [Math.round(0.12 * sampleRate), 0.0015];
  const found: number[] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < sound.length; i++) {
    if (Math.abs(sound[i] as number) < quiet) continue;
    if (i - last > window) found.push(i / sampleRate);
    last = i;
  }
  return found;
}

/**
 * The pitch of a single tone as a MIDI number with its fraction, `undefined` where there is none: the lag at which the
 * sound is most like itself (A. de Cheveigné and H. Kawahara, “YIN, a fundamental frequency estimator for speech and
 * music”, JASA 111, 2002, steps 2 to 5).
 */
export function pitchAt(sound: Float32Array, seconds: number): number | undefined {
  const [start, window, longest] = [Math.round(seconds * sampleRate), 4096, 1000];
  const at = (i: number): number => sound[start + i] ?? 0;
  let power = 0;
  for (let i = 0; i < window; i++) power += at(i) ** 2;
  if (power / window < 1e-8) return undefined;
  const difference = Array.from({ length: longest }, (_, lag) => {
    let sum = 0;
    for (let i = 0; i < window; i++) sum += (at(i) - at(i + lag)) ** 2;
    return sum;
  });
  let sum = 0;
  const normal = difference.map((it, lag) => {
    sum += it;
    return lag === 0 ? 1 : (it * lag) / sum;
  });
  let lag = normal.findIndex((it, i) => i > 20 && it < 0.15);
  if (lag < 0) return undefined;
  while (lag + 1 < longest && (normal[lag + 1] as number) < (normal[lag] as number)) lag++;
  const [a, b, c] = [normal[lag - 1] ?? 1, normal[lag] as number, normal[lag + 1] ?? 1];
  const exact = lag + (a - c) / (2 * (a - 2 * b + c));
  return 69 + 12 * Math.log2(sampleRate / exact / 440);
}

/** Cycles a second in the hundredth of a second after a time, by counting where the sound crosses zero. */
export function cyclesAt(sound: Float32Array, time: number): number {
  const start = Math.round(time * sampleRate);
  const crossings: number[] = [];
  for (let i = start; i < start + sampleRate / 100; i++) {
    const [a, b] = [sound[i] as number, sound[i + 1] as number];
    if (a <= 0 && b > 0) crossings.push(i + a / (a - b));
  }
  const [first, last] = [crossings[0] ?? 0, crossings.at(-1) ?? 0];
  return ((crossings.length - 1) * sampleRate) / (last - first);
}

/**
 * Stands in for the page's sound: the same audio graph, rendered by the browser in steps of its own clock and kept, so
 * that what is heard doesn't hang on how busy the machine is. At a step the page gets time to hand out what is due.
 */
export const recordingContext = (seconds: number): string => `
  window.heard = new Promise((resolve) => {
    window.AudioContext = class extends OfflineAudioContext {
      isStarted = false;
      decoding = 0;
      outputLatency = 0;
      constructor() {
        super({ numberOfChannels: 1, length: ${seconds * sampleRate}, sampleRate: ${sampleRate} });
      }
      decodeAudioData(bytes) {
        this.decoding++;
        return super.decodeAudioData(bytes).finally(() => this.decoding--);
      }
      async resume() {
        if (this.isStarted) return;
        this.isStarted = true;
        // The page asks for sound before it reads its notes; here the clock waits for them.
        const start = () => setTimeout(() => (this.decoding > 0 ? start() : super.resume()), 60);
        this.suspend(0).then(start);
        for (let time = 0.1; time < ${seconds}; time += 0.1) {
          this.suspend(time).then(() => setTimeout(() => super.resume(), 60));
        }
        this.startRendering().then((buffer) => resolve(buffer.getChannelData(0)));
      }
    };
  });`;

/** Reads in a page what `recordingContext` kept, as base64 of floats. */
export const readHeard = `window.heard.then((data) => {
  const bytes = new Uint8Array(data.buffer);
  let text = "";
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return btoa(text);
})`;

/** The floats that `readHeard` gave. */
export function heard(base64: string): Float32Array {
  const bytes = Buffer.from(base64, "base64");
  return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
}
