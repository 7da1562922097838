import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { inflateRawSync } from "node:zlib";

/** The files of a ZIP archive by their names (PKWARE APPNOTE 6.3.3: 4.3.7, 4.3.12, 4.3.16; stored or deflated). */
export function filesOfZip(path: string): ReadonlyMap<string, Buffer> {
  const zip = readFileSync(path);
  const end = zip.lastIndexOf(Buffer.from("PK\x05\x06", "latin1"));
  if (end < 0) throw new Error(`${path} is no ZIP archive`);
  const files = new Map<string, Buffer>();
  let at = zip.readUInt32LE(end + 16);
  for (let i = 0; i < zip.readUInt16LE(end + 10); i++) {
    const method = zip.readUInt16LE(at + 10);
    const size = zip.readUInt32LE(at + 20);
    const [name, extra, comment] = [28, 30, 32].map((it) => zip.readUInt16LE(at + it)) as [
      number,
      number,
      number,
    ];
    const local = zip.readUInt32LE(at + 42);
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const content = zip.subarray(start, start + size);
    const file = zip.toString("utf8", at + 46, at + 46 + name);
    if (!file.endsWith("/")) files.set(file, method === 0 ? content : inflateRawSync(content));
    at += 46 + name + extra + comment;
  }
  return files;
}

/** Writes the files of a ZIP archive below a folder. */
export function unpack(path: string, folder: string): void {
  for (const [name, content] of filesOfZip(path)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
  }
}
