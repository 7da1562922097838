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
