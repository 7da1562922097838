import { barLength } from "./bar-length.js";
import type { ChartCheck, SectionCheck } from "./check.js";
import { formLoop } from "./form-loop.js";
import { handSpan } from "./hand-span.js";
import { handsCollide } from "./hands-collide.js";
import { handsCross } from "./hands-cross.js";
import { jump } from "./jump.js";
import { keyName, keyNameAcross } from "./key-name.js";
import { landsElsewhere } from "./lands-elsewhere.js";
import { lowInterval } from "./low-interval.js";
import { minorDegree } from "./minor-degree.js";
import { missingBeat } from "./missing-beat.js";
import { missingFile } from "./missing-file.js";
import { missingGuideTone } from "./missing-guide-tone.js";
import { nameTwice } from "./name-twice.js";
import { noChord } from "./no-chord.js";
import { nothingToHold } from "./nothing-to-hold.js";
import { octaveSign } from "./octave-sign.js";
import { offKeyboard } from "./off-keyboard.js";
import { openRepeat } from "./open-repeat.js";
import { openSus } from "./open-sus.js";
import { otherKeys } from "./other-keys.js";
import { outsideChord } from "./outside-chord.js";
import { repeatDiffers } from "./repeat-differs.js";
import { spelling } from "./spelling.js";
import { syntax, syntaxOfForm } from "./syntax.js";
import { tooFarTooFast, tooFarTooFastAcross } from "./too-far-too-fast.js";
import { tooManyNotes } from "./too-many-notes.js";
import { tooManyWords } from "./too-many-words.js";
import { unevenRows } from "./uneven-rows.js";
import { unevenSlots } from "./uneven-slots.js";
import { unknownSection } from "./unknown-section.js";
import { unusedSection } from "./unused-section.js";

/** Every check that sees one section, in the order of the catalogue. */
export const sectionChecks: readonly SectionCheck[] = [
  syntax,
  noChord,
  octaveSign,
  handSpan,
  tooManyNotes,
  handsCollide,
  handsCross,
  offKeyboard,
  tooFarTooFast,
  unevenSlots,
  unevenRows,
  nothingToHold,
  minorDegree,
  openRepeat,
  repeatDiffers,
  lowInterval,
  missingGuideTone,
  outsideChord,
  spelling,
  keyName,
  otherKeys,
  tooManyWords,
  jump,
  missingBeat,
  openSus,
];

/** Every check that looks across sections. */
export const chartChecks: readonly ChartCheck[] = [
  syntaxOfForm,
  barLength,
  unknownSection,
  formLoop,
  missingFile,
  tooFarTooFastAcross,
  nameTwice,
  keyNameAcross,
  landsElsewhere,
  unusedSection,
];
