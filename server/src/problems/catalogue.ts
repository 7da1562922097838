import { entry as barLength } from "./codes/bar-length.js";
import { entry as formLoop } from "./codes/form-loop.js";
import { entry as handSpan } from "./codes/hand-span.js";
import { entry as handsCollide } from "./codes/hands-collide.js";
import { entry as handsCross } from "./codes/hands-cross.js";
import { entry as jump } from "./codes/jump.js";
import { entry as keyName } from "./codes/key-name.js";
import { entry as landsElsewhere } from "./codes/lands-elsewhere.js";
import { entry as lowInterval } from "./codes/low-interval.js";
import { entry as minorDegree } from "./codes/minor-degree.js";
import { entry as missingBeat } from "./codes/missing-beat.js";
import { entry as missingFile } from "./codes/missing-file.js";
import { entry as missingGuideTone } from "./codes/missing-guide-tone.js";
import { entry as nameTwice } from "./codes/name-twice.js";
import { entry as noChord } from "./codes/no-chord.js";
import { entry as nothingToHold } from "./codes/nothing-to-hold.js";
import { entry as octaveSign } from "./codes/octave-sign.js";
import { entry as offKeyboard } from "./codes/off-keyboard.js";
import { entry as openRepeat } from "./codes/open-repeat.js";
import { entry as openSus } from "./codes/open-sus.js";
import { entry as otherKeys } from "./codes/other-keys.js";
import { entry as outsideChord } from "./codes/outside-chord.js";
import { entry as repeatDiffers } from "./codes/repeat-differs.js";
import { entry as runTogether } from "./codes/run-together.js";
import { entry as signOrder } from "./codes/sign-order.js";
import { entry as spelling } from "./codes/spelling.js";
import { entry as syntax } from "./codes/syntax.js";
import { entry as tooFarTooFast } from "./codes/too-far-too-fast.js";
import { entry as tooManyNotes } from "./codes/too-many-notes.js";
import { entry as tooManyWords } from "./codes/too-many-words.js";
import { entry as unevenRows } from "./codes/uneven-rows.js";
import { entry as unevenSlots } from "./codes/uneven-slots.js";
import { entry as unknownChord } from "./codes/unknown-chord.js";
import { entry as unknownSection } from "./codes/unknown-section.js";
import { entry as unknownTone } from "./codes/unknown-tone.js";
import { entry as unknownWord } from "./codes/unknown-word.js";
import { entry as unusedSection } from "./codes/unused-section.js";
import type { Entry } from "./entry.js";

/** Every check by its code, in the order in which `plagal explain` lists them. */
export const catalogue = {
  syntax,
  "unknown-word": unknownWord,
  "unknown-chord": unknownChord,
  "unknown-tone": unknownTone,
  "no-chord": noChord,
  "octave-sign": octaveSign,
  "bar-length": barLength,
  "hand-span": handSpan,
  "too-many-notes": tooManyNotes,
  "hands-collide": handsCollide,
  "hands-cross": handsCross,
  "off-keyboard": offKeyboard,
  "unknown-section": unknownSection,
  "form-loop": formLoop,
  "missing-file": missingFile,
  "too-far-too-fast": tooFarTooFast,
  "uneven-slots": unevenSlots,
  "uneven-rows": unevenRows,
  "nothing-to-hold": nothingToHold,
  "minor-degree": minorDegree,
  "name-twice": nameTwice,
  "open-repeat": openRepeat,
  "repeat-differs": repeatDiffers,
  "low-interval": lowInterval,
  "missing-guide-tone": missingGuideTone,
  "outside-chord": outsideChord,
  spelling,
  "key-name": keyName,
  "lands-elsewhere": landsElsewhere,
  "other-keys": otherKeys,
  "unused-section": unusedSection,
  "too-many-words": tooManyWords,
  jump,
  "run-together": runTogether,
  "missing-beat": missingBeat,
  "sign-order": signOrder,
  "open-sus": openSus,
} as const;

export type Code = keyof typeof catalogue;
export type FactsOf<C extends Code> = (typeof catalogue)[C] extends Entry<infer Facts> ? Facts : never;
