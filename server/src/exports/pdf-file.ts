import { type PDFContext, PDFCrossRefSection, PDFHeader, PDFTrailer, PDFTrailerDict } from "pdf-lib";

const letters = (text: string): Uint8Array => Uint8Array.from(text, (sign) => sign.charCodeAt(0));

/**
 * The bytes of a PDF (ISO 32000-1, 7.5). The library's own writer waits between objects and answers later; an export
 * answers at once.
 */
export function pdfFile(context: PDFContext): Uint8Array {
  const header = PDFHeader.forVersion(1, 7);
  const chunks: Uint8Array[] = [];
  let size = 0;
  const add = (chunk: Uint8Array): void => {
    chunks.push(chunk);
    size += chunk.length;
  };
  const copied = (it: {
    sizeInBytes(): number;
    copyBytesInto(buffer: Uint8Array, offset: number): number;
  }): Uint8Array => {
    const bytes = new Uint8Array(it.sizeInBytes());
    it.copyBytesInto(bytes, 0);
    return bytes;
  };
  add(copied(header));
  add(letters("\n\n"));
  const references = PDFCrossRefSection.create();
  for (const [ref, object] of context.enumerateIndirectObjects()) {
    references.addEntry(ref, size);
    add(letters(`${ref.objectNumber} ${ref.generationNumber} obj\n`));
    add(copied(object));
    add(letters("\nendobj\n\n"));
  }
  const start = size;
  add(copied(references));
  add(letters("\n"));
  const { Root, Info } = context.trailerInfo;
  add(copied(PDFTrailerDict.of(context.obj({ Size: context.largestObjectNumber + 1, Root, Info }))));
  add(letters("\n\n"));
  add(copied(PDFTrailer.forLastCrossRefSectionOffset(start)));
  const file = new Uint8Array(size);
  let at = 0;
  for (const chunk of chunks) {
    file.set(chunk, at);
    at += chunk.length;
  }
  return file;
}
