import type { CancellationToken, Hover, HoverParams } from "vscode-languageserver";
import { hover } from "../../features/hover.js";
import { markdownWithPicture } from "../../features/markup.js";
import { momentWords, picturedMoment } from "../../features/pictured-moment.js";
import { encodeUtf8 } from "../../text/utf8.js";
import { fromDocument, fromPosition } from "../from-protocol.js";
import { hoverPicture } from "../hover-picture.js";
import type { Session } from "../session.js";
import { toMarkup, toRange } from "../to-protocol.js";

/** Bytes of a hover with its picture at most; editors cut long ones anywhere (one of them at 100,000 characters). */
const most = 20_000;

export const hoverText = (
  session: Session,
  params: HoverParams,
  token: CancellationToken,
): Promise<Hover | undefined> =>
  session.ask(fromDocument(params), token, ({ document, settings }) => {
    const offset = fromPosition(document.tree, params.position);
    const found = hover(document, offset, { scales: settings.hoverScales });
    if (found === undefined) return undefined;
    const range = toRange(document.tree.starts, found.span);
    const contents = toMarkup(found.text, session.client.hoverInMarkdown);
    const theme = settings.hoverPicture ? session.theme() : undefined;
    const moment = theme && picturedMoment(document, offset);
    if (theme === undefined || moment === undefined) return { contents, range };
    return hoverPicture(session, moment, theme).then((picture) => {
      if (picture === undefined) return { contents, range };
      const value = markdownWithPicture(found.text, momentWords(moment), picture);
      return { contents: encodeUtf8(value).length < most ? { ...contents, value } : contents, range };
    });
  });
