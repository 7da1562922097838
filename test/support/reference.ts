/** A fenced block of the reference. */
export interface Sample {
  /** The line of the reference on which its text starts, from 1. */
  readonly line: number;
  readonly text: string;
  /** The codes that the text before it announces: `problem=CODE`. */
  readonly problem: string | undefined;
  /** The name under which other samples may `use` it: `file=PATH`. */
  readonly file: string | undefined;
  /** The block of sounds right after it. */
  readonly sounds: { readonly line: number; readonly text: string } | undefined;
}

interface Fence {
  readonly line: number;
  readonly end: number;
  readonly info: string;
  readonly text: string;
}

function fencesOf(page: string): Fence[] {
  const fences: Fence[] = [];
  let open: { info: string; line: number; lines: string[] } | undefined;
  page.split("\n").forEach((text, i) => {
    const found = /^```(.*)$/.exec(text);
    if (found === null) open?.lines.push(text);
    else if (open === undefined) open = { info: found[1] ?? "", line: i + 2, lines: [] };
    else {
      const { info, line, lines } = open;
      fences.push({ info, line, end: i + 1, text: lines.map((it) => `${it}\n`).join("") });
      open = undefined;
    }
  });
  if (open !== undefined) throw new Error(`The block in line ${open.line} isn't closed.`);
  return fences;
}

/** Every sample of a page, with what it is said to sound like. */
export function samplesOf(page: string): Sample[] {
  const fences = fencesOf(page);
  const samples: Sample[] = [];
  fences.forEach(({ info, line, end, text }, i) => {
    const [kind, ...words] = info.split(" ");
    if (kind === "sounds" && fences[i - 1]?.info.split(" ")[0] !== "plagal") {
      throw new Error(`The sounds in line ${line} belong to no sample.`);
    }
    if (kind !== "plagal") return;
    const option = (name: string): string | undefined =>
      words.find((word) => word.startsWith(`${name}=`))?.slice(name.length + 1);
    const next = fences[i + 1];
    const isNext = next?.info === "sounds" && next.line <= end + 3;
    if (next?.info === "sounds" && !isNext) throw new Error(`The sounds in line ${next.line} are far off.`);
    samples.push({
      line,
      text,
      problem: option("problem"),
      file: option("file"),
      sounds: isNext ? { line: next.line, text: next.text } : undefined,
    });
  });
  return samples;
}

/** The cells of the first table after a heading, without its head; code marks stay. */
export function tableUnder(page: string, heading: string): string[][] {
  const lines = page.split("\n");
  const from = lines.indexOf(heading);
  if (from < 0) throw new Error(`No heading ${heading}`);
  const first = lines.findIndex((text, i) => i > from && text.startsWith("|"));
  const rows: string[][] = [];
  for (let i = first; lines[i]?.startsWith("|"); i++) {
    const cells = (lines[i] as string).split(/(?<!\\)\|/).slice(1, -1);
    rows.push(cells.map((cell) => cell.trim().replaceAll("\\|", "|")));
  }
  return rows.slice(2);
}

/** The texts between code marks of a cell. */
export const codesIn = (cell: string): string[] =>
  [...cell.matchAll(/`([^`]+)`/g)].map((found) => found[1] as string);
