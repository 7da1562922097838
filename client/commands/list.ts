import type { Command } from "./command.js";
import { explain } from "./explain.js";
import { exportChart } from "./export.js";
import { fixAll } from "./fix-all.js";
import { move } from "./move.js";
import { moveAll } from "./move-all.js";
import { moveSection } from "./move-section.js";
import { moveSelection } from "./move-selection.js";
import { newChart } from "./new-chart.js";
import { nextVoicing } from "./next-voicing.js";
import { openSample } from "./open-sample.js";
import { loopSelection, playForm, playHere, playSection } from "./play.js";
import { practise } from "./practise.js";
import { readLanguage } from "./read-language.js";
import { restart } from "./restart.js";
import { revoice } from "./revoice.js";
import { setTempo } from "./set-tempo.js";
import { showLog } from "./show-log.js";
import { showPage } from "./show-page.js";
import { voice } from "./voice.js";
import { writeAsLetters } from "./write-as-letters.js";
import { writeAsNumbers } from "./write-as-numbers.js";

/** Every command, in the manifest's order. */
export const commandList: readonly Command[] = [
  move,
  moveSection,
  moveSelection,
  moveAll,
  writeAsNumbers,
  writeAsLetters,
  voice,
  nextVoicing,
  revoice,
  practise,
  showPage,
  playHere,
  playSection,
  playForm,
  loopSelection,
  setTempo,
  exportChart,
  newChart,
  openSample,
  fixAll,
  explain,
  readLanguage,
  restart,
  showLog,
];
