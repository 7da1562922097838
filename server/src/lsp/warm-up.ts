import { openDocument } from "../document/document.js";
import type { Session } from "./session.js";

/** A chart with every kind of row, so that what it needs is made and known to the engine. */
const sample = `title Warm up
key Eb
tempo 80
section A
chords |  1  1:7/3  |  4maj7  4m6  |
lead   |  1  2 - 3  |  (5 6) 3     |
right  |  3+5+1  5+b7+9  |  ~3+5+7  b3+5+6  |
left   |  1+5  0  |  1  -  |
words  |  low-er  |  and soft  |
cue    |  |  hold  |
form A
`;

/** Makes parser and tables before the first chart comes, while nothing else waits; what it gives stops that. */
export function warmUp({ host }: Session): () => void {
  return host.whenIdle(() => void openDocument("warm-up", sample).problems);
}
