// Standard MIDI File 1.0 (MIDI Manufacturers Association RP-001, revised February 1996): its table of variable-length
// numbers, its two example files byte for byte, and its rules for tempo, time signature and key signature.
import { describe, expect, test } from "vitest";
import { keySignature, tempoBytes, timeSignature } from "../../server/src/exports/midi.js";
import {
  type MidiEvent,
  type MidiTrack,
  meta,
  variableLength,
  writeMidiFile,
} from "../../server/src/exports/midi-file.js";
import { readKey } from "../../server/src/theory/key.js";

const hex = (bytes: Iterable<number>): string =>
  Array.from(bytes, (byte) => byte.toString(16).toUpperCase().padStart(2, "0")).join("");
const plain = (text: string): string => text.replace(/\s/g, "");

const numbers: ReadonlyArray<readonly [number: string, bytes: string]> = [
  ["00000000", "00"],
  ["00000040", "40"],
  ["0000007F", "7F"],
  ["00000080", "81 00"],
  ["00002000", "C0 00"],
  ["00003FFF", "FF 7F"],
  ["00004000", "81 80 00"],
  ["00100000", "C0 80 00"],
  ["001FFFFF", "FF FF 7F"],
  ["00200000", "81 80 80 00"],
  ["08000000", "C0 80 80 00"],
  ["0FFFFFFF", "FF FF FF 7F"],
];

test.each(numbers)("the number %s is written as %s", (number, bytes) => {
  expect(hex(variableLength(Number.parseInt(number, 16)))).toBe(plain(bytes));
});

describe("the examples of the specification: 4/4, 120 beats a minute, 96 ticks, three parts", () => {
  const time: MidiEvent = { tick: 0, meta: meta.timeSignature, data: timeSignature({ beats: 4, unit: 4 }) };
  const tempo: MidiEvent = { tick: 0, meta: meta.tempo, data: tempoBytes(120, { beats: 4, unit: 4 }) };
  const send = (tick: number, status: number, ...data: number[]): MidiEvent => ({ tick, status, data });
  const track = (...events: MidiEvent[]): MidiTrack => ({ events, end: 384 });

  test("as format 0", () => {
    const file = writeMidiFile(0, 96, [
      track(
        time,
        tempo,
        send(0, 0xc0, 5),
        send(0, 0xc1, 46),
        send(0, 0xc2, 70),
        send(0, 0x92, 48, 96),
        send(0, 0x92, 60, 96),
        send(96, 0x91, 67, 64),
        send(192, 0x90, 76, 32),
        send(384, 0x82, 48, 64),
        send(384, 0x82, 60, 64),
        send(384, 0x81, 67, 64),
        send(384, 0x80, 76, 64),
      ),
    ]);
    expect(hex(file)).toBe(
      plain(`4D546864 00000006 0000 0001 0060 4D54726B 0000003B 00FF580404021808 00FF510307A120 00C005 00C12E
        00C246 00923060 003C60 60914340 60904C20 8140823040 003C40 00814340 00804C40 00FF2F00`),
    );
  });

  test("as format 1", () => {
    const file = writeMidiFile(1, 96, [
      track(time, tempo),
      track(send(0, 0xc0, 5), send(192, 0x90, 76, 32), send(384, 0x90, 76, 0)),
      track(send(0, 0xc1, 46), send(96, 0x91, 67, 64), send(384, 0x91, 67, 0)),
      track(
        send(0, 0xc2, 70),
        send(0, 0x92, 48, 96),
        send(0, 0x92, 60, 96),
        send(384, 0x92, 48, 0),
        send(384, 0x92, 60, 0),
      ),
    ]);
    expect(hex(file)).toBe(
      plain(`4D546864 00000006 0001 0004 0060 4D54726B 00000014 00FF580404021808 00FF510307A120 8300FF2F00
        4D54726B 00000010 00C005 8140904C20 81404C00 00FF2F00 4D54726B 0000000F 00C12E 60914340 82204300 00FF2F00
        4D54726B 00000015 00C246 00923060 003C60 83003000 003C00 00FF2F00`),
    );
  });
});

test("a meta event ends running status", () => {
  const note: MidiEvent = { tick: 0, status: 0x90, data: [60, 64] };
  const file = writeMidiFile(0, 96, [
    { events: [note, { tick: 0, meta: meta.text, data: [65] }, note], end: 0 },
  ]);
  expect(hex(file).slice(44)).toBe(plain("00 90 3C 40  00 FF 01 01 41  00 90 3C 40  00 FF 2F 00"));
});

test("a wait longer than a number can say is parted by an empty text", () => {
  const file = writeMidiFile(0, 96, [{ events: [], end: 0x0fffffff + 5 }]);
  expect(hex(file).slice(44)).toBe(plain("FF FF FF 7F FF 01 00  05 FF 2F 00"));
});

// 120 is the specification's; the others are 60,000,000 / tempo, rounded.
const tempos: ReadonlyArray<readonly [tempo: number, bytes: string]> = [
  [60, "0F4240"],
  [66, "0DDF23"],
  [68, "0D76B1"],
  [72, "0CB735"],
  [76, "0C0BE2"],
  [80, "0B71B0"],
  [90, "0A2C2B"],
  [96, "098968"],
  [100, "0927C0"],
  [112, "082CA2"],
  [120, "07A120"],
  [132, "06EF91"],
  [140, "068A1B"],
  [160, "05B8D8"],
];

test.each(tempos)("%i quarters a minute are %s microseconds a quarter", (tempo, bytes) => {
  expect(hex(tempoBytes(tempo, { beats: 4, unit: 4 }))).toBe(bytes);
});

test("a tempo counts the beats of its meter: 60 dotted quarters are 90 quarters, 60 halves 120, 60 eighths 30", () => {
  expect(hex(tempoBytes(60, { beats: 6, unit: 8 }))).toBe("0A2C2B");
  expect(hex(tempoBytes(60, { beats: 2, unit: 2 }))).toBe("07A120");
  expect(hex(tempoBytes(60, { beats: 3, unit: 8 }))).toBe("1E8480");
});

test("a tempo too slow for three bytes is as slow as they go", () => {
  expect(hex(tempoBytes(1, { beats: 4, unit: 64 }))).toBe("FFFFFF");
});

// 6/8 is the specification's example: 36 clocks to the dotted quarter.
const meters: ReadonlyArray<readonly [beats: number, unit: number, bytes: string]> = [
  [4, 4, "04021808"],
  [6, 8, "06032408"],
  [3, 4, "03021808"],
  [12, 8, "0C032408"],
  [2, 2, "02013008"],
];

test.each(meters)("%i/%i is %s", (beats, unit, bytes) => {
  expect(hex(timeSignature({ beats, unit }))).toBe(bytes);
});

const keys: ReadonlyArray<readonly [key: string, bytes: string]> = [
  ["C major", "0000"],
  ["Bb major", "FE00"],
  ["Db major", "FB00"],
  ["Gb major", "FA00"],
  ["F# major", "0600"],
  ["Cb major", "F900"],
  ["C# minor", "0401"],
];

test.each(keys)("%s is %s", (name, bytes) => {
  const key = readKey(name);
  expect(key && hex(keySignature(key))).toBe(bytes);
});

test("a church mode has its own signs and its third's side; a key of eight signs takes its practical name", () => {
  const signs = (name: string): string => {
    const key = readKey(name);
    return key === undefined ? "" : hex(keySignature(key));
  };
  expect(signs("D dorian")).toBe("0001");
  expect(signs("G mixolydian")).toBe("0000");
  expect(signs("G# major")).toBe("FC00");
});
