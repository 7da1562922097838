import fc from "fast-check";
import { expect, test } from "vitest";
import { decodeUtf8, encodeUtf8 } from "../../server/src/text/utf8.js";
import { property } from "../support/property.js";

/** Node's own decoder as the judge, WHATWG Encoding. */
function judged(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

const read = (bytes: Uint8Array): string | undefined => {
  const text = decodeUtf8(bytes);
  return typeof text === "string" ? text : undefined;
};

const trickyBytes = [
  0, 0x41, 0x7f, 0x80, 0xbf, 0xc0, 0xc1, 0xc2, 0xe0, 0xed, 0xa0, 0xef, 0xbb, 0xf0, 0x90, 0xf4, 0xf5, 0xff,
];
const anyBytes = fc
  .array(fc.oneof(fc.constantFrom(...trickyBytes), fc.integer({ min: 0, max: 255 })))
  .map((list) => new Uint8Array(list));

property("any bytes are read, or refused, as the platform's decoder does", anyBytes, 5000, (bytes) => {
  expect(read(bytes)).toBe(judged(bytes));
});

property("any text comes back from the platform's bytes", fc.string({ unit: "binary" }), 200, (text) => {
  expect([...encodeUtf8(text)]).toEqual([...new TextEncoder().encode(text)]);
  expect(decodeUtf8(encodeUtf8(text))).toBe(text);
});

test("half a surrogate pair is written as the replacement character", () => {
  expect([...encodeUtf8("a\ud800b")]).toEqual([...new TextEncoder().encode("a\ud800b")]);
});

test("a long text is read whole", () => {
  const text = "E♭ 😀 ".repeat(20_000);
  expect(decodeUtf8(new TextEncoder().encode(text))).toBe(text);
});

test("the place of the first wrong byte is told", () => {
  expect(decodeUtf8(new Uint8Array([0x6b, 0xe2, 0x99, 0xad, 0xff]))).toEqual({ invalidAt: 4 });
  expect(decodeUtf8(new Uint8Array([0x6b, 0xe2, 0x99]))).toEqual({ invalidAt: 1 });
});
