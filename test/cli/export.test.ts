import { join } from "node:path";
import { parseMidi } from "midi-file";
import { describe, expect, test } from "vitest";
import { dedent, plagal, plagalInBytes } from "../support/memory-io.js";

const chart = dedent(`
  title   Low Tide
  key     G major

  section Verse
  chords  | 1 | C |
  left    | 1 | C3 |
`);
const files = { "songs/low-tide.plagal": chart };

/** The keys that a file strikes, read from what the call left behind. */
function keysIn(bytes: Uint8Array | undefined): readonly number[] {
  if (bytes === undefined) throw new Error("no such file was written");
  return parseMidi(bytes)
    .tracks.flat()
    .flatMap((event) => (event.type === "noteOn" ? [event.noteNumber] : []));
}

test("a MIDI file is written beside the chart, under its name, and the call says where", () => {
  const { code, out, err, bytes } = plagalInBytes(["export", "songs/low-tide.plagal", "--to", "midi"], {
    files,
  });
  expect([code, out, err]).toEqual([0, "songs/low-tide.mid written.\n", ""]);
  expect(keysIn(bytes["songs/low-tide.mid"])).toEqual([43, 48]);
});

test("a score is written beside the chart, under its name, and in the key that is asked for", () => {
  const call = ["export", "songs/low-tide.plagal", "--to", "musicxml"];
  const { code, out, err, bytes } = plagalInBytes(call, { files });
  expect([code, out, err]).toEqual([0, "songs/low-tide.musicxml written.\n", ""]);
  const text = new TextDecoder().decode(bytes["songs/low-tide.musicxml"]);
  expect(text).toContain("<work-title>Low Tide</work-title>");
  expect(text).toContain("<fifths>1</fifths>");
  const moved = plagalInBytes([...call, "--key", "Ab"], { files });
  expect(moved.out).toBe("songs/low-tide-Ab.musicxml written.\n");
  expect(new TextDecoder().decode(moved.bytes["songs/low-tide-Ab.musicxml"])).toContain(
    "<fifths>-4</fifths>",
  );
});

test("the same chart gives the same bytes", () => {
  const once = (): Uint8Array | undefined =>
    plagalInBytes(["export", "songs/low-tide.plagal", "--to", "midi"], { files }).bytes["songs/low-tide.mid"];
  expect(once()).toEqual(once());
});

test("--out says where, --key moves it, and its name says the key", () => {
  const there = plagalInBytes(["export", "songs/low-tide.plagal", "--to=midi", "--out", "b.mid"], { files });
  expect([there.code, there.out]).toEqual([0, "b.mid written.\n"]);
  expect(keysIn(there.bytes["b.mid"])).toEqual([43, 48]);
  const moved = plagalInBytes(["export", "songs/low-tide.plagal", "--to", "midi", "--key", "f#"], { files });
  expect(moved.out).toBe("songs/low-tide-F-sharp.mid written.\n");
  expect(keysIn(moved.bytes["songs/low-tide-F-sharp.mid"])).toEqual([42, 47]);
});

test("a file that is there stays, and the call says what writes over it", () => {
  const taken = { ...files, "songs/low-tide.mid": "mine" };
  const call = ["export", "songs/low-tide.plagal", "--to", "midi"];
  const refused = plagal(call, { files: taken });
  expect(refused).toMatchObject({
    code: 2,
    out: "",
    err: "plagal: can't write songs/low-tide.mid: a file with that name is there. --force writes over it.\n",
  });
  expect(refused.files["songs/low-tide.mid"]).toBe("mine");
  const forced = plagalInBytes([...call, "--force"], { files: taken });
  expect(forced.code).toBe(0);
  expect(keysIn(forced.bytes["songs/low-tide.mid"])).toEqual([43, 48]);
});

test("what can't be written is told without that advice", () => {
  const { code, err } = plagal(["export", "songs/low-tide.plagal", "--to", "midi"], {
    files,
    locked: ["songs/low-tide.mid"],
  });
  expect([code, err]).toEqual([2, "plagal: can't write songs/low-tide.mid: it may not be opened.\n"]);
});

describe("--keys all", () => {
  const call = ["export", "songs/low-tide.plagal", "--to", "midi", "--keys", "all", "--out", "all"];

  test("writes a file for each of the twelve keys, named for it", () => {
    const { code, out, err, bytes } = plagalInBytes(call, { files });
    expect([code, out, err]).toEqual([0, "12 files of songs/low-tide.plagal written to all.\n", ""]);
    const made = Object.keys(bytes).filter((path) => path.startsWith("all/"));
    expect(made.sort()).toEqual(
      ["A", "Ab", "B", "Bb", "C", "D", "Db", "E", "Eb", "F", "F-sharp", "G"]
        .map((key) => `all/low-tide-${key}.mid`)
        .sort(),
    );
    const lowest = made.map((path) => keysIn(bytes[path])[0] as number).sort((a, b) => a - b);
    expect(lowest).toEqual(Array.from({ length: 12 }, (_, i) => 37 + i));
  });

  test("stops where a file is there", () => {
    const { code, out, err } = plagal(call, { files: { ...files, "all/low-tide-D.mid": "mine" } });
    expect([code, out]).toEqual([2, "2 files of songs/low-tide.plagal written to all.\n"]);
    expect(err).toContain("all/low-tide-D.mid: a file with that name is there.");
  });

  test("says so where the folder can't be made", () => {
    expect(plagal(call, { files, locked: ["all"] })).toMatchObject({
      code: 2,
      err: "plagal: can't make the folder all: it may not be opened.\n",
    });
  });
});

test("a page is written as one HTML file that asks for nothing, and is the same each time", () => {
  const make = () => plagalInBytes(["export", "songs/low-tide.plagal", "--to", "page"], { files });
  const { code, out, err, bytes } = make();
  expect([code, out, err]).toEqual([0, "songs/low-tide.html written.\n", ""]);
  const html = Buffer.from(bytes["songs/low-tide.html"] ?? []).toString("utf8");
  expect(html).toMatch(/^<!DOCTYPE html>/);
  expect(html).toContain("default-src 'none'".replaceAll("'", "&#39;"));
  expect(html).not.toMatch(/(?:src|href)="(?!#)/);
  expect(html).toContain("Alexander Holm");
  expect(Buffer.from(make().bytes["songs/low-tide.html"] ?? []).toString("utf8") === html).toBe(true);
});

test("a page in another key stands in that key", () => {
  const { code, bytes } = plagalInBytes(["export", "songs/low-tide.plagal", "--to", "page", "--key", "Eb"], {
    files,
  });
  expect(code).toBe(0);
  expect(Buffer.from(bytes["songs/low-tide-Eb.html"] ?? []).toString("utf8")).toContain("E♭ major");
});

test("standard input needs a name to write under", () => {
  expect(plagal(["export", "-", "--to", "midi"], { input: chart })).toMatchObject({ code: 2, out: "" });
  const { code, out, bytes } = plagalInBytes(["export", "-", "--to", "midi", "--out", "b.mid"], {
    input: chart,
  });
  expect([code, out]).toEqual([0, "b.mid written.\n"]);
  expect(keysIn(bytes["b.mid"])).toEqual([43, 48]);
});

test("a chart with errors is exported as far as it can be read, and they are told", () => {
  const { code, out, err } = plagal(["export", "a.plagal", "--to", "midi"], {
    files: { "a.plagal": "key C\nchords | 1 zz |\nright | 3 5 |\n" },
  });
  expect([code, out]).toEqual([1, "a.mid written.\n"]);
  expect(err).toContain("unknown-chord");
  expect(err).toContain("1 error in a.plagal. What they touch may be missing in it.");
});

test("a form that goes on too long is told", () => {
  const sections = Array.from(
    { length: 4 },
    (_, i) => `section S${i}\nleft | C | C |\n${i === 0 ? "" : `play S${i - 1} x99\n`}`,
  );
  const { code, out, err } = plagal(["export", "a.plagal", "--to", "midi"], {
    files: { "a.plagal": `key C\n${sections.join("")}form S3\n` },
  });
  expect([code, out]).toEqual([0, "a.mid written.\n"]);
  expect(err).toBe("plagal: a.plagal: the form goes on too long; a.mid ends after 20000 bars.\n");
});

test.each([
  [[], "Which chart?"],
  [["a.plagal", "b.plagal", "--to", "midi"], "One chart at a time."],
  [["a.plagal"], "To what? --to midi, for instance."],
  [["a.plagal", "--to", "wav"], "not “wav”."],
  [["a.plagal", "--to", "midi", "--key", "G", "--keys", "all"], "Either --key KEY or --keys all."],
  [
    ["a.plagal", "--to", "midi", "--keys", "all"],
    "--keys all needs --out DIR, the folder for the twelve files.",
  ],
  [["a.plagal", "--to", "midi", "--out", "-"], "Such a file is no text to print: --out needs a file."],
  [["a.plagal", "--to", "midi"], "can't read a.plagal"],
  [["songs/low-tide.plagal", "--to", "midi", "--key", "H"], "“H” is no key."],
])("plagal export %j is refused", (args, why) => {
  const { code, out, err } = plagal(["export", ...args], { files });
  expect([code, out]).toEqual([2, ""]);
  expect(err).toContain(why);
});

describe("what is made for the eye", () => {
  const write = (kind: string, ...more: readonly string[]) =>
    plagalInBytes(["export", "songs/low-tide.plagal", "--to", kind, ...more], { files });
  const textOf = (bytes: Uint8Array | undefined): string => Buffer.from(bytes ?? []).toString("utf8");

  test("a PDF is written beside the chart, the same bytes each time", () => {
    const { code, out, err, bytes } = write("pdf");
    expect([code, out, err]).toEqual([0, "songs/low-tide.pdf written.\n", ""]);
    const file = bytes["songs/low-tide.pdf"];
    expect(textOf(file).slice(0, 8)).toBe("%PDF-1.7");
    expect(write("pdf").bytes["songs/low-tide.pdf"]).toEqual(file);
    expect(write("pdf", "--paper", "letter").bytes["songs/low-tide.pdf"]).not.toEqual(file);
    expect(write("pdf", "--hands", "none").bytes["songs/low-tide.pdf"]).not.toEqual(file);
    expect(write("pdf", "--chords", "both").bytes["songs/low-tide.pdf"]).not.toEqual(file);
  });

  test("an SVG shows the section that is named, in letters or numbers as told", () => {
    const { out, bytes } = write("svg", "--section", "verse", "--chords", "letters", "--key", "A");
    expect(out).toBe("songs/low-tide-Verse-A.svg written.\n");
    expect(textOf(bytes["songs/low-tide-Verse-A.svg"])).toContain("<title>Verse: A, D.</title>");
  });

  test("two sections of a chart are two files, whatever their names have in them", () => {
    const text = "key C\nsection Verse 2\nchords | 1 |\n\nsection Schluß / “Ende”\nchords | 5 |\n";
    const name = (...more: readonly string[]): string =>
      plagalInBytes(["export", "a.plagal", "--to", "svg", ...more], { files: { "a.plagal": text } }).out;
    expect(name()).toBe("a.svg written.\n");
    expect(name("--section", "Verse 2")).toBe("a-Verse-2.svg written.\n");
    expect(name("--section", "Schluß / “Ende”", "--out", "b/")).toBe(
      `${join("b/", "a-Schluß-Ende.svg")} written.\n`,
    );
  });

  test("--out with a slash at its end is a folder, where the file has the name that it has anywhere", () => {
    const { code, out, bytes } = write("pdf", "--out", "stand/", "--key", "F");
    expect([code, out]).toEqual([0, `${join("stand/", "low-tide-F.pdf")} written.\n`]);
    expect(textOf(bytes[join("stand/", "low-tide-F.pdf")]).slice(0, 5)).toBe("%PDF-");
    expect(bytes["songs/low-tide-F.pdf"]).toBeUndefined();
  });

  test("all twelve keys are printed at once", () => {
    const { code, out } = write("pdf", "--keys", "all", "--out", "all");
    expect([code, out]).toEqual([0, "12 files of songs/low-tide.plagal written to all.\n"]);
  });

  test.each([
    [["--to", "svg", "--section", "Bridge"], "there is no section “Bridge”. It has “Verse”."],
    [["--to", "pdf", "--section", "Verse"], "--section is for --to svg."],
    [["--to", "svg", "--paper", "a4"], "--paper is for --to pdf."],
    [["--to", "midi", "--chords", "both"], "--chords is for --to pdf and --to svg."],
    [["--to", "pdf", "--paper", "a5"], "--paper is a4 or letter, not “a5”."],
  ])("%j is refused, and nothing is written", (args, why) => {
    const { code, out, err, files: after } = plagal(["export", "songs/low-tide.plagal", ...args], { files });
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(why);
    expect(Object.keys(after)).toEqual(Object.keys(files));
  });

  test("a chart without bars has no picture", () => {
    const { code, err } = plagal(["export", "a.plagal", "--to", "svg"], {
      files: { "a.plagal": "title A\n" },
    });
    expect([code, err]).toEqual([2, "plagal: the chart has no bars to draw.\n"]);
  });
});
