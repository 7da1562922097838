import type { Pictures } from "../exports/pictures.js";
import { markdownPicture } from "../features/markup.js";
import type { PicturedMoment } from "../features/pictured-moment.js";
import { base64 } from "../text/base64.js";
import { encodeUtf8 } from "../text/utf8.js";
import { pictureThemes } from "./editor-theme.js";
import { loadedBundle } from "./loaded-bundle.js";
import type { EditorTheme } from "./protocol.js";
import type { Session } from "./session.js";

/** A moment as a picture in Markdown; `undefined` where what draws it can't be loaded, since the words do without. */
export async function hoverPicture(
  session: Session,
  { keys, chord, hands }: PicturedMoment,
  theme: EditorTheme,
): Promise<string | undefined> {
  try {
    const { pictures } = (await loadedBundle(session, "picture")) as { readonly pictures: Pictures };
    const { svg, words } = pictures.keyboard(keys, chord, hands, pictureThemes[theme]);
    return markdownPicture(words, `data:image/svg+xml;base64,${base64(encodeUtf8(svg))}`);
  } catch (error) {
    session.connection.console.error(`No picture could be drawn: ${(error as Error).message}`);
    return undefined;
  }
}
