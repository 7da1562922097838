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

/** What is said of the engraver, which is no part of the bundles but a file of its own, with its licence's texts. */
export function engraverNotice(root) {
  const { version, license } = JSON.parse(readFileSync(`${root}/node_modules/verovio/package.json`, "utf8"));
  const texts = ["LGPL-3.0", "GPL-3.0"].map((name) =>
    readFileSync(`${root}/server/licences/${name}.txt`, "utf8").trim(),
  );
  const about = [
    `Verovio ${version} (${license})`,
    "-".repeat(72),
    `The page beside the text draws staves with Verovio, an engraver of music by Laurent Pugin and others at the RISM`,
    `Digital Center. Its file, verovio-toolkit-wasm.js, lies beside the programs unchanged, as Verovio's makers built`,
    `it. It is covered by the GNU Lesser General Public License, version 3 or later; that licence and the GNU General`,
    `Public License, which it adds to, stand below. Its source is the project rism-digital/verovio, version ${version},`,
    `with the licences of the libraries and music fonts that its makers built into it. To use another version of it,`,
    `changed or not, put that version's file in the place of this one. Nothing in Plagal's own licence keeps anybody`,
    `from doing so, or from taking the programs apart to mend what such a change breaks.`,
  ].join("\n");
  return [about, ...texts].join(`\n\n${"-".repeat(72)}\n`);
}
