import { openDocument } from "../document/document.js";
import { hover } from "../features/hover.js";
import { markdown } from "../features/markup.js";
import { picturedMoment } from "../features/pictured-moment.js";
import { hoverPicture } from "./hover-picture.js";
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

/** Milliseconds after the start by which the first charts have been judged. */
const settled = 2000;

/**
 * Makes parser and tables before the first chart comes, while nothing else waits, and draws a first picture for a
 * client that will want some; what it gives stops that.
 */
export function warmUp(session: Session): () => void {
  const { host } = session;
  const stopMaking = host.whenIdle(() => void openDocument("warm-up", sample).problems);
  const stopDrawing =
    session.theme() === undefined ? undefined : host.later(settled, () => void drawFirst(session));
  return () => {
    stopMaking();
    stopDrawing?.();
  };
}

async function drawFirst(session: Session): Promise<void> {
  const theme = session.theme();
  const document = openDocument("warm-up", sample);
  const at = sample.indexOf("4maj7");
  const [words, moment] = [hover(document, at), picturedMoment(document, at)];
  if (theme === undefined || words === undefined || moment === undefined) return;
  markdown(words.text);
  await hoverPicture(session, moment, theme);
}
