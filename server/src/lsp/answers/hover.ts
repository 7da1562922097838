import type { CancellationToken, Hover, HoverParams } from "vscode-languageserver";
import { hover } from "../../features/hover.js";
import { fromDocument, fromPosition } from "../from-protocol.js";
import type { Session } from "../session.js";
import { toMarkup, toRange } from "../to-protocol.js";

export const hoverText = (
  session: Session,
  params: HoverParams,
  token: CancellationToken,
): Promise<Hover | undefined> =>
  session.ask(fromDocument(params), token, ({ document, settings }) => {
    const offset = fromPosition(document.tree, params.position);
    const found = hover(document, offset, { scales: settings.hoverScales });
    return (
      found && {
        contents: toMarkup(found.text, session.client.hoverInMarkdown),
        range: toRange(document.tree.starts, found.span),
      }
    );
  });
