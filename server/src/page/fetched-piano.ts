import type { Recordings } from "./piano.js";

/** The recorded notes that ship, by MIDI number. */
const recorded: readonly number[] = Array.from({ length: 13 }, (_, i) => 24 + 6 * i);

/** Sound files of single piano notes from a folder of the extension; those that can't be had are left out. */
export const fetchedPiano =
  (folder: string): Recordings =>
  async () => {
    const files = await Promise.all(
      recorded.map(async (midi): Promise<readonly [number, ArrayBuffer] | undefined> => {
        try {
          const answer = await fetch(`${folder}/${midi}.mp3`);
          return answer.ok ? [midi, await answer.arrayBuffer()] : undefined;
        } catch {
          return undefined;
        }
      }),
    );
    return new Map(files.filter((file) => file !== undefined));
  };
