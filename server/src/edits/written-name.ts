import { nameOf } from "../theory/note-name.js";

/** How a chart writes its accidentals: in letters or in signs, and a double sharp as `x` or as two. */
export interface SignStyle {
  readonly flat: "b" | "♭";
  readonly sharp: "#" | "♯";
  readonly doubleSharp: "x" | "##";
}

/** The style of a chart, from the names that stand in it: signs where it uses any. */
export function signStyle(names: Iterable<string>): SignStyle {
  let signs = false;
  let twice = false;
  for (const name of names) {
    signs ||= /[♭♯]/u.test(name);
    twice ||= /(##|♯♯)$/u.test(name) && !/(###|♯♯♯)$/u.test(name);
  }
  return { flat: signs ? "♭" : "b", sharp: signs ? "♯" : "#", doubleSharp: twice ? "##" : "x" };
}

/** The strict name of a tone in a chart's own style. */
export function writtenName(fifths: number, style: SignStyle): string {
  const name = nameOf(fifths);
  const full = style.doubleSharp === "##" ? name.replace(/x$/, "##") : name;
  return full.replaceAll("#", style.sharp).replace(/b/g, style.flat);
}
