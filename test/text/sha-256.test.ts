import { createHash } from "node:crypto";
import fc from "fast-check";
import { expect, test } from "vitest";
import { base64 } from "../../server/src/text/base64.js";
import { sha256 } from "../../server/src/text/sha-256.js";
import { property } from "../support/property.js";

// FIPS 180-4 with the examples of NIST's "Cryptographic Standards and Guidelines: Example Values".
test.each([
  ["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
  [
    "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
    "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
  ],
])("the digest of %j is the standard's", (text, digest) => {
  expect(Buffer.from(sha256(Buffer.from(text))).toString("hex")).toBe(digest);
});

property("digests and base64 are those of Node", fc.uint8Array({ maxLength: 300 }), 400, (bytes) => {
  expect(base64(bytes)).toBe(Buffer.from(bytes).toString("base64"));
  expect(base64(sha256(bytes))).toBe(createHash("sha256").update(bytes).digest("base64"));
});
