/** Bytes that are not UTF-8. */
export interface InvalidUtf8 {
  /** The first byte that can't be read, from 0. */
  readonly invalidAt: number;
}

const chunk = 8192;

/** The text of these bytes, a byte order mark included; where they are not UTF-8, the place of the first wrong one. */
export function decodeUtf8(bytes: Uint8Array): string | InvalidUtf8 {
  let text = "";
  const units = new Uint16Array(chunk + 2);
  let count = 0;
  for (let at = 0; at < bytes.length; ) {
    const first = bytes[at] as number;
    if (first < 0x80) {
      units[count++] = first;
      at++;
    } else {
      const point = sequenceAt(bytes, at, first);
      if (point === undefined) return { invalidAt: at };
      if (point < 0x10000) units[count++] = point;
      else {
        units[count++] = 0xd800 + ((point - 0x10000) >> 10);
        units[count++] = 0xdc00 + ((point - 0x10000) & 0x3ff);
      }
      at += lengthOf(point);
    }
    if (count >= chunk) {
      text += String.fromCharCode(...units.subarray(0, count));
      count = 0;
    }
  }
  return text + String.fromCharCode(...units.subarray(0, count));
}

const lengthOf = (point: number): number => (point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4);

/** The code point of a sequence of several bytes; `undefined` where it is cut, overlong, a surrogate or too high. */
function sequenceAt(bytes: Uint8Array, at: number, first: number): number | undefined {
  const length =
    first >= 0xc2 && first < 0xe0 ? 2 : first >= 0xe0 && first < 0xf0 ? 3 : first >= 0xf0 ? 4 : 0;
  if (length === 0 || first > 0xf4) return undefined;
  let point = first & (0xff >> (length + 1));
  for (let i = 1; i < length; i++) {
    const byte = bytes[at + i];
    if (byte === undefined || (byte & 0xc0) !== 0x80) return undefined;
    point = (point << 6) | (byte & 0x3f);
  }
  const isWhole = lengthOf(point) === length && point <= 0x10ffff && (point < 0xd800 || point > 0xdfff);
  return isWhole ? point : undefined;
}

/** The bytes of a text. Half a surrogate pair becomes U+FFFD. */
export function encodeUtf8(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length * 3);
  let count = 0;
  for (let at = 0; at < text.length; at++) {
    let point = text.codePointAt(at) as number;
    if (point > 0xffff) at++;
    else if (point >= 0xd800 && point <= 0xdfff) point = 0xfffd;
    if (point < 0x80) bytes[count++] = point;
    else {
      const length = lengthOf(point);
      bytes[count++] = ((0xf00 >> length) & 0xff) | (point >> (6 * (length - 1)));
      for (let i = length - 2; i >= 0; i--) bytes[count++] = 0x80 | ((point >> (6 * i)) & 0x3f);
    }
  }
  return bytes.slice(0, count);
}
