/** Lines shown around a change. */
const around = 3;

/**
 * A unified diff of two texts with the same number of lines, as formatting leaves it; "" where they are equal.
 * Lines are compared with their line ends.
 */
export function unifiedDiff(path: string, before: readonly string[], after: readonly string[]): string {
  const hunks: [from: number, to: number][] = [];
  before.forEach((line, i) => {
    if (line === after[i]) return;
    const last = hunks.at(-1);
    const from = Math.max(0, i - around);
    const to = Math.min(before.length, i + 1 + around);
    if (last !== undefined && from <= last[1]) last[1] = to;
    else hunks.push([from, to]);
  });
  if (hunks.length === 0) return "";
  return `--- ${path}\n+++ ${path} (formatted)\n${hunks.map((hunk) => drawHunk(hunk, before, after)).join("")}`;
}

function drawHunk([from, to]: [number, number], before: readonly string[], after: readonly string[]): string {
  const place = `${from + 1},${to - from}`;
  let text = `@@ -${place} +${place} @@\n`;
  let gone = "";
  let come = "";
  for (let i = from; i < to; i++) {
    const old = before[i] as string;
    const now = after[i] as string;
    if (old === now) {
      text += gone + come + signed(" ", old);
      gone = "";
      come = "";
    } else {
      gone += signed("-", old);
      come += signed("+", now);
    }
  }
  return text + gone + come;
}

const signed = (sign: string, line: string): string =>
  `${sign}${line}${/[\r\n]$/.test(line) ? "" : "\n\\ No newline at end of file\n"}`;
