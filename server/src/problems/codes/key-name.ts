import type { Entry } from "../entry.js";

export const entry: Entry<{ key: string; signs: string; twin: string; twinSigns: string }> = {
  severity: "warning",
  summary: "A key has a name that players don't write.",
  message: ({ key, signs, twin, twinSigns }) =>
    `${key} has ${signs} and is hard to read. Write ${twin}, with ${twinSigns}: it is the same sound.`,
  explanation: `Two names can mean the same keys on the keyboard, and players use one of them. D♭ major has five flats; C♯ major, the
same sound, has seven sharps, and nobody is glad to meet it on the stand.

The names in use: in major C D♭ D E♭ E F, G♭ or F♯, G A♭ A B♭ B; in minor C C♯ D E♭ E F F♯ G G♯ A B♭ B. The church modes
follow their signatures. G♭ and F♯ major have six signs each and both are common.

A chart that has been moved keeps the strict name of such a key in words, \`key A♭ (original G♯)\`, so that it comes home
exactly. Where such a chart's own key gets its name in use, its letters are respelled along with it, and the way home
stays open.
`,
  example: `key C# major

section Verse
chords | 1 | 4 |
`,
};
