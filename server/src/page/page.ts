import type { PictureTheme } from "../exports/keyboard-picture.js";
import type { PageContent, PageKey } from "../exports/page.js";
import type { PageView } from "../exports/page-data.js";
import { type Json, withDifferences } from "../exports/page-keys.js";
import { sheet } from "../exports/page-sheet.js";
import { openBars } from "./bars.js";
import { patch } from "./draw.js";
import { byId, say } from "./elements.js";
import { savedMidi } from "./saved-midi.js";
import { songOf } from "./song.js";
import { openStage } from "./stage.js";

const content = JSON.parse(byId("content").textContent ?? "") as PageContent;
let key = content.home;

const isDark = matchMedia("(prefers-color-scheme: dark)");
const contrasts = [matchMedia("(forced-colors: active)"), matchMedia("(prefers-contrast: more)")];
function theme(): PictureTheme {
  if (contrasts.some(({ matches }) => matches)) return isDark.matches ? "high contrast" : "print";
  return isDark.matches ? "dark" : "light";
}

const stage = openStage(songOf(content.view), { piano: content.piano, theme });
const bars = openBars(stage);
for (const it of [isDark, ...contrasts]) it.addEventListener("change", () => stage.show(true));

function viewIn(it: PageKey): PageView {
  return "view" in it
    ? it.view
    : (withDifferences(content.view as unknown as Json, it.differences) as unknown as PageView);
}

const keyChoice = byId("key") as HTMLSelectElement;
keyChoice.addEventListener("change", () => {
  key = Number(keyChoice.value);
  const chosen = content.keys[key];
  if (chosen === undefined) return;
  const song = songOf(viewIn(chosen));
  patch(document.querySelector(".sheet") as Element, sheet(content.head, song.view));
  // Patching took away what only this page knows.
  bars.sheetChanged();
  stage.setSong(song);
  stage.sheetChanged();
  say(`In ${chosen.name}.`);
});

byId("save").addEventListener("click", () => {
  const bytes = savedMidi(content.title, stage.song().view);
  const link = document.createElement("a");
  const address = URL.createObjectURL(new Blob([bytes], { type: "audio/midi" }));
  link.href = address;
  link.download = midiName();
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
  say(`${link.download} saved.`);
});

/** The page's own name, with the key where it is another one. */
function midiName(): string {
  const own =
    decodeURIComponent(location.pathname.split("/").pop() ?? "").replace(/\.html?$/i, "") || "chart";
  const name = (content.keys[key]?.name ?? "").split(" ")[0] ?? "";
  const plain = name.replaceAll("♭", "b").replaceAll("♯", "-sharp");
  return `${own}${key === content.home ? "" : `-${plain}`}.mid`;
}

byId("print").addEventListener("click", () => print());
