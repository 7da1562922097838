/** The 64 round constants and the 8 first values (FIPS 180-4, 4.2.2 and 5.3.3): parts of roots of the first primes. */
const { constants, first } = rootsOfPrimes();

function rootsOfPrimes(): { readonly constants: Uint32Array; readonly first: Uint32Array } {
  const primes: number[] = [];
  for (let n = 2; primes.length < 64; n++) if (primes.every((prime) => n % prime !== 0)) primes.push(n);
  const part = (x: number): number => ((x - Math.floor(x)) * 2 ** 32) >>> 0;
  return {
    constants: Uint32Array.from(primes, (prime) => part(Math.cbrt(prime))),
    first: Uint32Array.from(primes.slice(0, 8), (prime) => part(Math.sqrt(prime))),
  };
}

const turned = (x: number, by: number): number => (x >>> by) | (x << (32 - by));

/** The SHA-256 digest of some bytes, 32 bytes (FIPS 180-4). */
export function sha256(bytes: Uint8Array): Uint8Array {
  const length = (((bytes.length + 8) >> 6) + 1) << 6;
  const padded = new Uint8Array(length);
  padded.set(bytes);
  padded[bytes.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(length - 4, bytes.length << 3);
  const state = first.slice();
  const words = new Uint32Array(64);
  for (let start = 0; start < length; start += 64) addBlock(view, start, state, words);
  const digest = new DataView(new ArrayBuffer(32));
  state.forEach((word, i) => {
    digest.setUint32(4 * i, word);
  });
  return new Uint8Array(digest.buffer);
}

function addBlock(view: DataView, start: number, state: Uint32Array, words: Uint32Array): void {
  for (let i = 0; i < 16; i++) words[i] = view.getUint32(start + 4 * i);
  for (let i = 16; i < 64; i++) {
    const [far, near] = [words[i - 15] as number, words[i - 2] as number];
    const s0 = turned(far, 7) ^ turned(far, 18) ^ (far >>> 3);
    const s1 = turned(near, 17) ^ turned(near, 19) ^ (near >>> 10);
    words[i] = (words[i - 16] as number) + s0 + (words[i - 7] as number) + s1;
  }
  let [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0] = state;
  for (let i = 0; i < 64; i++) {
    const s1 = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25);
    const t1 = (h + s1 + ((e & f) ^ (~e & g)) + (constants[i] as number) + (words[i] as number)) | 0;
    const s0 = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22);
    const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + t1) | 0, c, b, a, (t1 + t2) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((value, i) => {
    state[i] = (state[i] as number) + value;
  });
}
