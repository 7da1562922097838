const signs = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
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
