// Draws the extension's icon: `node client/media/draw-icon.mjs` writes icon.png beside this file.
// Bars of a chart over three white keys and two black ones; the hand's block stands once, and once moved up.
import { writeFileSync } from "node:fs";
import { crc32, deflateSync } from "node:zlib";

/** Width and height in pixels. */
export const size = 256;
/** Samples along each side of a pixel, for smooth edges. */
const samples = 4;

const night = [31, 42, 68];
const ivory = [246, 240, 226];
const coal = [16, 22, 38];
const amber = [240, 176, 64];
const sky = [112, 190, 216];

/** Shapes from the back to the front, as [colour, left, top, width, height, radius]. */
const shapes = [
  [night, 0, 0, 256, 256, 48],
  // A system: two rows between three bar lines.
  [ivory, 32, 36, 5, 72, 2],
  [ivory, 126, 36, 5, 72, 2],
  [ivory, 219, 36, 5, 72, 2],
  // The block of a hand, and the same block a step higher in the next bar.
  [amber, 54, 84, 54, 13, 6],
  [amber, 54, 64, 54, 13, 6],
  [sky, 148, 66, 54, 13, 6],
  [sky, 148, 46, 54, 13, 6],
  // The keys; two tones of the chord are held.
  [ivory, 32, 124, 61, 100, 8],
  [ivory, 98, 124, 60, 100, 8],
  [ivory, 163, 124, 61, 100, 8],
  [coal, 74, 116, 42, 66, 7],
  [coal, 140, 116, 42, 66, 7],
  [amber, 50, 194, 24, 16, 8],
  [sky, 182, 194, 24, 16, 8],
];

/** Whether a point lies inside a rectangle with round corners. */
function inside([, left, top, width, height, radius], x, y) {
  const dx = Math.max(left + radius - x, 0, x - (left + width - radius));
  const dy = Math.max(top + radius - y, 0, y - (top + height - radius));
  return x >= left && x <= left + width && y >= top && y <= top + height && dx * dx + dy * dy <= radius ** 2;
}

/** The picture as rows of red, green, blue and opacity, one byte each. */
export function pixels() {
  const bytes = new Uint8Array(size * size * 4);
  for (let y = 0; y < size; y++) {
    for (let x = 0; x < size; x++) {
      const sum = [0, 0, 0, 0];
      for (let i = 0; i < samples ** 2; i++) {
        const px = x + ((i % samples) + 0.5) / samples;
        const py = y + (Math.floor(i / samples) + 0.5) / samples;
        const shape = shapes.findLast((it) => inside(it, px, py));
        if (shape === undefined) continue;
        shape[0].forEach((value, channel) => {
          sum[channel] += value;
        });
        sum[3]++;
      }
      const at = (y * size + x) * 4;
      const covered = sum[3];
      for (let channel = 0; channel < 3; channel++) {
        bytes[at + channel] = covered === 0 ? 0 : Math.round(sum[channel] / covered);
      }
      bytes[at + 3] = Math.round((255 * covered) / samples ** 2);
    }
  }
  return bytes;
}

/** One part of a PNG file (W3C PNG, 5.3): length, name, content, check sum. */
function chunk(name, content) {
  const body = Buffer.concat([Buffer.from(name, "latin1"), content]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(content.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc32(body), body.length + 4);
  return out;
}

/** The icon as a PNG file (W3C PNG: colour type 6, 8 bits, no filter). */
export function icon() {
  const image = pixels();
  const rows = Buffer.alloc(size * (size * 4 + 1));
  for (let y = 0; y < size; y++) {
    rows.set(image.subarray(y * size * 4, (y + 1) * size * 4), y * (size * 4 + 1) + 1);
  }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(size, 0);
  header.writeUInt32BE(size, 4);
  header.set([8, 6, 0, 0, 0], 8);
  const signature = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]);
  const data = deflateSync(rows, { level: 9 });
  return Buffer.concat([
    signature,
    chunk("IHDR", header),
    chunk("IDAT", data),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

if (process.argv[1]?.endsWith("draw-icon.mjs")) writeFileSync(new URL("icon.png", import.meta.url), icon());
