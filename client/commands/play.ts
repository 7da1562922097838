import type { PlayFrom } from "../../server/src/page/messages.js";
import { activeChart } from "../active-chart.js";
import type { Command } from "./command.js";

/** Plays the chart on its page: from the cursor, the section around it, all of the form, or the selection in a loop. */
const playing = (name: Command["name"], from: PlayFrom): Command => ({
  name,
  async run({ pages }) {
    const document = activeChart()?.document;
    if (document !== undefined) pages.play(document, from);
  },
});

export const playHere = playing("plagal.playHere", "here");
export const playSection = playing("plagal.playSection", "section");
export const playForm = playing("plagal.playForm", "start");
export const loopSelection = playing("plagal.loopSelection", "selection");
