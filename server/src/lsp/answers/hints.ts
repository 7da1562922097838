import type { CancellationToken, InlayHint, InlayHintParams } from "vscode-languageserver";
import { inlayHints } from "../../features/inlay-hints.js";
import { fromDocument, fromRange } from "../from-protocol.js";
import type { Session } from "../session.js";
import { toPosition } from "../to-protocol.js";

export const hints = (
  session: Session,
  params: InlayHintParams,
  token: CancellationToken,
): Promise<InlayHint[] | undefined> =>
  session.ask(
    fromDocument(params),
    token,
    ({ document, settings }) => {
      const { hintNotes: notes, hintLetters: letters, hintFingering: fingering } = settings;
      const wanted = { notes, letters, fingering };
      return inlayHints(document, fromRange(document.tree, params.range), wanted).map(({ at, text }) => ({
        position: toPosition(document.tree.starts, at),
        label: text,
        paddingLeft: true,
      }));
    },
    "patient",
  );
