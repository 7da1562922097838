// The licences of the packages whose code is in the bundles.
import { existsSync, readdirSync, readFileSync } from "node:fs";

/** `node_modules/@scope/name` of a bundled file; `undefined` for our own. */
const packageOf = (path) => /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0];

/** The text of `NOTICE.txt`: each package with its version, its licence's name and the licence itself; then credits for what is no code. */
export function noticeOf(root, bundledFiles, credits = []) {
  const folders = [...new Set([...bundledFiles].map(packageOf).filter((it) => it !== undefined))].sort();
  const parts = folders.map((folder) => {
    const { name, version, license } = JSON.parse(readFileSync(`${root}/${folder}/package.json`, "utf8"));
    const file = readdirSync(`${root}/${folder}`).find((it) => /^(?:licen[cs]e|copying)/i.test(it));
    if (file === undefined) throw new Error(`${name} comes without the text of its licence.`);
    const text = readFileSync(`${root}/${folder}/${file}`, "utf8").trim();
    const notice = ["NOTICE", "NOTICE.txt"].find((it) => existsSync(`${root}/${folder}/${it}`));
    const more =
      notice === undefined ? "" : `\n\n${readFileSync(`${root}/${folder}/${notice}`, "utf8").trim()}`;
    return `${name} ${version} (${license})\n${"-".repeat(72)}\n${text}${more}\n`;
  });
  const head = "Plagal's programs hold code of these packages, each under its own licence.\n";
  return [head, ...parts, ...credits.map((credit) => `${credit}\n`)].join("\n\n");
}
