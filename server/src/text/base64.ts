const signs = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/** Bytes as base64 text (RFC 4648, 4). */
export function base64(bytes: Uint8Array): string {
  let text = "";
  for (let i = 0; i < bytes.length; i += 3) {
    const [a = 0, b = 0, c = 0] = bytes.subarray(i, i + 3);
    const three = (a << 16) | (b << 8) | c;
    const some = [18, 12, 6, 0].map((shift) => signs[(three >> shift) & 63]).join("");
    text += some.slice(0, Math.min(4, bytes.length - i + 1)).padEnd(4, "=");
  }
  return text;
}

const values = new Uint8Array(128);
for (let i = 0; i < signs.length; i++) values[signs.charCodeAt(i)] = i;

/** The bytes of a base64 text (RFC 4648, 4) without white space. */
export function bytesOfBase64(text: string): Uint8Array {
  const end = text.endsWith("==") ? text.length - 2 : text.endsWith("=") ? text.length - 1 : text.length;
  const bytes = new Uint8Array(Math.floor((end * 3) / 4));
  let [bits, held, at] = [0, 0, 0];
  for (let i = 0; i < end; i++) {
    bits = ((bits & 0xffff) << 6) | (values[text.charCodeAt(i)] ?? 0);
    held += 6;
    if (held < 8) continue;
    held -= 8;
    bytes[at++] = (bits >> held) & 0xff;
  }
  return bytes;
}
