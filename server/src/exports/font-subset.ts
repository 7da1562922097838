/**
 * A TrueType font in which only some glyphs have their outlines; the others are empty and all keep their numbers
 * (OpenType 1.9, `glyf` and `loca`). `font` has long or short offsets and no checksums that a reader of PDF minds.
 */
export function fontSubset(font: Uint8Array, used: ReadonlySet<number>): Uint8Array {
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const tables = tablesOf(view);
  const [head, loca, glyf] = [tables.get("head"), tables.get("loca"), tables.get("glyf")];
  if (head === undefined || loca === undefined || glyf === undefined) return font;
  const isLong = view.getInt16(head.offset + 50) === 1;
  const count = loca.length / (isLong ? 4 : 2) - 1;
  const place = (glyph: number): number =>
    isLong ? view.getUint32(loca.offset + 4 * glyph) : 2 * view.getUint16(loca.offset + 2 * glyph);
  const kept = new Set<number>();
  const keep = (glyph: number): void => {
    if (kept.has(glyph) || glyph >= count) return;
    kept.add(glyph);
    const start = glyf.offset + place(glyph);
    if (place(glyph + 1) > place(glyph)) for (const part of partsOf(view, start)) keep(part);
  };
  keep(0);
  for (const glyph of used) keep(glyph);

  const outlines: Uint8Array[] = [];
  const places = new DataView(new ArrayBuffer(4 * (count + 1)));
  let at = 0;
  for (let glyph = 0; glyph < count; glyph++) {
    places.setUint32(4 * glyph, at);
    if (!kept.has(glyph)) continue;
    const start = glyf.offset + place(glyph);
    const outline = font.subarray(start, start + place(glyph + 1) - place(glyph));
    outlines.push(outline);
    at += padded(outline.length);
  }
  places.setUint32(4 * count, at);
  const made = new Uint8Array(at);
  let end = 0;
  for (const outline of outlines) {
    made.set(outline, end);
    end += padded(outline.length);
  }
  const header = font.slice(head.offset, head.offset + head.length);
  // Offsets are long from now on.
  header[50] = 0;
  header[51] = 1;
  const replaced = new Map([
    ["head", header],
    ["loca", new Uint8Array(places.buffer)],
    ["glyf", made],
  ]);
  return fileOf(
    [...tables].map(([tag, { offset, length }]) => [
      tag,
      replaced.get(tag) ?? font.subarray(offset, offset + length),
    ]),
  );
}

interface Table {
  readonly offset: number;
  readonly length: number;
}

const padded = (length: number): number => (length + 3) & ~3;

function tablesOf(view: DataView): ReadonlyMap<string, Table> {
  const tables = new Map<string, Table>();
  for (let i = 0; i < view.getUint16(4); i++) {
    const at = 12 + 16 * i;
    const tag = String.fromCharCode(...[0, 1, 2, 3].map((k) => view.getUint8(at + k)));
    tables.set(tag, { offset: view.getUint32(at + 8), length: view.getUint32(at + 12) });
  }
  return tables;
}

/** The glyphs that a compound glyph is put together from. */
function partsOf(view: DataView, start: number): readonly number[] {
  if (view.getInt16(start) >= 0) return [];
  const parts: number[] = [];
  let at = start + 10;
  for (;;) {
    const flags = view.getUint16(at);
    parts.push(view.getUint16(at + 2));
    const words = flags & 1 ? 4 : 2;
    const scale = flags & 8 ? 2 : flags & 0x40 ? 4 : flags & 0x80 ? 8 : 0;
    at += 4 + words + scale;
    if ((flags & 0x20) === 0) return parts;
  }
}

function fileOf(tables: readonly (readonly [tag: string, bytes: Uint8Array])[]): Uint8Array {
  const start = 12 + 16 * tables.length;
  const size = tables.reduce((sum, [, bytes]) => sum + padded(bytes.length), start);
  const file = new Uint8Array(size);
  const view = new DataView(file.buffer);
  const power = Math.floor(Math.log2(Math.max(1, tables.length)));
  view.setUint32(0, 0x00010000);
  view.setUint16(4, tables.length);
  view.setUint16(6, 16 * 2 ** power);
  view.setUint16(8, power);
  view.setUint16(10, 16 * (tables.length - 2 ** power));
  let at = start;
  tables.forEach(([tag, bytes], i) => {
    const entry = 12 + 16 * i;
    for (let k = 0; k < 4; k++) view.setUint8(entry + k, tag.charCodeAt(k));
    view.setUint32(entry + 4, checksum(bytes));
    view.setUint32(entry + 8, at);
    view.setUint32(entry + 12, bytes.length);
    file.set(bytes, at);
    at += padded(bytes.length);
  });
  return file;
}

/** The sum of a table's 32-bit words, what is missing at its end counting as zero. */
function checksum(bytes: Uint8Array): number {
  let sum = 0;
  for (let i = 0; i < bytes.length; i += 4) {
    const [a = 0, b = 0, c = 0, d = 0] = bytes.subarray(i, i + 4);
    sum = (sum + ((a << 24) | (b << 16) | (c << 8) | d)) >>> 0;
  }
  return sum;
}
